package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

const eps = 0x1p-52

// timeResolution is the relative width to which event times are narrowed.
const timeResolution = 16 * eps

// clock is y' = 1: the solution is the time, free of error, so that events on
// it are known exactly.
func clock(_ float64, _, dydt []float64) { dydt[0] = 1 }

// oscillator is x” = −x.
func oscillator(_ float64, y, dydt []float64) { dydt[0], dydt[1] = y[1], -y[0] }

// pendulum is φ” = −sin φ.
func pendulum(_ float64, y, dydt []float64) { dydt[0], dydt[1] = y[1], -math.Sin(y[0]) }

// swell is y' = y cos t with the solution exp(sin t).
func swell(t float64, y, dydt []float64) { dydt[0] = y[0] * math.Cos(t) }

// kepler is the motion in the field of a unit mass: x, y, vx, vy.
func kepler(_ float64, y, dydt []float64) {
	r := math.Hypot(y[0], y[1])
	f := -1 / (r * r * r)
	dydt[0], dydt[1], dydt[2], dydt[3] = y[2], y[3], f*y[0], f*y[1]
}

// pericentre returns the state at the closest point of an orbit of semi-major
// axis 1, whose period is 2π.
func pericentre(eccentricity float64) []float64 {
	e := eccentricity
	return []float64{1 - e, 0, 0, math.Sqrt((1 + e) / (1 - e))}
}

// run integrates with a new solver and fails the test on an error.
func run(t *testing.T, p *ode.Problem, set ode.Settings, start float64, y []float64, end float64) ode.Result {
	t.Helper()
	result, err := ode.NewSolver(len(y)).Run(p, set, start, y, end)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// fixed are settings under which every step has the same length: the tolerance
// is too loose to matter.
func fixed(step float64) ode.Settings {
	return ode.Settings{Absolute: 1e9, InitialStep: step, MaxStep: step}
}

func distance(a, b []float64) float64 {
	largest := 0.0
	for i := range a {
		largest = max(largest, math.Abs(a[i]-b[i]))
	}
	return largest
}

// within logs a measured value beside its bound and fails if it lies above.
func within(t *testing.T, what string, value, bound float64) {
	t.Helper()
	t.Logf("%s: %.3g, bound %.3g", what, value, bound)
	if !(value <= bound) {
		t.Errorf("%s is %g, above %g", what, value, bound)
	}
}

// between does the same for a range.
func between(t *testing.T, what string, value, low, high float64) {
	t.Helper()
	t.Logf("%s: %.4g, range %.4g to %.4g", what, value, low, high)
	if !(value >= low && value <= high) {
		t.Errorf("%s is %g, outside %g to %g", what, value, low, high)
	}
}
