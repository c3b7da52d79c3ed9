package scenario

import (
	"math/big"
	"slices"
	"strings"

	"lanesim/studies/sweep"
)

// tree is a scenario as read, in which numbers can be replaced: the shape of a file depends
// on its words, never on its numbers.
type tree struct {
	reader     *reader
	value      *value
	scenario   *Scenario
	deliveries []Delivery

	slots  [][]*value // of each parameter; a field of several balls has several
	varies map[*value]bool
}

// grow makes the tree with the values of a point. If values of a parameter have a problem
// already reported, it only looks for further problems and returns nil.
func (s *Sweep) grow(at []sweep.Coordinate) (*tree, error) {
	var p problems
	t := &tree{reader: s.reader(&p), varies: map[*value]bool{}}
	root := s.root.clone()
	bad := false
	for i := range s.Parameters {
		q := &s.Parameters[i]
		bad = bad || q.values[0].node.kind == refused
		set := setter{&p, q.at(at[i]).node, ""}
		set.into(root, scenarioShape, q.segments)
		t.reader.fill(root)
	}
	fillBowlers(root)
	t.value = t.reader.decode(root, scenarioShape, "")
	if bad {
		p.add(place{s.vary, 1, 1}, "", knownProblem, "") // so that nothing is built on it
	}
	t.scenario = t.reader.scenario(t.value)
	p.list = slices.DeleteFunc(p.list, func(q placed) bool { return q.message == knownProblem })
	if err := s.errors(&p); err != nil {
		return nil, s.with(at, err)
	}
	if bad {
		return nil, nil
	}
	var err error
	if t.deliveries, err = t.scenario.Deliveries(); err != nil {
		at := place{s.vary, 1, 1}
		if len(s.Parameters) > 0 {
			at = s.Parameters[0].place
		}
		p.add(at, "", err.Error(), "")
		return nil, s.errors(&p)
	}
	t.scenario.Warnings = t.reader.warnings
	for i := range s.Parameters {
		q := &s.Parameters[i]
		where := q.at(at[i]).node.at
		if !t.value.any(func(v *value) bool { return v.at == where }) {
			p.add(q.place, q.Path, "has no effect: a field that varies after it replaces it", "")
		}
		var found []*value
		if q.Numeric {
			t.find(t.value, where, &found)
		}
		t.slots = append(t.slots, found)
	}
	if err := s.errors(&p); err != nil {
		return nil, err
	}
	return t, nil
}

// knownProblem marks problems that were reported before.
const knownProblem = "known"

// with adds the values of a point to those of its problems that are not placed at one of
// them.
func (s *Sweep) with(at []sweep.Coordinate, err error) error {
	values := s.valuesAt(at, func(c sweep.Coordinate) bool { return c != sweep.Coordinate{} })
	list := err.(Errors)
	for i, e := range list {
		placed := e.File == s.file.name && slices.ContainsFunc(s.Parameters, func(q Parameter) bool { return q.holds(e.Line, e.Column) })
		if !placed && values != "" {
			list[i].addHint("with " + values)
		}
	}
	return list
}

// valuesAt writes the values of the parameters at the coordinates for which shown is true.
func (s *Sweep) valuesAt(at []sweep.Coordinate, shown func(sweep.Coordinate) bool) string {
	var values []string
	for i := range at {
		if q := &s.Parameters[i]; shown(at[i]) {
			values = append(values, q.Path+" = "+q.at(at[i]).node.brief())
		}
	}
	return strings.Join(values, ", ")
}

// addHint adds a line to the hint.
func (p *Problem) addHint(text string) {
	if p.Hint != "" {
		p.Hint += "\n    "
	}
	p.Hint += text
}

// holds reports whether one of the parameter's values is at a place of the text.
func (q *Parameter) holds(line, column int) bool {
	return slices.ContainsFunc(q.values, func(v levelValue) bool { return v.node.at.line == line && v.node.at.column == column })
}

// find collects the values that were read at a place of the text, and marks those that
// contain them as varying.
func (t *tree) find(v *value, at place, found *[]*value) bool {
	within := false
	if v.at == at && v.fields == nil && v.items == nil && v.given {
		*found = append(*found, v)
		within = true
	}
	for _, f := range v.fields {
		within = t.find(f, at, found) || within
	}
	for _, i := range v.items {
		within = t.find(i, at, found) || within
	}
	if within {
		t.varies[v] = true
	}
	return within
}

// resolve sets the numbers of a point and resolves again what contains them. of returns the
// value of a parameter by its index.
func (t *tree) resolve(s *Sweep, of func(i int) levelValue) error {
	for i := range s.Parameters {
		q := &s.Parameters[i]
		if !q.Numeric {
			continue
		}
		v := of(i)
		number := q.inSI(v)
		for _, slot := range t.slots[i] {
			slot.number, slot.text = number, v.node.text
		}
	}
	*t.reader.problems = problems{}
	t.reader.warnings = nil
	lanes, balls, bowlers := t.value.several("lane"), t.value.several("ball"), t.value.several("bowler")
	if t.reader.parts(t.scenario, t.value, []*value{nil}, func(v *value) bool { return t.varies[v] }) {
		t.reader.covers(t.scenario, lanes, balls)
	}
	if err := s.errors(t.reader.problems); err != nil {
		return err
	}
	t.drill(balls, bowlers)
	return s.errors(t.reader.problems)
}

// inSI returns the value in SI, as reading its text would give it.
func (q *Parameter) inSI(v levelValue) float64 {
	if q.Unit == "" {
		return v.Number
	}
	x, ok := new(big.Rat).SetString(v.Text)
	if !ok {
		panic("scenario: " + v.Text + " is not a number") // it was printed from one
	}
	si, _ := x.Mul(x, q.shape.number.dimension.unit(q.Unit).value()).Float64()
	return si
}

// drill drills again the balls that differ from the row before.
func (t *tree) drill(balls, bowlers []*value) {
	kept := map[[2]int]Delivery{}
	for i := range t.deliveries {
		d := &t.deliveries[i]
		b, w := balls[d.Ball], bowlers[d.Bowler]
		if !t.varies[b] && !t.varies[w.field("pap")] && !t.varies[w.field("hand")] {
			continue
		}
		pair := [2]int{d.Ball, d.Bowler}
		done, ok := kept[pair]
		if !ok {
			bowler := t.scenario.Bowlers[d.Bowler]
			var err error
			done.Prepared, done.Drilling, err = t.scenario.Balls[d.Ball].Drill(bowler.PAP, bowler.Release.Hand, t.scenario.Grips[d.Ball])
			if err != nil {
				t.reader.undrillable(b, err)
				return
			}
			kept[pair] = done
		}
		d.Prepared, d.Drilling = done.Prepared, done.Drilling
	}
}
