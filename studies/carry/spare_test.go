package carry

import (
	"context"
	"errors"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
	"lanesim/units"
)

// straight is a bowler without revs on a dry lane, with a ball whose moments are alike.
func straight(hand ball.Hand) studies.Setup {
	mass := 14 * units.Pound
	moment := mass * 2.6 * 2.6 * units.Inch * units.Inch
	b := ball.Ball{Radius: 4.29 * units.Inch, Mass: mass, Moments: [3]float64{moment, moment, moment}, PAP: [3]float64{1, 0, 0}, Fingers: [3]float64{0, 1, 0}}
	return studies.Setup{
		Lane: lane.Default(), Ball: b,
		Release:       physics.Release{Speed: 18 * units.MPH, Laydown: 25, Hand: hand},
		Repeatability: studies.Repeatability{Laydown: 0.5, Angle: 0.15 * units.Degree, Speed: 0.2},
	}
}

func TestZZ(t *testing.T) {
	q := Spares{Setup: straight(ball.Right), Laydowns: []float64{10, 20, 30}}
	if err := q.Prepare(context.Background()); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"10", "7", "1", "5", "3-6-10", "2-4-5-8", "7-10", "1-2-4-10", "3-10"} {
		l, _ := pins.ParseLeave(text)
		line, err := q.Find(context.Background(), l)
		var none *NoSpareError
		if err != nil && !errors.As(err, &none) {
			t.Fatal(err)
		}
		if err := q.FindWindow(context.Background(), &line); err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: laydown %v angle %.2f arrows %.1f board %.2f heading %.2f converted %.3f window %v", text, line.Release.Laydown, line.Release.Angle/units.Degree, line.Arrows, line.Entry.Board, line.Entry.Heading/units.Degree, line.Converted.Share(), line.Window)
	}
}
