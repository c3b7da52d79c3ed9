package ode_test

import (
	"errors"
	"math"
	"testing"

	"lanesim/physics/ode"
)

func TestRateUndefinedAtTheStart(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		p := &ode.Problem{Rate: func(_ float64, y, dydt []float64) { dydt[0], dydt[1] = y[0], bad }}
		y := []float64{3, 4}
		r, err := ode.NewSolver(2).Run(p, ode.Settings{}, 2, y, 5)
		var e *ode.NotFiniteError
		if !errors.As(err, &e) {
			t.Fatalf("rate %g: error %v", bad, err)
		}
		if e.Time != 2 || e.Component != 1 || r.Time != 2 || r.Stats.Steps != 0 || y[0] != 3 || y[1] != 4 {
			t.Errorf("rate %g: %+v, %+v, y = %v", bad, e, r, y)
		}
	}
}

func TestRateUndefinedBehindAWall(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1)} {
		// Component 1 loses its rate where component 0, at unit speed, passes 1.
		p := &ode.Problem{Rate: func(_ float64, y, dydt []float64) {
			dydt[0], dydt[1] = 1, -y[1]
			if y[0] > 1 {
				dydt[1] = bad
			}
		}}
		y := []float64{0, 1}
		r, err := ode.NewSolver(2).Run(p, ode.Settings{}, 0, y, 5)
		var e *ode.NotFiniteError
		if !errors.As(err, &e) {
			t.Fatalf("rate %g: error %v", bad, err)
		}
		if e.Component != 1 || !(e.Time > r.Time) {
			t.Errorf("rate %g: %+v after %+v", bad, e, r)
		}
		within(t, "distance of the last good time from the wall", math.Abs(r.Time-1), 100*timeResolution)
		within(t, "distance of the error's time from the wall", math.Abs(e.Time-1), 100*timeResolution)
		if !(y[0] <= 1) {
			t.Errorf("the state %g lies behind the wall", y[0])
		}
		within(t, "state at the last good time", distance(y, []float64{r.Time, math.Exp(-r.Time)}), 1e-6)
		t.Logf("%+v", r.Stats)
	}
}

func TestRateUndefinedAtAStop(t *testing.T) {
	p := &ode.Problem{Stops: []float64{1}, Rate: func(at float64, _, dydt []float64) {
		dydt[0] = 1
		if at >= 1 {
			dydt[0] = math.NaN()
		}
	}}
	y := []float64{0}
	r, err := ode.NewSolver(1).Run(p, ode.Settings{}, 0, y, 5)
	var e *ode.NotFiniteError
	if !errors.As(err, &e) || e.Time != 1 || e.Component != 0 || r.Time != 1 || r.Stats.Rejected != 0 {
		t.Errorf("%v, %+v", err, r)
	}
	within(t, "distance from the solution", math.Abs(y[0]-1), timeResolution)
}

func TestBlowUpEndsInUnderflow(t *testing.T) {
	// y' = y² from 1 is 1/(1−t).
	p := &ode.Problem{Rate: func(_ float64, y, dydt []float64) { dydt[0] = y[0] * y[0] }}
	y := []float64{1}
	r, err := ode.NewSolver(1).Run(p, ode.Settings{}, 0, y, 5)
	var e *ode.StepUnderflowError
	if !errors.As(err, &e) {
		t.Fatalf("error %v", err)
	}
	if e.Time != r.Time || !(e.Step > 0) || e.Step > timeResolution*e.Time || math.IsNaN(y[0]) || math.IsInf(y[0], 0) {
		t.Errorf("%+v, %+v, y = %g", e, r, y[0])
	}
	within(t, "distance of the end from the pole", math.Abs(r.Time-1), 1e-5)
	if y[0] < 1e9 {
		t.Errorf("gave up at y = %g", y[0])
	}
}

