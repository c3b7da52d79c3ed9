package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

func TestInfiniteScaleTakesAComponentOutOfControl(t *testing.T) {
	// A slow decay carries a fast passenger that acts on nothing.
	with := func(_ float64, y, dydt []float64) { dydt[0], dydt[1] = -y[0], math.Cos(200*y[0]) }
	alone := func(_ float64, y, dydt []float64) { dydt[0] = -y[0] }
	for _, set := range []ode.Settings{
		{Absolute: 1e-8},
		{Relative: 1e-8, Absolute: 1e-8},
		{Relative: 1e-8},
	} {
		set.InitialStep = 0.01
		single := []float64{1}
		r := run(t, &ode.Problem{Rate: alone}, set, 0, single, 3)
		set.Scale = []float64{1, math.Inf(1)}
		pair := []float64{1, 0}
		q := run(t, &ode.Problem{Rate: with}, set, 0, pair, 3)
		if pair[0] != single[0] || q != r {
			t.Errorf("%+v: %+v with the passenger, %+v alone", set, q, r)
		}
		set.Scale = nil
		pair = []float64{1, 0}
		controlled := run(t, &ode.Problem{Rate: with}, set, 0, pair, 3)
		if controlled.Stats.Steps < 2*r.Stats.Steps {
			t.Errorf("the passenger under control takes %d steps, %d alone", controlled.Stats.Steps, r.Stats.Steps)
		}
	}
}

func TestUncontrolledComponentIsStillGuardedAgainstNaN(t *testing.T) {
	p := &ode.Problem{Rate: func(at float64, _, dydt []float64) {
		dydt[0], dydt[1] = 1, 1
		if at > 1 {
			dydt[1] = math.NaN()
		}
	}}
	_, err := ode.NewSolver(2).Run(p, ode.Settings{Scale: []float64{1, math.Inf(1)}}, 0, []float64{0, 0}, 3)
	if err == nil {
		t.Error("NaN went through")
	}
}

func TestScaleMeasuresTheToleranceInItsUnit(t *testing.T) {
	// The same motion in metres and in millimetres.
	solve := func(unit float64) ([]float64, ode.Stats) {
		p := &ode.Problem{Rate: func(_ float64, y, dydt []float64) {
			dydt[0], dydt[1] = y[1], -unit*math.Sin(y[0]/unit)
		}}
		y := []float64{2 * unit, 0}
		r := run(t, p, ode.Settings{Absolute: 1e-8, Scale: []float64{unit, unit}}, 0, y, 10)
		return []float64{y[0] / unit, y[1] / unit}, r.Stats
	}
	// A power of two as the unit makes even the rounding the same.
	a, m := solve(1)
	b, n := solve(1024)
	if a[0] != b[0] || a[1] != b[1] || m != n {
		t.Errorf("%v %+v against %v %+v", a, m, b, n)
	}
}

func TestAngleMayBeWoundBackAfterEachStep(t *testing.T) {
	set := ode.Settings{Absolute: 1e-10}
	const end = 30
	plain := []float64{0, 2.5} // over the top again and again
	r := run(t, &ode.Problem{Rate: pendulum}, set, 0, plain, end)

	turns := 0.0
	p := &ode.Problem{Rate: pendulum, Accepted: func(_ *ode.Segment, y, _ []float64) {
		n := math.Round(y[0] / (2 * math.Pi))
		turns += n
		y[0] -= 2 * math.Pi * n
	}}
	y := []float64{0, 2.5}
	q := run(t, p, set, 0, y, end)
	if turns < 5 || math.Abs(y[0]) > math.Pi*1.5 {
		t.Errorf("%g turns, angle %g", turns, y[0])
	}
	y[0] += 2 * math.Pi * turns
	t.Logf("%g turns, %d and %d steps", turns, q.Stats.Steps, r.Stats.Steps)
	// Only rounding differs, which grows along the motion.
	within(t, "difference", distance(y, plain), 1e-11)
}

func TestHookMayTurnTheAxesWithStateAndRate(t *testing.T) {
	// Plane motion in a central field; after each step the axes are turned.
	const turn = 0.4
	turned := func(v []float64, angle float64) {
		s, c := math.Sincos(angle)
		for i := 0; i < 4; i += 2 {
			v[i], v[i+1] = c*v[i]-s*v[i+1], s*v[i]+c*v[i+1]
		}
	}
	set := fixed(0.02)
	plain := pericentre(0.4)
	run(t, &ode.Problem{Rate: kepler}, set, 0, plain, 6)
	angle := 0.0
	p := &ode.Problem{Rate: kepler, Accepted: func(_ *ode.Segment, y, dydt []float64) {
		turned(y, turn)
		turned(dydt, turn)
		angle += turn
	}}
	y := pericentre(0.4)
	run(t, p, set, 0, y, 6)
	turned(y, -angle)
	within(t, "difference after turning back", distance(y, plain), 1e-11)

	// Without its rate the state is wrong, or the test would show nothing.
	p.Accepted = func(_ *ode.Segment, y, _ []float64) { turned(y, turn) }
	z := pericentre(0.4)
	run(t, p, set, 0, z, 6)
	turned(z, -angle)
	if distance(z, plain) < 1e-3 {
		t.Error("the rate plays no part")
	}
}

func TestHookSeesStateAndRateAtTheEndOfEachPiece(t *testing.T) {
	var ends []float64
	want := make([]float64, 2)
	p := &ode.Problem{
		Rate:   pendulum,
		Events: []ode.Event{{Value: func(_ float64, y []float64) float64 { return y[0] }, Direction: ode.Rising}},
		Accepted: func(s *ode.Segment, y, dydt []float64) {
			if len(ends) > 0 && s.Start != ends[len(ends)-1] {
				t.Errorf("a piece from %g after one to %g", s.Start, ends[len(ends)-1])
			}
			ends = append(ends, s.End)
			pendulum(s.End, y, want)
			if dydt[0] != want[0] || dydt[1] != want[1] {
				t.Errorf("rate %v at %g, want %v", dydt, s.End, want)
			}
		},
	}
	y := []float64{2, 0}
	r := run(t, p, ode.Settings{}, 0, y, 20)
	if r.Status != ode.EventFound || r.Time != ends[len(ends)-1] || len(ends) != r.Stats.Steps {
		t.Errorf("%+v, pieces to %v", r, ends)
	}
}
