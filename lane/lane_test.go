package lane

import (
	"math"
	"testing"

	"lanesim/units"

	"pgregory.net/rapid"
)

// rounding is the relative error allowed as rounding: the longest sums here, of a few
// hundred values each rounded to 1.1e-16, scatter below 1e-13.
const rounding = 1e-12

func near(got, want, scale float64) bool {
	return math.Abs(got-want) <= rounding*scale
}

func TestUnits(t *testing.T) {
	// Derived: 0.0167 cm³ on 929.0304 cm² is 0.1798 µm.
	if got := math.Round(units.OilUnit*1e10) / 1e10; got != 0.1798e-6 {
		t.Errorf("a unit is %v m", units.OilUnit)
	}
	if !near(HeadPin, 18.288, 1) || !near(Width, 1.0541, 1) || !near(BoardWidth, 0.0270282051282051, 1) {
		t.Errorf("head pin at %v m, lane %v m and boards %v m wide", HeadPin, Width, BoardWidth)
	}
}

func TestBoards(t *testing.T) {
	for _, test := range []struct{ board, inches float64 }{
		{20, 0},
		{17.5, -2.5 * 41.5 / 39}, // the pocket: 2.66 in right of centre
		{0.5, -41.5 / 2},
		{39.5, 41.5 / 2},
	} {
		if got := Lateral(test.board); !near(got, test.inches*units.Inch, 1) {
			t.Errorf("board %v lies at %v m, want %v", test.board, got, test.inches*units.Inch)
		}
		if got := Board(test.inches * units.Inch); !near(got, test.board, 1) {
			t.Errorf("%v in lies on board %v, want %v", test.inches, got, test.board)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		board := rapid.Float64Range(-10, 50).Draw(t, "board")
		if got := Board(Lateral(board)); !near(got, board, 50) {
			t.Errorf("board %v became %v", board, got)
		}
		if a, b := Lateral(board), Lateral(Boards+1-board); !near(a, -b, 1) {
			t.Errorf("board %v at %v m, its mirror image at %v m", board, a, b)
		}
	})
}

func TestMirroredLane(t *testing.T) {
	l := Default()
	l.Tilt = 0.001
	if m := l.Mirror(); m.Tilt != -0.001 || m.Oil != nil || m.Length != HeadPin {
		t.Errorf("mirror image is %+v", m)
	}
	rapid.Check(t, func(t *rapid.T) {
		l := Default()
		l.Oil = drawOil(t)
		before := l.Oil.Film[0]
		m := l.Mirror()
		m.Oil.Film[0]++
		if l.Oil.Film[0] != before {
			t.Errorf("the mirror image shares its film with the original")
		}
	})
}
