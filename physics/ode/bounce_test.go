package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

const gravity = 9.81

// bounces lets a ball fall on the floor again and again and calls landed with
// the number and time of each landing. It starts on the floor at unit speed.
func bounces(t *testing.T, restitution float64, count int, landed func(n int, at float64)) {
	t.Helper()
	p := &ode.Problem{
		Rate:   func(_ float64, y, dydt []float64) { dydt[0], dydt[1] = y[1], -gravity },
		Events: []ode.Event{{Value: func(_ float64, y []float64) float64 { return y[0] }, Direction: ode.Falling}},
	}
	s := ode.NewSolver(2)
	y := []float64{0, 1}
	at := 0.0
	for n := 1; n <= count; n++ {
		r, err := s.Run(p, ode.Settings{}, at, y, math.Inf(1))
		if err != nil || r.Status != ode.EventFound {
			t.Fatalf("bounce %d: %+v, %v", n, r, err)
		}
		at = r.Time
		landed(n, at)
		y[0], y[1] = 0, -restitution*y[1]
	}
}

func TestThousandElasticBouncesKeepTheirPeriod(t *testing.T) {
	const period = 2 / gravity
	const count = 1000
	worst := 0.0
	bounces(t, 1, count, func(n int, at float64) {
		worst = max(worst, math.Abs(at-float64(n)*period)/(float64(n)*period))
	})
	// Flight is a parabola, which the method integrates without error. A
	// landing at the time k·T is late by up to r·k·T, with r the resolution;
	// the ball, faster by g times that, stays twice as much longer in each
	// later flight: in all Σ 2(n−k)·r·k·T = r·n³·T/3 over n flights.
	within(t, "relative error of landing times", worst, timeResolution*count*count/3)
}

func TestDyingBouncesFollowTheGeometricSeries(t *testing.T) {
	const e, count = 0.7, 60
	const first = 2 / gravity
	worst, last := 0.0, 0.0
	bounces(t, e, count, func(n int, at float64) {
		worst = max(worst, math.Abs(at-first*(1-math.Pow(e, float64(n)))/(1-e)))
		last = at
	})
	t.Logf("last flight of %.3g s", first*math.Pow(e, count-1))
	// As above, with the sum over later flights 2e/(1−e).
	within(t, "error of landing times", worst, count*timeResolution*last*(1+2*e/(1-e)))
}

func TestBallAtRestOnTheFloorDoesNotBounce(t *testing.T) {
	p := &ode.Problem{
		Rate:   func(_ float64, _, dydt []float64) { dydt[0], dydt[1] = 0, 0 },
		Events: []ode.Event{{Value: func(_ float64, y []float64) float64 { return y[0] }, Samples: 3}},
	}
	y := []float64{0, 0}
	if r := run(t, p, ode.Settings{}, 0, y, 10); r.Status != ode.ReachedEnd {
		t.Errorf("%+v", r)
	}
}