func TestStepsAreCounted(t *testing.T) {
	p := &ode.Problem{Rate: pendulum}
	full := []float64{2, 0}
	complete := run(t, p, ode.Settings{}, 0, full, 10)
	limit := (complete.Stats.Steps + complete.Stats.Rejected) / 2

	last, ended := []float64{0, 0}, 0.0
	p.Accepted = func(s *ode.Segment, y, _ []float64) {
		copy(last, y)
		ended = s.End
	}
	y := []float64{2, 0}
	r, err := ode.NewSolver(2).Run(p, ode.Settings{MaxSteps: limit}, 0, y, 10)
	var e *ode.TooManyStepsError
	if !errors.As(err, &e) {
		t.Fatalf("error %v", err)
	}
	if e.Steps != limit || r.Stats.Steps+r.Stats.Rejected != limit || e.Time != r.Time || r.Time != ended {
		t.Errorf("%+v, %+v, last step to %g", e, r, ended)
	}
	if y[0] != last[0] || y[1] != last[1] {
		t.Errorf("state %v, last accepted %v", y, last)
	}

	// It can go on from there.
	run(t, p, ode.Settings{InitialStep: r.Step}, r.Time, y, 10)
	within(t, "difference of the run in two parts", distance(y, full), 1e-5)

	// Exactly enough is enough.
	y = []float64{2, 0}
	run(t, p, ode.Settings{MaxSteps: complete.Stats.Steps + complete.Stats.Rejected}, 0, y, 10)
}

func TestEvaluationsAreCounted(t *testing.T) {
	asked := 0
	p := &ode.Problem{Rate: func(at float64, y, dydt []float64) {
		asked++
		pendulum(at, y, dydt)
	}}
	r := run(t, p, ode.Settings{}, 0, []float64{2, 0}, 10)
	// Six per step, one at the start, one for the first step's length.
	if want := 6*(r.Stats.Steps+r.Stats.Rejected) + 2; asked != r.Stats.Evaluations || asked != want {
		t.Errorf("asked %d times, counted %d, want %d", asked, r.Stats.Evaluations, want)
	}
}

func TestFirstStepSuitsSmallStatesAndLateTimes(t *testing.T) {
	for _, c := range []struct{ start, y float64 }{{0, 0}, {1, 1e-20}, {1, 1e-12}, {-3, 1e-300}, {1e6, 0}, {1e12, 1}, {-1e12, 0}} {
		y := []float64{c.y}
		r := run(t, &ode.Problem{Rate: clock}, ode.Settings{}, c.start, y, c.start+1)
		if r.Stats.Steps > 20 || math.Abs(y[0]-c.y-1) > 1e-9+20*eps*math.Abs(c.start) {
			t.Errorf("from %g, y = %g: %+v, y = %g", c.start, c.y, r, y[0])
		}
	}
}

func TestErrorsTellWhereTheyHappened(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{&ode.NotFiniteError{Time: 1.5, Component: 2}, "ode: component 2 of the rate is not finite at t = 1.5"},
		{&ode.StepUnderflowError{Time: 1.5, Step: 1e-16}, "ode: step 1e-16 at t = 1.5 is too small to go on"},
		{&ode.TooManyStepsError{Time: 1.5, Steps: 7}, "ode: 7 steps reached only t = 1.5"},
	} {
		if c.err.Error() != c.want {
			t.Errorf("%q, want %q", c.err, c.want)
		}
	}
}

func TestStepTooShortForTheTimeIsRefused(t *testing.T) {
	y := []float64{5}
	r, err := ode.NewSolver(1).Run(&ode.Problem{Rate: clock}, ode.Settings{InitialStep: 1e-20}, 1, y, 2)
	var e *ode.StepUnderflowError
	if !errors.As(err, &e) || e.Time != 1 || e.Step != 1e-20 || r.Time != 1 || y[0] != 5 {
		t.Errorf("%v, %+v, y = %g", err, r, y[0])
	}
}

func TestFirstStepIsGuessedBesideAWall(t *testing.T) {
	// The guess looks ahead to where there is no rate.
	p := &ode.Problem{Rate: func(at float64, _, dydt []float64) {
		dydt[0] = 1
		if at > 1e-8 {
			dydt[0] = math.NaN()
		}
	}}
	y := []float64{0}
	r, err := ode.NewSolver(1).Run(p, ode.Settings{}, 0, y, 1)
	var e *ode.NotFiniteError
	if !errors.As(err, &e) {
		t.Fatalf("error %v", err)
	}
	within(t, "distance from the wall", math.Abs(r.Time-1e-8), 1e-8*100*timeResolution)
}
