package scenario

import (
	"cmp"
	"fmt"
	"slices"

	"lanesim/studies/sweep"
)

// How much of a design is tried before the sweep runs.
const (
	// mostChecked is the number of points: resolving one takes up to half a
	// millisecond.
	mostChecked = 2000

	// mostCombinations is the number of combinations of texts, each of which is read in
	// full.
	mostCombinations = 200

	// mostNumbers is the number of numbers of a list, each of which is read in full with
	// the rest of the scenario.
	mostNumbers = 100
)

// check tries the values of all parameters and, if there are no problems before
// or in them, points of the design.
func (s *Sweep) check(before Errors) error {
	t := trial{sweep: s, wrong: before, seen: map[string]bool{}}
	if s.root == nil {
		return t.errors()
	}
	first := make([]sweep.Coordinate, len(s.Parameters))
	t.try(first)
	for i := range s.Parameters {
		q := &s.Parameters[i]
		step := 1
		if q.Numeric {
			// Reading the list has checked each number against its limits.
			step = max(1, len(q.values)/mostNumbers)
		}
		for level := len(q.values) - 1; level > 0; level -= step {
			at := slices.Clone(first)
			at[i] = q.coordinate(level)
			t.try(at)
		}
	}
	s.combine(first, t.try)
	if err := t.errors(); err != nil {
		return err
	}
	var err error
	if s.sampler, err = s.Design.Sampler(); err != nil {
		return err
	}
	return s.checkPoints()
}

// trial collects the problems and warnings of trying values.
type trial struct {
	sweep *Sweep
	wrong Errors
	seen  map[string]bool
}

// try reads the scenario with some values.
func (t *trial) try(at []sweep.Coordinate) {
	s := t.sweep
	made, err := s.grow(at)
	if err != nil {
		for _, e := range err.(Errors) {
			if key := fmt.Sprint(e.File, e.Line, e.Column, e.Message); !t.seen[key] {
				t.seen[key] = true
				t.wrong = append(t.wrong, e)
			}
		}
		return
	}
	if made == nil {
		return
	}
	for _, w := range made.scenario.Warnings {
		if !t.seen[w] {
			t.seen[w] = true
			s.Warnings = append(s.Warnings, w)
		}
	}
	if s.Base == nil {
		s.Base, s.Deliveries = made.scenario, len(made.deliveries)
	}
	if n := len(made.deliveries); n != s.Deliveries {
		q := s.differs(at)
		t.wrong = append(t.wrong, Problem{File: s.file.name, Line: q.place.line, Column: q.place.column, Path: q.Path, Source: s.vary.lines[q.place.line-1],
			Message: fmt.Sprintf("gives %s at a point, others %d: every point must have the same number", plural(n, "shot"), s.Deliveries)})
		return
	}
	s.tried = append(s.tried, made.scenario)
}

// errors returns the problems in the order of their places, nil if there are
// none.
func (t *trial) errors() error {
	if len(t.wrong) == 0 {
		return nil
	}
	var files []string
	for _, e := range t.wrong {
		if !slices.Contains(files, e.File) {
			files = append(files, e.File)
		}
	}
	slices.SortStableFunc(t.wrong, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(slices.Index(files, a.File), slices.Index(files, b.File)), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return t.wrong
}

// differs returns the first parameter that is not at its first value.
func (s *Sweep) differs(at []sweep.Coordinate) *Parameter {
	i := slices.IndexFunc(at, func(c sweep.Coordinate) bool { return c != sweep.Coordinate{} })
	return &s.Parameters[max(i, 0)]
}

// coordinate returns the coordinate of the i-th value; the second of a range is its end.
func (q *Parameter) coordinate(i int) sweep.Coordinate {
	switch {
	case !q.isRange:
		return sweep.Coordinate{Level: i}
	case q.Levels > 0:
		return sweep.Coordinate{Level: i * (q.Levels - 1)}
	}
	return sweep.Coordinate{Share: float64(i)}
}

// combine tries combinations of texts, since these may exclude each other.
func (s *Sweep) combine(first []sweep.Coordinate, try func([]sweep.Coordinate)) {
	var texts []int
	combinations := 1
	for i := range s.Parameters {
		if !s.Parameters[i].Numeric && combinations <= mostCombinations {
			texts = append(texts, i)
			combinations *= s.Parameters[i].Levels
		}
	}
	if len(texts) < 2 {
		return
	}
	for k := range min(combinations, mostCombinations) {
		at, changed := slices.Clone(first), 0
		for _, i := range texts {
			at[i].Level = k % s.Parameters[i].Levels
			k /= s.Parameters[i].Levels
			if at[i].Level > 0 {
				changed++
			}
		}
		if changed > 1 {
			try(at)
		}
	}
}

// checkPoints tries points over the whole design, with the first and the last, and stops at
// the first that fails.
func (s *Sweep) checkPoints() error {
	r := s.Resolver()
	size := s.sampler.Size()
	count := min(size, mostChecked)
	for i := range count {
		k := i
		if count > 1 {
			// size − 1 is below 2⁴⁰ and count below 2¹¹: no overflow.
			k = i * (size - 1) / (count - 1)
		}
		if _, err := r.Point(k); err != nil {
			return s.Explain(k, err)
		}
	}
	return nil
}

// Explain adds the number of a point and its values to the problems of that point.
func (s *Sweep) Explain(k uint64, err error) error {
	list, ok := err.(Errors)
	if !ok {
		return err
	}
	x := make([]sweep.Coordinate, len(s.Parameters))
	s.sampler.Point(k, x)
	where := fmt.Sprintf("at point %d of the design: %s", k, s.valuesAt(x, func(sweep.Coordinate) bool { return true }))
	for i := range list {
		list[i].addHint(where)
	}
	return list
}
