package scenario

import (
	"fmt"
	"strings"

	"lanesim/report"
	"lanesim/studies/sweep"
)

// Resolver makes the scenarios of a sweep's points. It reuses what rows have in common; each
// worker needs its own.
type Resolver struct {
	sweep       *Sweep
	coordinates []sweep.Coordinate
	trees       map[string]*tree
}

// mostTrees is the largest number of trees that a resolver keeps.
const mostTrees = 32

// Resolver returns a new resolver.
func (s *Sweep) Resolver() *Resolver {
	return &Resolver{sweep: s, coordinates: make([]sweep.Coordinate, len(s.Parameters)), trees: map[string]*tree{}}
}

// Point is a point of a sweep.
type Point struct {
	Coordinates []sweep.Coordinate
	Scenario    *Scenario
	Deliveries  []Delivery
}

// Point resolves a point of the design, counted from 0, as [Read] does with "path=value"
// for each parameter. Its result is valid until the next call. The error is [Errors].
func (r *Resolver) Point(k uint64) (Point, error) {
	s := r.sweep
	s.sampler.Point(k, r.coordinates)
	return r.resolve(r.coordinates, func(i int) levelValue { return s.Parameters[i].at(r.coordinates[i]) })
}

// resolve resolves the point with the words of coordinates and given numbers.
func (r *Resolver) resolve(at []sweep.Coordinate, value func(i int) levelValue) (Point, error) {
	t, err := r.tree(at)
	if err != nil {
		return Point{}, err
	}
	if err := t.resolve(r.sweep, value); err != nil {
		clear(r.trees) // bad values stay marked in their tree
		return Point{}, err
	}
	return Point{at, t.scenario, t.deliveries}, nil
}

// tree returns the tree for the texts of a point, and makes it if there is none yet.
func (r *Resolver) tree(at []sweep.Coordinate) (*tree, error) {
	var key strings.Builder
	for i := range r.sweep.Parameters {
		if !r.sweep.Parameters[i].Numeric {
			fmt.Fprintf(&key, "%d ", at[i].Level)
		}
	}
	if t := r.trees[key.String()]; t != nil {
		return t, nil
	}
	t, err := r.sweep.grow(at)
	if err != nil {
		return nil, err
	}
	if len(r.trees) >= mostTrees {
		clear(r.trees)
	}
	r.trees[key.String()] = t
	return t, nil
}

// Identity writes everything that determines the rows, for a fingerprint: the scenarios that
// were tried in full, what varies, the design and the columns.
func (s *Sweep) Identity() ([]byte, error) {
	var scenarios, vary []report.Object
	for _, tried := range s.tried {
		deliveries, err := tried.Deliveries()
		if err != nil {
			return nil, err
		}
		for _, d := range deliveries {
			inputs, err := tried.Inputs(d, 0)
			if err != nil {
				return nil, err
			}
			bowler := tried.Bowlers[d.Bowler]
			angle := degrees(bowler.Release.Angle)
			if bowler.AimAtPocket {
				angle = "aim"
			}
			scenarios = append(scenarios, report.ObjectOf("angle", angle, "inputs", string(inputs),
				"names", []string{tried.Lanes[d.Lane].Name, tried.Balls[d.Ball].Name, bowler.Name}))
		}
	}
	for i := range s.Parameters {
		q := &s.Parameters[i]
		values := report.List{}
		for _, v := range q.values {
			values = append(values, v.node.plain())
		}
		vary = append(vary, report.ObjectOf("path", q.Path, "unit", q.Unit, "numeric", q.Numeric, "levels", q.Levels, "range", q.isRange, "values", values))
	}
	d := s.Design
	return report.JSON(report.ObjectOf("design", report.ObjectOf("kind", d.Kind, "points", d.Points, "seed", d.Seed),
		"vary", vary, "columns", s.ColumnNames, "deliveries", s.Deliveries, "scenarios", scenarios))
}
