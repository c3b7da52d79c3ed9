package pins_test

import (
	"math"
	"testing"

	"lanesim/lane"
	"lanesim/pins"
	"lanesim/units"
)

// A ball that moves to the bowler's own side gives the mirror image of a ball that moves to
// the off side.
func TestTableIsMirrored(t *testing.T) {
	for _, board := range []float64{12, 17.5, 18.4, 21} {
		e := pins.Entry{Board: board, Angle: 4.5 * units.Degree, Mass: 15 * units.Pound, Speed: 17 * units.MPH}
		m := e
		m.Board, m.Angle = lane.Boards+1-board, -e.Angle
		table := pins.Stored()
		if a, b := table.Strikes(e), table.Strikes(m); a != b {
			t.Errorf("board %g: %v strikes, mirrored %v", board, a, b)
		}
		var x, y [pins.All + 1]float64
		table.AddLeaves(e, 1, &x)
		table.AddLeaves(m, 1, &y)
		some := 0
		for l := range x {
			if math.Abs(x[l]-y[pins.Leave(l).Mirror()]) > 1e-15 {
				t.Errorf("board %g: %v of %v, mirrored %v", board, x[l], pins.Leave(l), y[pins.Leave(l).Mirror()])
			}
			if x[l] > 0 {
				some++
			}
		}
		if some == 0 {
			t.Error("no leaves")
		}
		if a, b := table.Draw(e, 0.4, 0.97), table.Draw(m, 0.4, 0.97); a != b.Mirror() {
			t.Errorf("board %g: %v drawn, mirrored %v", board, a, b)
		}
	}
}
