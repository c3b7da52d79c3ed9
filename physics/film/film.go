// Package film models the oil on a ball's surface: a film thickness b(p) over the whole sphere, which the
// contact meets and changes wherever it passes.
//
// The contact is a strip of width w across the direction in which it moves over the ball. It meets B, the
// mean film over its width, and leaves at each point
//
//	b⁺ = min(b + p h |v|/s − q b, h + b),   s = max(R|ω_h|, |v|/5)
//
// with h the lane's film, p the pick-up and q the give-back. After a touch a point is not touched again until
// the ball has turned by π. Between touches film soaks in, b ∝ exp(−Δt/τ).
//
// The field stores not the film but its history: the path of the contact over the ball and the film that the
// lane offered along it. The film at a point follows from the touches that covered it, in their order. So
// nothing blurs from touch to touch, and nothing needs computing where friction does not depend on the film
// on the ball.
//
// All values are SI; vectors are in axes fixed in the ball. The package is independent of the steppers: a
// stepper looks the film up with [Field.Meet] along the step that it tries, and appends the touches of the
// steps that it accepts.
package film

import (
	"math"

	"lanesim/ball"
	"lanesim/internal/portable"
)

// Vector is a vector in axes fixed in the ball: a unit vector, or in the unit given at the field.
type Vector struct{ X, Y, Z float64 }

// slowest is the least speed of the contact over the ball, as a share of the ball's speed, that is used in
// the offer: it bounds the film that a ball takes up if it hardly turns.
const slowest = 0.2

// untouched is the angle in rad by which the ball must turn before a point can be touched again.
const untouched = math.Pi

// Touch is the contact at one instant. The caller fills in the fields up to Lane, [Field.Meet] the others.
type Touch struct {
	Time   float64 // s
	Turned float64 // rad that the ball has turned since release
	X, Y   float64 // m, place on the lane
	Point  Vector  // unit vector from the ball's centre to the contact
	Spin   Vector  // rad/s
	Speed  float64 // m/s, of the ball over the lane
	Sweep  float64 // m/s, of the contact over the ball's surface
	Lane   float64 // m, film on the lane
	offer  float64 // m, film that the lane lays on the ball

	Met   bool    // the following fields are filled in
	Found float64 // m, mean film on the ball before the contact
	Left  float64 // m, mean film on the ball behind it
	Taken float64 // m³/s, rate at which the ball's surface gains oil
}

// Field is the film on one ball. Call Reset before use.
type Field struct {
	memory           ball.FilmMemory
	radius, perWidth float64 // m, and in widths of the contact
	soaking          float64 // 1/s, 1/τ
	strips           int
	mostCrossed      int
	near             float64 // rad, turning within which one touch replaces several

	touches []Touch
	places  []place
	passes  passes
	index   index // used if passes are not followed
	crossed []crossing
}

// place has the data of a touch that the search for crossings needs, in a cache line of 64 bytes.
type place struct {
	along Vector // unit vector in which the contact moves

	// Near the point the contact moves on a circle about the spin. axis is the circle's axis divided by the
	// sine of its angular radius, height is the component of the circle's points along axis.
	axis   Vector
	height float64
	turned float64
}

// Reset empties the field for a ball with a radius in m. spacing is the approximate angle in rad between
// touches; strips is the number of strips across the contact, an even number up to [MostStrips].
func (f *Field) Reset(memory ball.FilmMemory, radius, spacing float64, strips int) {
	f.memory, f.radius, f.perWidth, f.strips = memory, radius, radius/memory.ContactWidth, strips
	f.soaking = 0
	if memory.SoakIn > 0 {
		f.soaking = 1 / memory.SoakIn
	}
	f.mostCrossed = mostCrossed
	if q := memory.GiveBack; q > 0 {
		f.mostCrossed = int(min(mostCrossed, math.Ceil(portable.Log(forgotten)/portable.Log1p(-min(q, 1-forgotten)))))
	}
	f.touches, f.places = f.touches[:0], f.places[:0]
	f.near = nearTouches * spacing
	f.passes.reset()
	f.index.reset(spacing, memory.ContactWidth/radius)
}

// useIndex stops following the passes: from now on they are looked up in the index.
func (f *Field) useIndex() {
	f.passes.followed = false
	for i := range len(f.places) - 1 {
		f.enter(i)
	}
}

// enter adds the piece after place i to the index.
func (f *Field) enter(i int) {
	f.index.add(int32(i), &f.touches[i].Point, &f.places[i].along, &f.touches[i+1].Point, &f.places[i+1].along)
}

