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

// side is the sign along the midline of the bowler's own axis side.
func (h Hand) side() float64 {
	if h == Left {
		return -1
	}
	return 1
}

// Ball is a ball as it rolls: rigid-body properties, the bowler's
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

	// Cover is the material of the outside. Its soak-in time is not used here:
	// Memory has the one in force.
	Cover Cover

	// Roughness is the Ra of the cover in m.
	Roughness float64

	// ContactRadius is the radius in m of the contact patch, for pivot
	// friction. Default 2.5 mm, assumed; 0 turns pivot friction off.
	ContactRadius float64

	// Memory is how the cover carries oil from one turn to the next.
	Memory FilmMemory

	// Measured has no influence on a shot.
	Measured Measured
}

// Measured marks the values of a ball, usually assumed, that were measured.
type Measured struct{ PickUp, GiveBack, ContactWidth, ContactRadius bool }

// FilmMemory sets the exchange of oil between lane and ball. All values are
// assumed.
type FilmMemory struct {
	// Off keeps the ball's surface clean: it still takes oil off the lane but
	// never runs on it.
	Off bool

	// PickUp is the share of the lane's film that a pass takes up, GiveBack
	// the share of the ball's film that it lays down.
	PickUp, GiveBack float64

	// ContactWidth is the width of the track in m; tracks of successive turns
	// that lie farther apart do not touch.
	ContactWidth float64

	// SoakIn is the time in s in which the cover soaks up all but 1/e of
	// the film on it; +Inf for a cover that soaks up nothing. In a
	// [Specification] 0 stands for the cover's own time; a [Ball] has the time
	// itself.
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
// is a right-hander's. The mirrored intermediate axis is opposite to
// PSA × pin, so components along it change sign.
func (b Ball) Mirror() Ball {
	b.Offset[1] = -b.Offset[1]
	b.PAP[1] = -b.PAP[1]
	b.Fingers[1] = -b.Fingers[1]
	return b
}
