// Package pins computes how a ball hits a rack of ten pins: which pins fall, which
// stand, what touches each first, and where the ball goes.
//
// Ball and pins are rigid bodies. Between contacts a pin flies freely, its axis
// turning about its angular momentum, which is exact for a body with an axis of
// symmetry. Bodies that touch exchange impulses, all touching contacts together, with
// restitution and Coulomb's friction.
//
// Frame: x runs down-lane from the head pin's spot, y to the bowler's off side (to
// the left for a right-hander), z up from the deck. A left-hander's rack is the
// mirror image of a right-hander's, with the same random numbers. All values are SI.
//
// # What the results are worth
//
// The place of the pocket and the order of the contacts hardly depend on the settings.
// The best entry angle is a plateau of some degrees. Every share of strikes or leaves
// rests on [Settings], whose restitution, friction and scatter are assumed: no measured
// values were found. One rack is chaotic: a small offset grows about 2.5 times at each
// contact of two pins, so only shares over many racks have a meaning.
//
// The choice of [FloorRebound] changes the share of strikes of a bowler's light hits and
// of flush hits by about nine percentage points.
//
// A published flush strike has the ball touch 1-3-5-9 and leave near board 19. Here it
// touches 1-3-5 and passes the 9 in most racks, and leaves farther outside.
//
// For contacts with ball and other pins the lowest inch of a pin is rounded off, by up to
// 0.3 in at the edge of its base; deck and side boards touch the true edge.
package pins

import (
	"fmt"

	"lanesim/internal/check"
	"lanesim/lane"
	"lanesim/units"
)

const inch = units.Inch

// The deck, from rule-book dimensions as published on secondary pages; the pit's and
// the side boards' from memory.
const (
	// DeckEnd is how far in m behind the head pin's spot the tail plank ends.
	DeckEnd = (34.1875 + 2) * inch

	curtain     = DeckEnd + 14*inch // m behind the head pin's spot
	gutterDepth = 3.5 * inch        // m below the deck
	sideBoard   = 30.06 * inch      // m from the middle
	edge        = lane.Width / 2    // m from the middle
	lastRow     = 31.177 * inch     // m behind the head pin's spot
)

// Count is the number of pins of a rack.
const Count = 10

// Spots are the places in m of pins 1 to 10: down-lane from the head pin's, and to the
// bowler's off side. They lie 12 in apart in an equilateral triangle.
var Spots = spots()

func spots() (all [Count][2]float64) {
	const row = 10.392304845413264 * inch // 12 in × √3/2
	i := 0
	for r := range 4 {
		for k := range r + 1 {
			all[i] = [2]float64{float64(r) * row, float64(r-2*k) * 6 * inch}
			i++
		}
	}
	return all
}

// Settings are the constants of a rack. In each field 0 means the default, which is
// assumed, and a negative number means 0. The zero value works.
type Settings struct {
	// Restitution of a blow: the ratio of separating to closing speed.
	BallPinRestitution      float64 // default 0.70
	PinPinRestitution       float64 // default 0.65
	PinFloorRestitution     float64 // default 0.40
	PinSideBoardRestitution float64 // default 0.50

	// Coefficients of friction.
	BallPinFriction      float64 // default 0.15
	PinPinFriction       float64 // default 0.20
	PinDeckFriction      float64 // default 0.25
	PinSideBoardFriction float64 // default 0.25
	BallDeckFriction     float64 // default 0.20

	// The pin: mass in kg (default 3 lb 8 oz), height of the mass centre in m (5.80 in)
	// and radii of gyration in m, across (3.63 in) and along its axis (1.376 in).
	Mass, MassCentre, AcrossGyration, AlongGyration float64

	// Scatter from pin to pin, one standard deviation.
	SpotScatter        float64 // m, each way; default 1/16 in
	MassScatter        float64 // kg; default 0.5 oz
	MassCentreScatter  float64 // m; default 0.05 in
	RestitutionScatter float64 // share; default 0.04
	FrictionScatter    float64 // share; default 0.15

	// Rebound says whether the deck gives back the impulse that it takes in a blow.
	Rebound FloorRebound

	// LargestStep is the longest step in s. Default 1 ms. Shares do not depend on it.
	LargestStep float64

	// PathSpacing is the time in s between points of Result.Path. Default: no path.
	PathSpacing float64

	// Gravity in m/s²; default 9.80665.
	Gravity float64
}

