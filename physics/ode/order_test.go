package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

func TestErrorFallsWithTheFifthPowerOfTheStep(t *testing.T) {
	problems := []struct {
		name  string
		rate  func(t float64, y, dydt []float64)
		start []float64
		end   float64
		exact []float64
		steps float64
	}{
		{"swell", swell, []float64{1}, 3, []float64{math.Exp(math.Sin(3))}, 16},
		{"oscillator", oscillator, []float64{1, 0}, 3, []float64{math.Cos(3), -math.Sin(3)}, 16},
		{"kepler", kepler, pericentre(0.3), 2 * math.Pi, pericentre(0.3), 160},
	}
	for _, c := range problems {
		measure := func(n float64) float64 {
			y := append([]float64(nil), c.start...)
			run(t, &ode.Problem{Rate: c.rate}, fixed(c.end/n), 0, y, c.end)
			return distance(y, c.exact)
		}
		coarse, fine := measure(2*c.steps), measure(4*c.steps)
		between(t, c.name+": order", math.Log2(coarse/fine), 4.7, 5.6)
	}
}

func TestDenseOutputErrsWithTheFifthPowerOfTheStep(t *testing.T) {
	// Order four: the error inside one step is of the fifth.
	measure := func(h float64) float64 {
		worst := 0.0
		p := &ode.Problem{Rate: swell, Accepted: func(s *ode.Segment, _, _ []float64) {
			for k := 1; k < 16; k++ {
				at := s.Start + float64(k)/16*s.Step
				worst = max(worst, math.Abs(s.Component(0, at)-math.Exp(math.Sin(at))))
			}
		}}
		run(t, p, fixed(h), 0, []float64{1}, 4)
		return worst
	}
	for _, h := range []float64{0.25, 0.125, 0.0625} {
		between(t, "order of the dense output", math.Log2(measure(h)/measure(h/2)), 4.6, 5.6)
	}
}

func TestErrorFollowsTheTolerance(t *testing.T) {
	// An eccentric orbit needs steps of very different lengths.
	var errors, costs []float64
	for tolerance := 1e-4; tolerance > 0.5e-12; tolerance /= 10 {
		y := pericentre(0.6)
		r := run(t, &ode.Problem{Rate: kepler}, ode.Settings{Relative: tolerance, Absolute: tolerance}, 0, y, 2*math.Pi)
		errors = append(errors, distance(y, pericentre(0.6)))
		costs = append(costs, float64(r.Stats.Evaluations))
		t.Logf("tolerance %.0e: error %.2e, %d evaluations, %d steps, %d rejected", tolerance,
			errors[len(errors)-1], r.Stats.Evaluations, r.Stats.Steps, r.Stats.Rejected)
	}
	for i := 1; i < len(errors); i++ {
		if errors[i] >= errors[i-1] || costs[i] <= costs[i-1] {
			t.Errorf("decade %d: error %g after %g, cost %g after %g", i, errors[i], errors[i-1], costs[i], costs[i-1])
		}
	}
	decades := float64(len(errors) - 1)
	last := len(errors) - 1
	between(t, "decades of error per decade of tolerance", math.Log10(errors[0]/errors[last])/decades, 0.8, 1.3)
	// A step that errs by h⁵ costs one fifth of a decade per decade.
	between(t, "decades of cost per decade of tolerance", math.Log10(costs[last]/costs[0])/decades, 0.13, 0.22)
}

func TestLinearInvariantsHoldToRounding(t *testing.T) {
	// Matter moves between four places; every column of the matrix sums to 0.
	p := &ode.Problem{Rate: func(_ float64, y, dydt []float64) {
		a, b, c := 3*y[0]-y[1], 2*y[1]*y[2], 0.5*y[2]*math.Sin(y[3])
		dydt[0], dydt[1], dydt[2], dydt[3] = -a, a-b, b-c, c
	}}
	y := []float64{1, 0.5, 0.25, 0.125}
	r := run(t, p, ode.Settings{Relative: 1e-4, Absolute: 1e-4, MaxStep: 0.1}, 0, y, 100)
	// Each step rounds four sums of some terms no larger than 2.
	within(t, "drift of the sum", math.Abs(y[0]+y[1]+y[2]+y[3]-1.875), 4*eps*float64(r.Stats.Steps))
}

func TestStiffRelaxationAgreesWithTightReference(t *testing.T) {
	// Van der Pol's oscillator: long crawls and sudden falls.
	for _, mu := range []float64{5, 20} {
		p := &ode.Problem{Rate: func(_ float64, y, dydt []float64) {
			dydt[0], dydt[1] = y[1], mu*(1-y[0]*y[0])*y[1]-y[0]
		}}
		solve := func(tolerance float64) ([]float64, ode.Stats) {
			y := []float64{2, 0}
			r := run(t, p, ode.Settings{Relative: tolerance, Absolute: tolerance}, 0, y, 2*mu)
			return y, r.Stats
		}
		reference, _ := solve(1e-13)
		for _, tolerance := range []float64{1e-6, 1e-9} {
			y, stats := solve(tolerance)
			t.Logf("μ = %g, tolerance %.0e: %+v", mu, tolerance, stats)
			within(t, "difference", distance(y, reference), 10*tolerance)
		}
	}
}

func TestNothingHappensWithoutTime(t *testing.T) {
	for _, end := range []float64{1, 0.5, math.Inf(-1)} {
		latest := 1.0
		p := &ode.Problem{
			Rate: func(at float64, y, dydt []float64) {
				latest = min(latest, at)
				clock(at, y, dydt)
			},
			Accepted: func(*ode.Segment, []float64, []float64) { t.Error("a step was made") },
			Events:   []ode.Event{{Value: func(float64, []float64) float64 { return 0 }}},
		}
		y := []float64{7}
		r := run(t, p, ode.Settings{}, 1, y, end)
		if r.Status != ode.ReachedEnd || r.Time != 1 || y[0] != 7 || r.Stats.Steps != 0 || latest < 1 {
			t.Errorf("end %g: %+v, y = %g, rate asked at %g", end, r, y[0], latest)
		}
	}
}
