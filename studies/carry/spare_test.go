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

// A ball that goes straight converts leaves as geometry predicts: single pins nearly always, the corners from
// the other side of the lane, and hardly ever the 7-10.
func TestSpares(t *testing.T) {
	ctx := context.Background()
	q := Spares{Setup: straight(ball.Right), Laydowns: []float64{10, 30}, Deliveries: 150}
	if err := q.Prepare(ctx); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		leave       string
		least, most float64
		low, high   float64 // where the line passes the leave's first pin, in boards
	}{
		{"10", 0.85, 1, 2, 8}, {"7", 0.85, 1, 32, 38}, {"1", 0.95, 1, 17, 23}, {"3-6-10", 0.7, 1, 10, 17},
		{"2-4-5-8", 0.55, 0.98, 22, 30}, {"3-10", 0.5, 0.95, 8, 16}, {"7-10", 0, 0.1, 0, 40},
	} {
		l, err := pins.ParseLeave(c.leave)
		if err != nil {
			t.Fatal(err)
		}
		line, err := q.Find(ctx, l)
		if err != nil {
			t.Fatal(err)
		}
		if err := q.FindWindow(ctx, &line); err != nil {
			t.Fatal(err)
		}
		share, board := line.Converted.Share(), line.Entry.Board
		t.Logf("%s: laydown %v, board %.1f at %.2f°, window %.1f to %.1f, %.3f converted", c.leave, line.Release.Laydown, board, line.Entry.Heading/units.Degree, line.Window.Min, line.Window.Max, share)
		if share < c.least || share > c.most || board < c.low || board > c.high || line.Converted.Of != 150 || len(line.Outcomes) != 150 {
			t.Errorf("%s: board %v, %v of %d converted", c.leave, board, share, line.Converted.Of)
		}
		if share > 0.9 && !(line.Window.Min < board && board < line.Window.Max && line.Window.Max-line.Window.Min > 4) {
			t.Errorf("%s: board %v, window %v", c.leave, board, line.Window)
		}
		for _, rest := range line.Outcomes {
			if rest&^l != 0 {
				t.Errorf("%s: %v stands afterward", c.leave, rest)
			}
		}
	}
	// The 10 pin is wide of the lane's middle: a pin's and the ball's radius to either side.
	if _, err := q.Find(ctx, pins.Pins(10)); err != nil {
		t.Error(err)
	}
	q.lines = [][]arrival{q.lines[0][:3], q.lines[1][:3]}
	var none *NoSpareError
	if _, err := q.Find(ctx, pins.Pins(10)); !errors.As(err, &none) || none.Leave != pins.Pins(10) {
		t.Errorf("%v", err)
	}
}

// A left-hander gets the mirror image, with the pins' own numbers, for any number of workers.
func TestSparesMirror(t *testing.T) {
	ctx := context.Background()
	find := func(hand ball.Hand, l pins.Leave, workers int) SpareResult {
		q := Spares{Setup: straight(hand), Deliveries: 60, Work: studies.Work{Workers: workers}}
		if err := q.Prepare(ctx); err != nil {
			t.Fatal(err)
		}
		line, err := q.Find(ctx, l)
		if err != nil {
			t.Fatal(err)
		}
		return line
	}
	l := pins.Pins(3, 6, 10)
	right, left := find(ball.Right, l, 1), find(ball.Left, l.Mirror(), 3)
	if right.Release.Angle != left.Release.Angle || right.Converted != left.Converted || right.Entry.Board != left.Entry.Board {
		t.Errorf("%+v\n%+v", right, left)
	}
	for k := range right.Outcomes {
		if right.Outcomes[k] != left.Outcomes[k].Mirror() {
			t.Errorf("delivery %d: %v, mirrored %v", k, right.Outcomes[k], left.Outcomes[k])
		}
	}
}
