package ode_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"lanesim/physics/ode"
)

// watch runs the clock from start to end in equal steps with events on it.
func watch(t *testing.T, start, end, step float64, stops []float64, events ...ode.Event) ode.Result {
	t.Helper()
	y := []float64{start}
	r := run(t, &ode.Problem{Rate: clock, Events: events, Stops: stops}, fixed(step), start, y, end)
	// The weights of a step sum to 1 but for rounding, and so do the steps.
	if math.Abs(y[0]-r.Time) > float64(4+r.Stats.Steps)*eps*max(1, math.Abs(end)) {
		t.Errorf("state %g at time %g", y[0], r.Time)
	}
	return r
}

func at(zero float64) func(float64, []float64) float64 {
	return func(_ float64, y []float64) float64 { return y[0] - zero }
}

func negative(f func(float64, []float64) float64) func(float64, []float64) float64 {
	return func(t float64, y []float64) float64 { return -f(t, y) }
}

func TestEventTimesAreExactToRounding(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	worst := 0.0
	for range 2000 {
		zero := 0.01 + 9.9*random.Float64()
		step := 0.05 * math.Exp(6*random.Float64())
		sharp := 0.1 * math.Exp(6*random.Float64())
		samples := random.IntN(6)
		e := ode.Event{Samples: samples, Value: func(_ float64, y []float64) float64 {
			return math.Expm1(sharp * (y[0] - zero))
		}}
		r := watch(t, 0, 10, step, nil, e)
		if r.Status != ode.EventFound {
			t.Fatalf("zero at %g, step %g, sharpness %g, %d samples: not found", zero, step, sharp, samples)
		}
		worst = max(worst, math.Abs(r.Time-zero)/zero)
	}
	// The time itself is the sum of up to 200 steps, each rounded.
	within(t, "relative error of the time", worst, timeResolution+200*eps)
}

func TestEventTimesFollowTheToleranceOfTheSolution(t *testing.T) {
	for _, tolerance := range []float64{1e-6, 1e-9, 1e-12} {
		p := &ode.Problem{Rate: oscillator, Events: []ode.Event{
			{Value: func(_ float64, y []float64) float64 { return y[0] }, Direction: ode.Rising}}}
		y := []float64{1, 0}
		r := run(t, p, ode.Settings{Absolute: tolerance}, 0, y, 10)
		within(t, "error of the time 3π/2", math.Abs(r.Time-3*math.Pi/2), 30*tolerance)
		within(t, "value at the event", math.Abs(y[0]), timeResolution*5)
	}
}

func TestEventStateLiesJustBehindTheCrossing(t *testing.T) {
	p := &ode.Problem{Rate: pendulum, Events: []ode.Event{
		{Value: func(_ float64, y []float64) float64 { return y[0] }, Direction: ode.Falling}}}
	y := []float64{2, 0}
	run(t, p, ode.Settings{}, 0, y, 10)
	if !(y[0] <= 0) {
		t.Errorf("φ = %g, want on the far side", y[0])
	}
	within(t, "distance from zero", -y[0], timeResolution*10)
}

func TestOnlyTheWantedDirectionCounts(t *testing.T) {
	sine := func(_ float64, y []float64) float64 { return math.Sin(math.Pi * y[0]) }
	for _, samples := range []int{0, 3} {
		for _, c := range []struct {
			direction ode.Direction
			want      float64
		}{{ode.Either, 1}, {ode.Falling, 1}, {ode.Rising, 2}} {
			r := watch(t, 0.25, 10, 0.2, nil, ode.Event{Value: sine, Direction: c.direction, Samples: samples})
			if r.Status != ode.EventFound {
				t.Fatalf("direction %d, samples %d: none", c.direction, samples)
			}
			within(t, "error of the time", math.Abs(r.Time-c.want), 4*timeResolution*c.want)
		}
	}
}

func TestMonotonicFunctionHasNoEventInTheOtherDirection(t *testing.T) {
	// A bent ramp, near zero at one sample behind the crossing or before it.
	for k := range 1000 {
		zero := 0.001 * float64(k)
		rise := func(_ float64, y []float64) float64 { return (y[0] - zero) * (1 + 4*y[0]) }
		for samples := range 6 {
			for _, e := range []ode.Event{
				{Value: rise, Direction: ode.Falling, Samples: samples},
				{Value: negative(rise), Direction: ode.Rising, Samples: samples},
			} {
				if r := watch(t, 0, 1, 1, nil, e); r.Status != ode.ReachedEnd {
					t.Fatalf("zero at %g, samples %d, direction %d: event at %g", zero, samples, e.Direction, r.Time)
				}
			}
		}
	}
}

