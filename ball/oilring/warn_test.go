package oilring_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"lanesim/ball"
	"lanesim/ball/oilring"
	"lanesim/units"
)

func TestRingsThatAreNone(t *testing.T) {
	good := ringAt(ball.DefaultPAP(), 0.2, 0, 2*math.Pi, 4)
	line := []ball.SurfacePoint{{}, {Over: 0.004}, {Over: 0.008}} // 8 mm of any ring look straight
	for _, c := range []struct {
		name    string
		points  []ball.SurfacePoint
		radius  float64
		error   float64
		problem oilring.Problem
	}{
		{"none", nil, ringRadius, 0, oilring.TooFewPoints},
		{"two", good[:2], ringRadius, 0, oilring.TooFewPoints},
		{"duplicates", []ball.SurfacePoint{good[0], good[1], good[0], good[1]}, ringRadius, 0, oilring.TooFewPoints},
		{"short line", line, ringRadius, 0, oilring.TooCloseTogether},
		{"NaN", []ball.SurfacePoint{good[0], good[1], {Over: math.NaN()}}, ringRadius, 0, oilring.ImpossibleReading},
		{"beyond the ball", []ball.SurfacePoint{good[0], good[1], {Up: 0.3}}, ringRadius, 0, oilring.ImpossibleReading},
		{"no ball", good, 0, 0, oilring.ImpossibleReading},
		{"negative error", good, ringRadius, -1, oilring.ImpossibleReading},
	} {
		_, err := oilring.Fit(c.points, c.radius, c.error)
		var ring *oilring.Error
		if !errors.As(err, &ring) || ring.Problem != c.problem {
			t.Errorf("%s: %v, want %v", c.name, err, c.problem)
		}
	}
}

func TestRingWarnings(t *testing.T) {
	pap := ball.PAP{Over: 5 * units.Inch, Up: 0.5 * units.Inch}
	points := ringAt(pap, 0.2, 0, 2*math.Pi, 8)
	points[3].Over += 0.01
	ring, err := oilring.Fit(points, ringRadius, 0)
	if err != nil || !slices.Contains(ring.Warnings, oilring.OffCircle) {
		t.Errorf("a point 10 mm off: %v, %v", ring.Warnings, err)
	}
	if even := 1e-3 / ringRadius / math.Sqrt(8); ring.TiltError() < 1.5*even {
		t.Errorf("a point 10 mm off leaves the tilt at ±%g, well read it is ±%g", ring.TiltError(), even)
	}
	ring, err = oilring.Fit(ringAt(ball.PAP{Over: 0.0005}, 0.2, 0, 2*math.Pi, 8), ringRadius, 0)
	if err != nil || !slices.Contains(ring.Warnings, oilring.SideUnclear) {
		t.Errorf("an axis through the grip: %v, %v", ring.Warnings, err)
	}
}
