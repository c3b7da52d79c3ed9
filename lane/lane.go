package lane

import "lanesim/units"

// Geometry of a lane: nominal width and number of boards, from rule-book
// dimensions as published on secondary pages.
const (
	Boards     = 39
	Width      = 41.5 * units.Inch // m, edge to edge
	BoardWidth = Width / Boards    // m, 27.03 mm

	// HeadPin is the distance in m from the foul line to the centre of
	// the head-pin spot.
	HeadPin = 60 * units.Foot

	// Arrows is the distance in m at which shots are compared "at the
	// arrows". The arrows themselves lie 12 to 16 ft out.
	Arrows = 15 * units.Foot
)

// Lane is one lane with its oil. Start from [Default].
type Lane struct {
	Name string

	// Length is the distance in m from the foul line to the head-pin spot,
	// where a shot ends; +Inf for an endless lane.
	Length float64

	// Oil is the film on the lane; nil is a dry lane.
	Oil *OilMap

	// Tilt is how much higher the left edge lies than the right, in m over
	// the lane's width. Within rules it stays below 0.040 in.
	Tilt float64

	// Roughness is the lane surface's Ra in m. Default 0.20 µm, assumed.
	Roughness float64

	// Friction selects and sets the friction law.
	Friction Friction

	// RollingResistance is the dimensionless coefficient c_rr of rolling
	// resistance, at most [MostRollingResistance]. Default 0: no published value
	// was found. Where it exceeds friction it stops the ball's rolling, and the
	// ball slides to a stop.
	RollingResistance float64

	// Measured has no influence on a shot.
	Measured Measured

	// Edgeless removes the gutters: lane and oil extend sideways without end. It
	// is for tests of the physics.
	Edgeless bool
}

// Measured marks the values of a lane, usually assumed, that were measured.
type Measured struct{ Film, Dry, Entrained, Roughness bool }

// Law names a friction law.
type Law string

// The friction laws. Package physics computes them.
const (
	Mixed    Law = "mixed"
	Constant Law = "constant"
	Zones    Law = "zones"
)

// Friction holds the settings of the friction law; only the fields of the
// selected law count.
type Friction struct {
	Law Law

	// Film and Dry are the dimensionless friction coefficients of a full
	// film and of a dry contact, for the mixed law. Entrained is the share
	// of the film in the gap that the contact draws in. Film is
	// calibrated, Entrained assumed, Dry often quoted.
	Film, Dry, Entrained float64

	// Mu is the one coefficient of the constant law.
	Mu float64

	// Zones lists the coefficients of the zones law from the foul line on.
	Zones []Zone
}

// Zone is a stretch of lane with one friction coefficient.
type Zone struct {
	To float64 // m from the foul line where the zone ends; +Inf for the last
	Mu float64
}

// DefaultFriction is the mixed law with its default constants.
func DefaultFriction() Friction {
	return Friction{Law: Mixed, Film: 0.022, Dry: 0.20, Entrained: 0.5}
}

// DefaultRoughness is the assumed Ra of a lane's surface in m.
const DefaultRoughness = 0.20e-6

// Default returns a dry, level lane of regulation length.
func Default() Lane {
	return Lane{
		Length:    HeadPin,
		Roughness: DefaultRoughness,
		Friction:  DefaultFriction(),
	}
}

// Board returns the board, counted from the right, over which the lateral
// position y in m lies: 20 is the centre of the lane, an integer the centre
// of that board.
func Board(y float64) float64 { return (Boards+1)/2 + y/BoardWidth }

// Lateral returns the lateral position in m, positive to the left, of a
// board counted from the right.
func Lateral(board float64) float64 { return (board - (Boards+1)/2) * BoardWidth }

// Mirror returns the lane's mirror image about the centre line, on which a
// left-hander's shot is a right-hander's. The oil is copied.
func (l Lane) Mirror() Lane {
	l.Tilt = -l.Tilt
	l.Oil = l.Oil.Mirror()
	return l
}
