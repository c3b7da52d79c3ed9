package aim_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// A line that is found by its breakpoint has it, for either hand alike, and crosses
// the board at the arrows.
func TestBreakpointLine(t *testing.T) {
	l := usual.Crowned(t, 40, 24, 6)
	for _, wanted := range []float64{5, 8, 10.5} {
		var found [2]physics.Release
		for i, hand := range []ball.Hand{ball.Right, ball.Left} {
			b, r := usual.LaidOut(t, hand, false), usual.Release()
			r.Hand = hand
			q := aim.BreakpointLine{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Arrows: 14, Breakpoint: wanted}
			if i == 1 {
				q.Setup.Lane, q.Workers = l.Mirror(), 1
			}
			var err error
			found[i] = usual.Run(t, q)
			if at := studies.BoardAtArrows(found[i]); math.Abs(at-14) > 1e-9 {
				t.Errorf("over board %v at the arrows", at)
			}
			shot, err := physics.Throw(q.Setup.Lane, b, found[i], physics.Settings{})
			if err != nil || shot.Events.Breakpoint == nil {
				t.Fatal(err, shot.Events.Breakpoint)
			}
			if off := math.Abs(shot.Events.Breakpoint.Board - wanted); off > 0.001 {
				t.Errorf("board %v: off by %v", wanted, off)
			}
		}
		if d := math.Abs(found[0].Laydown - found[1].Laydown); d > 1e-4 {
			t.Errorf("left and right differ by %v board", d)
		}
	}
}

// For a breakpoint out of reach the error has the nearest one, and no line of a finer grid is nearer; a ball
// that goes straight has no breakpoint.
func TestBreakpointLineThatIsNone(t *testing.T) {
	l, b, r := usual.Crowned(t, 40, 24, 6), usual.LaidOut(t, ball.Right, false), usual.Release()
	q := aim.BreakpointLine{Setup: studies.Setup{Lane: l, Ball: b, Release: r}, Arrows: 8, Breakpoint: 20}
	_, err := q.Run(context.Background())
	none := (*aim.NoBreakpointError)(nil)
	if !errors.As(err, &none) || math.IsNaN(none.Nearest) {
		t.Fatal(err)
	}
	thrower, seen := physics.NewThrower(), 0
	for laydown := 1.0; laydown <= 30; laydown += 0.1 {
		at := studies.OverArrows(r, laydown, 8)
		if math.Abs(at.Angle) > 6*units.Degree {
			continue
		}
		shot := usual.Throw(t, thrower, l, b, at, physics.Settings{PathSpacing: -1, ExchangeSpacing: -1})
		if p := shot.Events.Breakpoint; p != nil {
			if seen++; p.Board > none.Nearest+0.02 && math.Abs(p.Board-20) < math.Abs(none.Nearest-20) {
				t.Errorf("from board %v the breakpoint is on board %v, nearer than %v", laydown, p.Board, none.Nearest)
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d breakpoints", seen)
	}
	plain := usual.Prepared(t, ball.Default(), ball.Right)
	q.Setup.Ball, q.Setup.Release.RevRate, q.Setup.Release.AxisRotation, q.Setup.Release.AxisTilt = plain, 0, 0, 0
	if _, err := q.Run(context.Background()); !errors.As(err, &none) || !math.IsNaN(none.Nearest) {
		t.Error(err)
	}
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := q.Run(cancelled); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}
