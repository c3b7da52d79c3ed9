package pins

import (
	"math"
	"testing"

	"lanesim/units"
)

// rebound returns how fast in m/s a head pin without scatter moves upward right after a ball
// of 15 lb at 17 mph struck it in the middle.
func rebound(t *testing.T, floor FloorRebound) float64 {
	t.Helper()
	s := bare()
	s.Rebound = floor
	d := newDeck(t, s)
	d.set(Pins(1), 0, 0)
	d.place(Rolling(17.5, 6*units.Degree, 17*units.MPH, 15*units.Pound))
	d.begin()
	for d.result.First[0].By == Untouched {
		d.step()
	}
	return d.bodies[0].v.z
}

// The deck gives back what it takes in a blow by its restitution, or not: the head pin
// rebounds at about 1.23 m/s or 0.62 m/s. Derived, by two ways of solving one blow.
func TestFloorRebound(t *testing.T) {
	near(t, "rebound where the deck returns it, m/s", rebound(t, ReboundReturned), 1.23, 0.05)
	near(t, "rebound where the deck takes it, m/s", rebound(t, ReboundTaken), 0.62, 0.05)
}

// If the deck gives nothing back, more pins fall: about 33 % of a bowler's light, flat hits
// strike rather than 24 %, and 89 % of flush ones rather than 80 % (400 racks each). An
// absolute share rests on this assumption as on others.
func TestFloorReboundMovesShares(t *testing.T) {
	racks := many(80, 2000)
	for _, c := range []struct{ board, degrees float64 }{{15.5, 3}, {17.5, 6}} {
		returned := roll(t, c.board, c.degrees, 15, Settings{Rebound: ReboundReturned}, true, racks)
		taken := roll(t, c.board, c.degrees, 15, Settings{Rebound: ReboundTaken}, true, racks)
		off := taken.Strikes().Share - returned.Strikes().Share
		t.Logf("board %v, %v°: strikes %.3f returned, %.3f taken", c.board, c.degrees, returned.Strikes().Share, taken.Strikes().Share)
		if chance := 2 * math.Sqrt(0.5/float64(racks)); off < 0.09-0.05-chance || off > 0.09+0.05+chance {
			t.Errorf("board %v, %v°: strikes %.3f returned, %.3f taken", c.board, c.degrees, returned.Strikes().Share, taken.Strikes().Share)
		}
	}
}
