package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

// busy is a problem that uses everything: events that are searched and never
// found, stops, limits and a hook.
func busy() *ode.Problem {
	sum := 0.0
	return &ode.Problem{
		Rate: pendulum,
		Events: []ode.Event{
			{Value: func(_ float64, y []float64) float64 { return 1.1 - math.Cos(y[0]) + 0.01*y[1] }, Samples: 3},
			{Value: func(_ float64, y []float64) float64 { return y[0] - 4 }, Direction: ode.Rising},
		},
		Stops:     []float64{0.25, 0.5},
		StepLimit: func(float64, []float64, []float64) float64 { return 0.5 },
		Accepted:  func(s *ode.Segment, _, _ []float64) { sum += s.Component(0, s.End) },
	}
}

func TestRunsDoNotAllocate(t *testing.T) {
	s := ode.NewSolver(2)
	p, plain := busy(), &ode.Problem{Rate: pendulum}
	y := make([]float64, 2)
	set := ode.Settings{Scale: []float64{1, 1}}
	for _, end := range []float64{1, 100} {
		steps := 0
		allocated := testing.AllocsPerRun(5, func() {
			// Problems with and without events take turns.
			for _, q := range []*ode.Problem{p, plain} {
				y[0], y[1] = 2, 0
				r, err := s.Run(q, set, 0, y, end)
				if err != nil || r.Status != ode.ReachedEnd {
					t.Fatalf("%+v, %v", r, err)
				}
				steps = r.Stats.Steps
			}
		})
		t.Logf("to t = %g (%d steps): %g allocations", end, steps, allocated)
		if allocated != 0 {
			t.Errorf("%g allocations to t = %g", allocated, end)
		}
	}
}

func TestRunsRepeatToTheBit(t *testing.T) {
	used := ode.NewSolver(2)
	y := []float64{2, 0}
	first, err := used.Run(busy(), ode.Settings{}, 0, y, 50)
	if err != nil {
		t.Fatal(err)
	}
	// Something else leaves no trace in the solver.
	if _, err := used.Run(&ode.Problem{Rate: oscillator}, ode.Settings{MaxStep: 0.3}, 0, []float64{9, 9}, 7); err != nil {
		t.Fatal(err)
	}
	for _, s := range []*ode.Solver{used, ode.NewSolver(2)} {
		z := []float64{2, 0}
		r, err := s.Run(busy(), ode.Settings{}, 0, z, 50)
		if err != nil || r != first || z[0] != y[0] || z[1] != y[1] {
			t.Errorf("%+v %v, first %+v %v, error %v", r, z, first, y, err)
		}
	}
}

func TestStateIsUntouchedUntilTheEnd(t *testing.T) {
	y := []float64{2, 0}
	p := &ode.Problem{Rate: func(at float64, _, dydt []float64) {
		if y[0] != 2 || y[1] != 0 {
			t.Fatal("the caller's state changes on the way")
		}
		dydt[0], dydt[1] = 1, 2
	}}
	run(t, p, ode.Settings{}, 0, y, 1)
	within(t, "error of the state", distance(y, []float64{3, 2}), 4*eps)
}

func TestSegmentsJoinAndAgreeWithTheState(t *testing.T) {
	end, y := make([]float64, 2), make([]float64, 2)
	last := []float64{2, 0}
	joint, rounding, steps := 0.0, 0.0, 0
	p := &ode.Problem{Rate: pendulum, Accepted: func(s *ode.Segment, state, _ []float64) {
		steps++
		s.At(s.Start, y)
		joint = max(joint, distance(y, last))
		s.At(s.End, end)
		rounding = max(rounding, distance(end, state))
		copy(last, state)
		for k := 0; k <= 8; k++ {
			at := s.Start + float64(k)/8*(s.End-s.Start)
			s.At(at, y)
			for i := range y {
				if v := s.Component(i, at); v != y[i] {
					t.Errorf("component %d at %g is %g alone, %g among all", i, at, v, y[i])
				}
			}
		}
	}}
	run(t, p, ode.Settings{}, 0, []float64{2, 0}, 30)
	t.Logf("%d steps", steps)
	within(t, "difference at the start of a step", joint, 0)
	// The last time of a step is rounded to 30·eps, at speeds below 2.
	within(t, "difference at its end", rounding, 2*30*eps)
}

func TestSegmentOfAnEventEndsThere(t *testing.T) {
	var last ode.Segment
	p := &ode.Problem{Rate: oscillator,
		Events: []ode.Event{{Value: func(_ float64, y []float64) float64 { return y[0] }}},
		Accepted: func(s *ode.Segment, _, _ []float64) {
			last = *s
			last.Coefficients = append([]float64(nil), s.Coefficients...)
		}}
	y := []float64{1, 0}
	r := run(t, p, fixed(1), 0, y, 9)
	if last.Start != 1 || last.Step != 1 || last.End != r.Time {
		t.Errorf("segment from %g, step %g, to %g; event at %g", last.Start, last.Step, last.End, r.Time)
	}
	for i := range y {
		if last.Component(i, r.Time) != y[i] {
			t.Errorf("component %d: %g and %g", i, last.Component(i, r.Time), y[i])
		}
	}
}

func TestProposedStepSparesTheSearchForOne(t *testing.T) {
	s := ode.NewSolver(2)
	p := &ode.Problem{Rate: pendulum}
	whole := []float64{2, 0}
	run(t, p, ode.Settings{}, 0, whole, 20)
	inParts := func(handOn bool) float64 {
		y, set, evaluations := []float64{2, 0}, ode.Settings{}, 0
		for k := range 20 {
			r, err := s.Run(p, set, float64(k), y, float64(k+1))
			if err != nil {
				t.Fatal(err)
			}
			if handOn {
				set.InitialStep = r.Step
			}
			evaluations += r.Stats.Evaluations
		}
		within(t, "difference of twenty runs from one", distance(y, whole), 1e-4)
		return float64(evaluations)
	}
	// At the least it saves the evaluation of the guess, in 19 runs.
	within(t, "evaluations with the step handed on", inParts(true), inParts(false)-19)
}