func TestZeroAtTheStartIsNoEvent(t *testing.T) {
	for _, samples := range []int{0, 1, 4} {
		for _, direction := range []ode.Direction{ode.Either, ode.Rising, ode.Falling} {
			for _, f := range []func(float64, []float64) float64{at(1), negative(at(1))} {
				e := ode.Event{Value: f, Direction: direction, Samples: samples}
				if r := watch(t, 1, 3, 0.3, nil, e); r.Status != ode.ReachedEnd {
					t.Errorf("samples %d, direction %d: event at %g", samples, direction, r.Time)
				}
			}
		}
		// It has left zero and comes back.
		arch := func(_ float64, y []float64) float64 { return y[0] * (1 - y[0]) }
		r := watch(t, 0, 3, 0.3, nil, ode.Event{Value: arch, Samples: samples})
		within(t, "error of the return", math.Abs(r.Time-1), 4*timeResolution)
	}
}

func TestEventOnABoundaryIsFoundOnce(t *testing.T) {
	// Functions of the time, with steps and zeros that are exact in binary.
	clockAt := func(zero float64) func(float64, []float64) float64 {
		return func(t float64, _ []float64) float64 { return t - zero }
	}
	for _, c := range []struct {
		name  string
		zero  float64
		stops []float64
	}{
		{"end of a step", 0.5, nil},
		{"stop", 0.625, []float64{0.625}},
		{"end", 1, nil},
		{"end and stop", 1, []float64{1}},
	} {
		for _, samples := range []int{0, 1, 3} {
			for _, f := range []func(float64, []float64) float64{clockAt(c.zero), negative(clockAt(c.zero))} {
				r := watch(t, 0, 1, 0.25, c.stops, ode.Event{Value: f, Samples: samples})
				if r.Status != ode.EventFound || r.Time != c.zero {
					t.Errorf("%s, samples %d: %+v, want an event at %g", c.name, samples, r, c.zero)
				}
				if r := watch(t, c.zero, 2, 0.25, c.stops, ode.Event{Value: f, Samples: samples}); r.Status != ode.ReachedEnd {
					t.Errorf("%s, samples %d: found again at %g", c.name, samples, r.Time)
				}
			}
		}
	}
	if r := watch(t, 0, 1, 0.25, nil, ode.Event{Value: clockAt(math.Nextafter(1, 2))}); r.Status != ode.ReachedEnd {
		t.Errorf("event behind the end: %+v", r)
	}
}

func TestEarliestEventOfAStepWins(t *testing.T) {
	early, late := ode.Event{Value: at(0.3)}, ode.Event{Value: negative(at(0.7)), Samples: 2}
	if r := watch(t, 0, 1, 1, nil, early, late); r.Event != 0 || math.Abs(r.Time-0.3) > timeResolution {
		t.Errorf("early first: %+v", r)
	}
	if r := watch(t, 0, 1, 1, nil, late, early); r.Event != 1 || math.Abs(r.Time-0.3) > timeResolution {
		t.Errorf("late first: %+v", r)
	}
	// The later one is still to come when the run goes on.
	if r := watch(t, 0.3, 1, 1, nil, early, late); r.Event != 1 || math.Abs(r.Time-0.7) > timeResolution {
		t.Errorf("going on: %+v", r)
	}
	// At the same time the first in the list counts.
	if r := watch(t, 0, 1, 1, nil, early, early); r.Event != 0 {
		t.Errorf("same time: %+v", r)
	}
}

func TestUndefinedValueIsNoCrossing(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		for _, samples := range []int{0, 3} {
			hole := func(_ float64, y []float64) float64 {
				if y[0] > 0.3 && y[0] < 0.6 {
					return math.NaN()
				}
				return sign
			}
			if r := watch(t, 0, 1, 0.1, nil, ode.Event{Value: hole, Samples: samples}); r.Status != ode.ReachedEnd {
				t.Errorf("sign %g, samples %d: event at %g", sign, samples, r.Time)
			}
		}
	}
}
