package ball_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"lanesim/ball"
	"lanesim/units"
)

func TestRingsThatAreNone(t *testing.T) {
	good := ringAt(ball.DefaultPAP(), 0.2, 0, 2*math.Pi, 4)
	line := []ball.SurfacePoint{{0, 0}, {0.004, 0}, {0.008, 0}} // 8 mm of any ring look straight
	for _, c := range []struct {
		name    string
		points  []ball.SurfacePoint
		radius  float64
		error   float64
		problem ball.RingProblem
	}{
		{"none", nil, ringRadius, 0, ball.TooFewPoints},
		{"two", good[:2], ringRadius, 0, ball.TooFewPoints},
		{"duplicates", []ball.SurfacePoint{good[0], good[1], good[0], good[1]}, ringRadius, 0, ball.TooFewPoints},
		{"short line", line, ringRadius, 0, ball.TooCloseTogether},
		{"NaN", []ball.SurfacePoint{good[0], good[1], {math.NaN(), 0}}, ringRadius, 0, ball.ImpossibleReading},
		{"beyond the ball", []ball.SurfacePoint{good[0], good[1], {0, 0.3}}, ringRadius, 0, ball.ImpossibleReading},
		{"no ball", good, 0, 0, ball.ImpossibleReading},
		{"negative error", good, ringRadius, -1, ball.ImpossibleReading},
	} {
		_, err := ball.FitRing(c.points, c.radius, c.error)
		var ring *ball.RingError
		if !errors.As(err, &ring) || ring.Problem != c.problem {
			t.Errorf("%s: %v, want %v", c.name, err, c.problem)
		}
	}
}

func TestRingWarnings(t *testing.T) {
	pap := ball.PAP{Over: 5 * units.Inch, Up: 0.5 * units.Inch}
	points := ringAt(pap, 0.2, 0, 2*math.Pi, 8)
	points[3].Over += 0.01
	ring, err := ball.FitRing(points, ringRadius, 0)
	if err != nil || !slices.Contains(ring.Warnings, ball.OffCircle) {
		t.Errorf("a point 10 mm off: %v, %v", ring.Warnings, err)
	}
	if even := 1e-3 / ringRadius / math.Sqrt(8); ring.TiltError() < 1.5*even {
		t.Errorf("a point 10 mm off leaves the tilt at ±%g, well read it is ±%g", ring.TiltError(), even)
	}
	ring, err = ball.FitRing(ringAt(ball.PAP{Over: 0.0005}, 0.2, 0, 2*math.Pi, 8), ringRadius, 0)
	if err != nil || !slices.Contains(ring.Warnings, ball.SideUnclear) {
		t.Errorf("an axis through the grip: %v, %v", ring.Warnings, err)
	}
}
