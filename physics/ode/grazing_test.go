package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

// valley is a parabola of unit curvature about centre, with its floor at the
// given height.
func valley(centre, floor float64) func(float64, []float64) float64 {
	return func(_ float64, y []float64) float64 {
		d := y[0] - centre
		return d*d/2 + floor
	}
}

func TestDoubleCrossingInOneStepNeedsSamples(t *testing.T) {
	// Below zero from 0.3 to 0.7 of the only step.
	f := valley(0.5, -0.02)
	if r := watch(t, 0, 1, 1, nil, ode.Event{Value: f}); r.Status != ode.ReachedEnd {
		t.Errorf("with the ends alone: %+v", r)
	}
	for _, c := range []struct {
		direction ode.Direction
		want      float64
	}{{ode.Either, 0.3}, {ode.Falling, 0.3}, {ode.Rising, 0.7}} {
		for samples := 1; samples <= 5; samples++ {
			r := watch(t, 0, 1, 1, nil, ode.Event{Value: f, Direction: c.direction, Samples: samples})
			if r.Status != ode.EventFound {
				t.Fatalf("direction %d, %d samples: not found", c.direction, samples)
			}
			within(t, "error of the time", math.Abs(r.Time-c.want), 4*timeResolution)
		}
	}
}

func TestGrazingExtremumIsFoundWhereverItLies(t *testing.T) {
	// One step of length 1, an extremum that passes zero by 10⁻¹⁰ over
	// 2.8·10⁻⁵: no sample hits it. Slopes are felt over 1/64 at either end,
	// hence extrema beyond 1/128.
	const depth = 1e-10
	half := math.Sqrt(2 * depth)
	for samples := 1; samples <= 6; samples++ {
		worst, found := 0.0, 0
		const places = 500
		for k := range places {
			centre := 1./128 + half + (1-2*(1./128+half))*float64(k)/(places-1)
			f := valley(centre, -depth)
			for _, e := range []ode.Event{
				{Value: f, Direction: ode.Falling, Samples: samples},
				{Value: negative(f), Direction: ode.Rising, Samples: samples},
			} {
				r := watch(t, 0, 1, 1, nil, e)
				if r.Status != ode.EventFound {
					t.Errorf("%d samples: not found at %g", samples, centre)
					continue
				}
				found++
				worst = max(worst, math.Abs(r.Time-(centre-half)))
			}
		}
		t.Logf("%d samples: %d of %d found", samples, found, 2*places)
		// The slope at the crossing is √(2·depth); the value is rounded to eps·depth and more.
		within(t, "error of the time", worst, 100*eps/half)
	}
}

func TestGrazingOverManyStepsIsMissedOnlyAtTheirEnds(t *testing.T) {
	// What may be missed is within 1/128 of a step of the boundary between two.
	const depth, step = 1e-10, 0.25
	missed := 0
	const places = 4000
	for k := range places {
		centre := 0.1 + 0.8*(float64(k)+0.5)/places
		r := watch(t, 0, 1, step, nil, ode.Event{Value: valley(centre, -depth), Samples: 3})
		if r.Status == ode.EventFound {
			continue
		}
		missed++
		if gap := math.Abs(centre-step*math.Round(centre/step)) / step; gap > 1./128 {
			t.Errorf("missed at %g, %g of a step from an end", centre, gap)
		}
	}
	// Three of the boundaries lie inside the range.
	within(t, "share missed", float64(missed)/places, 3*2*step/128/0.8+3./places)
}

func TestTangencyShortOfZeroIsNoEvent(t *testing.T) {
	for _, floor := range []float64{1e-14, 1e-10, 1e-3} {
		for k := range 200 {
			f := valley(float64(k)/200, floor)
			for samples := range 5 {
				for _, e := range []ode.Event{
					{Value: f, Samples: samples},
					{Value: negative(f), Samples: samples},
				} {
					if r := watch(t, 0, 1, 0.5, nil, e); r.Status != ode.ReachedEnd {
						t.Fatalf("floor %g at %g, %d samples: event at %g", floor, float64(k)/200, samples, r.Time)
					}
				}
			}
		}
	}
}

func TestGrazingOfARealMotion(t *testing.T) {
	// A stone thrown up to a ceiling: v²/2g just above it, and just below.
	const speed = 3.0
	const top = speed * speed / (2 * gravity)
	throw := func(ceiling float64, samples int) ode.Result {
		p := &ode.Problem{
			Rate: func(_ float64, y, dydt []float64) { dydt[0], dydt[1] = y[1], -gravity },
			Events: []ode.Event{{
				Value:     func(_ float64, y []float64) float64 { return y[0] - ceiling },
				Direction: ode.Rising, Samples: samples}},
		}
		return run(t, p, fixed(1), 0, []float64{0, speed}, 0.55)
	}
	const margin = 1e-9
	if r := throw(top-margin, 0); r.Status != ode.ReachedEnd {
		t.Errorf("ends alone: %+v", r)
	}
	if r := throw(top+margin, 4); r.Status != ode.ReachedEnd {
		t.Errorf("short of the ceiling: %+v", r)
	}
	r := throw(top-margin, 4)
	if r.Status != ode.EventFound {
		t.Fatal("not found")
	}
	want := (speed - math.Sqrt(2*gravity*margin)) / gravity
	// The height, known to some eps, is passed at the speed √(2g·margin).
	within(t, "error of the time", math.Abs(r.Time-want), 16*eps/math.Sqrt(2*gravity*margin))
}