// FloorRebound says whether the deck gives back the impulse with which a blow presses a
// standing pin's edge onto it.
type FloorRebound int

const (
	// ReboundReturned gives back a share, the restitution of pin and floor, after the
	// blow. It is the default, and assumed.
	ReboundReturned FloorRebound = iota

	// ReboundTaken gives nothing back.
	ReboundTaken
)

// The defaults, all assumed.
var defaults = Settings{
	BallPinRestitution: 0.70, PinPinRestitution: 0.65, PinFloorRestitution: 0.40, PinSideBoardRestitution: 0.50,
	BallPinFriction: 0.15, PinPinFriction: 0.20, PinDeckFriction: 0.25, PinSideBoardFriction: 0.25, BallDeckFriction: 0.20,
	Mass: 56 * units.Ounce, MassCentre: 5.80 * inch, AcrossGyration: 3.63 * inch, AlongGyration: 1.376 * inch,
	SpotScatter: inch / 16, MassScatter: 0.5 * units.Ounce, MassCentreScatter: 0.05 * inch, RestitutionScatter: 0.04, FrictionScatter: 0.15,
	LargestStep: 1e-3, Gravity: 9.80665,
}

// setting is one of the numbers of [Settings] with its limits.
type setting struct {
	name        string
	value       *float64
	least, most float64 // after defaults
}

func (s *Settings) all() []setting {
	return []setting{
		{"BallPinRestitution", &s.BallPinRestitution, 0, 1}, {"PinPinRestitution", &s.PinPinRestitution, 0, 1},
		{"PinFloorRestitution", &s.PinFloorRestitution, 0, 1}, {"PinSideBoardRestitution", &s.PinSideBoardRestitution, 0, 1},
		{"BallPinFriction", &s.BallPinFriction, 0, 2}, {"PinPinFriction", &s.PinPinFriction, 0, 2},
		{"PinDeckFriction", &s.PinDeckFriction, 0, 2}, {"PinSideBoardFriction", &s.PinSideBoardFriction, 0, 2},
		{"BallDeckFriction", &s.BallDeckFriction, 0, 2},
		{"Mass", &s.Mass, 0.5, 5}, {"MassCentre", &s.MassCentre, 3 * inch, 9 * inch},
		{"AcrossGyration", &s.AcrossGyration, inch, 8 * inch}, {"AlongGyration", &s.AlongGyration, 0.2 * inch, 3 * inch},
		{"SpotScatter", &s.SpotScatter, 0, inch / 2}, {"MassScatter", &s.MassScatter, 0, 0.1},
		{"MassCentreScatter", &s.MassCentreScatter, 0, inch / 2}, {"RestitutionScatter", &s.RestitutionScatter, 0, 0.2},
		{"FrictionScatter", &s.FrictionScatter, 0, 0.5},
		{"LargestStep", &s.LargestStep, 1e-5, 4e-3}, {"PathSpacing", &s.PathSpacing, 0, 1}, {"Gravity", &s.Gravity, 0, 100},
	}
}

// WithDefaults returns the settings with defaults in place of 0, and 0 in place of
// negative numbers.
func (s Settings) WithDefaults() Settings {
	fallback := defaults
	from := fallback.all()
	for i, field := range s.all() {
		switch {
		case *field.value == 0:
			*field.value = *from[i].value
		case *field.value < 0:
			*field.value = 0
		}
	}
	return s
}

// Validate returns nil if a rack can be computed with the settings, or all their faults
// joined, each a [*units.FieldError].
func (s Settings) Validate() error {
	v := check.Of("pins")
	full := s.WithDefaults()
	for _, f := range full.all() {
		if !(*f.value >= f.least && *f.value <= f.most) {
			v.Refuse("Settings."+f.name, *f.value, fmt.Sprintf("must lie between %v and %v", f.least, f.most))
		}
	}
	if s.Rebound != ReboundReturned && s.Rebound != ReboundTaken {
		v.Refuse("Settings.Rebound", s.Rebound, "must be ReboundReturned or ReboundTaken")
	}
	return v.Err()
}
