package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

// levels is y' = −y + u with u jumping at the times; right of a jump, its value
// holds from the jump on.
type levels struct{ times, values []float64 }

func (l levels) at(t float64) float64 {
	k := 0
	for k < len(l.times) && t >= l.times[k] {
		k++
	}
	return l.values[k]
}

func (l levels) rate(t float64, y, dydt []float64) { dydt[0] = l.at(t) - y[0] }

func (l levels) exact(y, end float64) float64 {
	t := 0.0
	for k, u := range l.values {
		next := end
		if k < len(l.times) {
			next = min(l.times[k], end)
		}
		y, t = u+(y-u)*math.Exp(t-next), next
	}
	return y
}

var jumps = levels{times: []float64{0.7, 1.3, 1.300001, 2}, values: []float64{1, -40, 300, 5, 0}}

func TestStopsMakeJumpsHarmless(t *testing.T) {
	solve := func(stops []float64) (float64, ode.Stats) {
		y := []float64{0}
		r := run(t, &ode.Problem{Rate: jumps.rate, Stops: stops}, ode.Settings{Absolute: 1e-9}, 0, y, 3)
		return math.Abs(y[0] - jumps.exact(0, 3)), r.Stats
	}
	with, stopped := solve(jumps.times)
	without, blind := solve(nil)
	t.Logf("with stops %+v, without %+v", stopped, blind)
	within(t, "error with stops", with, 1e-8)
	t.Logf("error without: %.3g", without)
	if blind.Rejected < stopped.Rejected+10 {
		t.Errorf("%d steps rejected with stops, %d without", stopped.Rejected, blind.Rejected)
	}
	// Behind each jump the solution's scale is another: a try or two.
	within(t, "steps rejected with stops", float64(stopped.Rejected), float64(2*len(jumps.times)))
}

func TestNoStepCrossesAStopOrAsksBeyondIt(t *testing.T) {
	var asked []float64
	crossed := 0
	p := &ode.Problem{
		Rate: func(at float64, y, dydt []float64) {
			asked = append(asked, at)
			jumps.rate(at, y, dydt)
		},
		Stops: jumps.times,
		Accepted: func(s *ode.Segment, _, _ []float64) {
			for _, stop := range jumps.times {
				if s.Start < stop && s.End > stop {
					t.Errorf("step from %g to %g crosses %g", s.Start, s.End, stop)
				}
				if s.End == stop {
					crossed++
					for _, at := range asked[len(asked)-6:] {
						if at >= stop {
							t.Errorf("the step to %g asks at %g", stop, at)
						}
					}
				}
			}
		},
	}
	run(t, p, ode.Settings{}, 0, []float64{0}, 3)
	if crossed != len(jumps.times) {
		t.Errorf("%d steps end at stops, want %d", crossed, len(jumps.times))
	}
}

func TestStepToAStopKeepsFifthOrder(t *testing.T) {
	// With equal steps nothing can be saved by rejecting.
	jump := levels{times: []float64{1}, values: []float64{1, -40}}
	for _, end := range []float64{1, 2} {
		measure := func(h float64) float64 {
			y := []float64{0}
			run(t, &ode.Problem{Rate: jump.rate, Stops: jump.times}, fixed(h), 0, y, end)
			return math.Abs(y[0] - jump.exact(0, end))
		}
		between(t, "order", math.Log2(measure(1./4)/measure(1./8)), 4.7, 5.6)
	}
}

func TestStopsOutsideTheRunAreIdle(t *testing.T) {
	solve := func(stops []float64) ([]float64, ode.Result) {
		y := []float64{2, 0}
		r := run(t, &ode.Problem{Rate: pendulum, Stops: stops}, ode.Settings{}, 1, y, 3)
		return y, r
	}
	plain, r := solve(nil)
	other, q := solve([]float64{-5, 0, 1, 3.5, 9})
	if r != q || plain[0] != other[0] || plain[1] != other[1] {
		t.Errorf("%v %+v without, %v %+v with", plain, r, other, q)
	}
}

func TestBoundsOnStepsHold(t *testing.T) {
	// Also for the step that lands on a stop or the end.
	for _, limit := range []float64{0.1, 0.19, 0.3, 0.96} {
		for _, byHook := range []bool{false, true} {
			longest, steps := 0.0, 0
			p := &ode.Problem{Rate: clock, Stops: []float64{0.99, 3}, Accepted: func(s *ode.Segment, _, _ []float64) {
				longest = max(longest, s.Step)
				steps++
			}}
			set := ode.Settings{MaxStep: limit}
			if byHook {
				set.MaxStep = 0
				p.StepLimit = func(float64, []float64, []float64) float64 { return limit }
			}
			r := run(t, p, set, 0, []float64{0}, 4)
			within(t, "longest step", longest, limit*(1+timeResolution*4/limit))
			if r.Time != 4 || float64(steps) < 4/limit {
				t.Errorf("%+v", r)
			}
		}
	}
}

func TestMeaninglessStepLimitIsNone(t *testing.T) {
	for _, limit := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		y, z := []float64{2, 0}, []float64{2, 0}
		r := run(t, &ode.Problem{Rate: pendulum}, ode.Settings{}, 0, y, 5)
		q := run(t, &ode.Problem{Rate: pendulum,
			StepLimit: func(float64, []float64, []float64) float64 { return limit }}, ode.Settings{}, 0, z, 5)
		if r != q || y[0] != z[0] {
			t.Errorf("limit %g changes the run", limit)
		}
	}
}