// forgotten is the share of a film, after later touches, below which it is neglected. mostCrossed is the
// number of later touches after which it is neglected in any case: a ball usually turns 16 times on a lane.
const (
	forgotten   = 1e-5
	mostCrossed = 256
)

// Touches returns the touches so far. The caller must not change the slice.
func (f *Field) Touches() []Touch { return f.touches }

// Offer returns the film in m that a lane with a film h in m lays on a ball, p h |v|/s; speed is |v|, sweep
// the speed of the contact over the ball, both in m/s.
func Offer(memory ball.FilmMemory, h, speed, sweep float64) float64 {
	if !(h > 0 && speed > 0) {
		return 0
	}
	return memory.PickUp * h * speed / max(sweep, slowest*speed)
}

// CleanGain returns the rate in m³/s at which a clean ball gains oil from a film of h in m on the lane, for the
// speeds of [Offer].
func CleanGain(memory ball.FilmMemory, h, speed, sweep float64) float64 {
	return memory.ContactWidth * sweep * min(Offer(memory, h, speed, sweep), h)
}

// Touches may lie farther apart than usual where the contact meets much the same film in each turn: beyond
// ManyTurns, in rad turned, and where the spin exceeds Upright times its horizontal part, by which alone the
// contact moves over the ball. The distance grows in proportion to either excess.
const (
	ManyTurns = 40 * 2 * math.Pi
	Upright   = 2
)

// nearTouches is the share of the spacing within which one touch replaces several, as where the ball begins
// to roll in very short steps. farTouches is the largest such angle in rad, and nearDistance the length on
// the lane in m that counts as a radian of turning.
const (
	nearTouches  = 0.25
	farTouches   = 0.26
	nearDistance = 0.2
)

// droppable reports whether the last touch can be dropped when t is appended: it lies close between its
// neighbours, and not at a jump.
func (f *Field) droppable(t *Touch) bool {
	n := len(f.touches)
	if n < 2 {
		return false
	}
	before, last := &f.touches[n-2], &f.touches[n-1]
	turned := t.Turned - before.Turned
	if turned > f.near {
		if turned > farTouches {
			return false
		}
		level := t.Sweep / f.radius * Upright
		if turned > f.near*max(1, t.Turned/ManyTurns)*max(1, math.Sqrt(dot(t.Spin, t.Spin))/level) {
			return false
		}
	}
	return math.Abs(t.X-before.X)+math.Abs(t.Y-before.Y) < nearDistance*f.near &&
		before.Time < last.Time && last.Time < t.Time
}

// Append adds a touch. Touches must come in the order of time; two at one instant mark a jump of the lane's
// film.
func (f *Field) Append(t *Touch) {
	if f.droppable(t) {
		f.touches, f.places = f.touches[:len(f.touches)-1], f.places[:len(f.places)-1]
		if !f.passes.followed {
			f.index.removeLast()
		}
	}
	n := len(f.places)
	f.touches = append(f.touches, *t)
	f.touches[n].offer = Offer(f.memory, t.Lane, t.Speed, t.Sweep)
	f.places = append(f.places, place{along: direction(t), turned: t.Turned})
	p := &f.places[n]
	// A circle narrower than the contact is replaced by the great circle.
	if t.Sweep > f.memory.ContactWidth*math.Sqrt(dot(t.Spin, t.Spin)) {
		p.axis = scale(f.radius/t.Sweep, t.Spin)
	} else {
		p.axis = cross(p.along, t.Point)
	}
	p.height = dot(p.axis, t.Point)
	if f.passes.followed {
		f.mark()
		if spin := f.memory.ContactWidth * leastCircle; t.Sweep*t.Sweep < spin*spin*dot(t.Spin, t.Spin) {
			f.useIndex()
		}
	} else if n > 0 {
		f.enter(n - 1)
	}
}

// direction returns the unit vector in which the contact moves over the ball, along p × ω. If it does not
// move, any direction at right angles to p is right.
func direction(t *Touch) Vector {
	d := cross(t.Point, t.Spin)
	size := dot(d, d)
	if size == 0 {
		p := t.Point
		if d = (Vector{p.Y, -p.X, 0}); d == (Vector{}) {
			d = Vector{1, 0, 0}
		}
		size = dot(d, d)
	}
	return scale(1/math.Sqrt(size), d)
}

func cross(a, b Vector) Vector {
	return Vector{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

func dot(a, b Vector) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func scale(s float64, a Vector) Vector { return Vector{s * a.X, s * a.Y, s * a.Z} }
