package ball

import "math"

// Hand is the hand that throws.
type Hand int

// The hands.
const (
	Right Hand = iota
	Left
)

// String returns "right" or "left".
func (h Hand) String() string {
	if h == Left {
		return "left"
	}
	return "right"
}

// Ball is a ball as the lane meets it: rigid-body properties, the bowler's
// axis on it, and its surface. Make one with [Specification.Drill],
// or with [Specification.Prepare] for a ball without holes.
type Ball struct {
	Name string

	Radius float64 // m
	Mass   float64 // kg, as thrown

	// Moments are the principal moments of inertia about the centre of
	// mass, in kg·m², along the body axes.
	Moments [3]float64

	// Offset is the centre of mass as seen from the centre of the sphere,
	// in m, along the body axes.
	Offset [3]float64

	// PAP is the unit vector, in body axes, from the centre toward the
	// positive axis point. Fingers is the unit tangent at the PAP that
	// points along the vertical axis line (VAL) toward the fingers.
	PAP, Fingers [3]float64

	// Cover is what the outside is made of. Its soak-in time counts only through
	// Memory, where the one that holds stands.
	Cover Cover

	// Roughness is the Ra of the cover in m.
	Roughness float64

	// ContactRadius is the radius in m of the contact patch, for pivot
	// friction. Default 2.5 mm, assumed; 0 turns pivot friction off.
	ContactRadius float64

	// Memory is how the cover carries oil from one turn to the next.
	Memory FilmMemory

	// Measured says which of the ball's assumed values are measured. It has no
	// influence on a shot.
	Measured Measured
}

// Measured says which values of a ball that are assumed as a rule are measured.
type Measured struct{ PickUp, GiveBack, ContactWidth, ContactRadius bool }

// FilmMemory sets the exchange of oil between lane and ball. All values are
// assumed.
type FilmMemory struct {
	// Off makes the ball meet the lane with a clean surface all the time:
	// it still takes oil but never runs on what it took.
	Off bool

	// PickUp is the share of the lane's film that a pass takes up, GiveBack
	// the share of the ball's film that it lays down.
	PickUp, GiveBack float64

	// ContactWidth is the width of the track in m; where successive turns
	// lie farther apart than this they do not meet.
	ContactWidth float64

	// SoakIn is the time in s in which the cover soaks up all but 1/e of
	// the film on it; +Inf for a cover that soaks up nothing. In a
	// [Specification] it is 0 where the cover's own time holds; in a [Ball] it is
	// the one that holds.
	SoakIn float64
}

// DefaultFilmMemory returns the assumed defaults, with the soak-in time of a
// reactive cover. Pick-up and give-back are equal shares, the simplest law:
// without slip nothing is exchanged between equal films. The width follows from
// common practice (oil rings are about a quarter inch wide).
func DefaultFilmMemory() FilmMemory {
	return FilmMemory{PickUp: 0.05, GiveBack: 0.05, ContactWidth: 6.5e-3, SoakIn: Reactive.SoakIn}
}

// DefaultContactRadius is the assumed radius of the contact patch in m.
const DefaultContactRadius = 2.5e-3

// Kappa is the ratio I/(m R²) about the unit axis n, in body axes: 2/5 for a
// uniform sphere, 0.33 to 0.42 for real balls.
func (b Ball) Kappa(n [3]float64) float64 {
	i := 0.0
	for a := range n {
		i += b.Moments[a] * n[a] * n[a]
	}
	return i / (b.Mass * b.Radius * b.Radius)
}

// RG is the radius of gyration in m about the unit axis n, in body axes:
// k² = Σ k_i² n_i².
func (b Ball) RG(n [3]float64) float64 {
	return math.Sqrt(b.Kappa(n)) * b.Radius
}

// Mirror returns the ball's mirror image, in which a left-hander's layout
// reads as a right-hander's. The mirrored intermediate axis is opposite to
// PSA × pin, so components along it change sign.
func (b Ball) Mirror() Ball {
	b.Offset[1] = -b.Offset[1]
	b.PAP[1] = -b.PAP[1]
	b.Fingers[1] = -b.Fingers[1]
	return b
}
