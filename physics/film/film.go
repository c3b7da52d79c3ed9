// Package film keeps the oil on a ball's surface: a field b(p) of film over the
// whole sphere, which the contact meets and changes wherever it has been before.
//
// The contact is a strip of width w across the direction in which it moves over the
// ball. It meets B, the mean over its width of the film as it finds it, and leaves at
// each point
//
//	b⁺ = min(b + p h |v|/s − q b, h + b),   s = max(R|ω_h|, |v|/5)
//
// with h the lane's film, p the pick-up and q the give-back. A point is passed over
// until the ball has turned by π since it was last touched. Between touches film soaks
// in, b ∝ exp(−Δt/τ).
//
// The field keeps no film but its history: where the contact went over the ball and what
// the lane offered there. The film at a point follows from the touches that covered it,
// in their order. So nothing blurs from touch to touch, and where friction does not
// depend on the film on the ball there is nothing to compute.
//
// All is SI; vectors are in axes fixed in the ball. The package knows no stepper: who
// tries a step meets the film at places along it and appends those that count.
package film

import (
	"math"

	"lanesim/ball"
	"lanesim/internal/portable"
)

// Vector is a vector in axes fixed in the ball: a direction of unit length, or in the
// unit that is said where it stands.
type Vector struct{ X, Y, Z float64 }

// slowest is the share of the ball's speed that stands in for a lower speed of the
// surface: it bounds what a ball that hardly turns takes up.
const slowest = 0.2

// untouched is the angle in rad by which the ball must have turned since a point was
// touched for it to be touched again.
const untouched = math.Pi

// Touch is the contact at one instant: first where it is, filled in by the caller, then
// what [Field.Meet] finds.
type Touch struct {
	Time   float64 // s
	Turned float64 // rad that the ball has turned since release
	X, Y   float64 // m, place on the lane
	Point  Vector  // unit vector from the ball's centre to the contact
	Spin   Vector  // rad/s
	Speed  float64 // m/s, of the ball over the lane
	Sweep  float64 // m/s, of the contact over the ball's surface
	Lane   float64 // m, film on the lane
	offer  float64 // m, what that lays on the ball

	Met   bool    // what follows is known
	Found float64 // m, mean film on the ball as the contact finds it
	Left  float64 // m, mean film on the ball behind it
	Taken float64 // m³/s, at which the ball's surface gains oil
}

// Field is the film on one ball. The zero value holds nothing; Reset makes it ready.
type Field struct {
	memory           ball.FilmMemory
	radius, perWidth float64 // m, and how many widths it is
	soaking          float64 // 1/s
	strips           int
	mostCrossed      int
	near             float64 // rad

	touches []Touch
	places  []place
	passes  passes
	index   index // where passes are not followed
	crossed []crossing
}

// place is where the contact was on the ball, as far as the search for crossings asks: a
// cache line of 64 bytes. The point and the rest are the touch's.
type place struct {
	along Vector // unit vector in which the contact moves

	// Near the point the contact moves on a circle about the spin: its axis over
	// the sine of the angle to it, and the circle's height along that.
	axis   Vector
	height float64
	turned float64
}

// Reset empties the field for a ball of a radius in m; spacing is about the angle in rad
// between touches, and strips, an even number up to [MostStrips], how many there are across
// the contact.
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

// search gives up following the passes: from here on they are looked up in the index.
func (f *Field) search() {
	f.passes.followed = false
	for i := range len(f.places) - 1 {
		f.enter(i)
	}
}

// enter puts the piece after place i into the index.
func (f *Field) enter(i int) {
	f.index.add(int32(i), &f.touches[i].Point, &f.places[i].along, &f.touches[i+1].Point, &f.places[i+1].along)
}

// forgotten is the share of a film that later touches have left of it when it counts no more, and
// mostCrossed the number of touches at which it counts no more in any case: a usual ball
// turns 16 times on a lane.
const (
	forgotten   = 1e-5
	mostCrossed = 256
)

// Touches are those so far. The slice is the field's own.
func (f *Field) Touches() []Touch { return f.touches }

// Offer is the film in m that a lane with a film h in m lays on a ball at a touch, p h |v|/s.
func Offer(memory ball.FilmMemory, h, speed, sweep float64) float64 {
	if !(h > 0 && speed > 0) {
		return 0
	}
	return memory.PickUp * h * speed / max(sweep, slowest*speed)
}

// Clean is the rate in m³/s at which a ball that brings no film gains oil from one of h in m
// on the lane.
func Clean(memory ball.FilmMemory, h, speed, sweep float64) float64 {
	return memory.ContactWidth * sweep * min(Offer(memory, h, speed, sweep), h)
}

// Touches may lie farther apart than usual where the contact meets much the same in each turn, and
// the more the farther: after ManyTurns, in rad, and where the whole spin is more than Upright times its
// part about the horizontal, by which alone the contact moves over the ball.
const (
	ManyTurns = 40 * 2 * math.Pi
	Upright   = 2
)

// nearTouches is the share of the spacing within which one touch stands for several, as where
// the ball comes to roll in very short steps; farTouches is the angle in rad to which that may grow, and
// nearDistance the length on the lane in m that counts for a radian of turning.
const (
	nearTouches  = 0.25
	farTouches   = 0.26
	nearDistance = 0.2
)

// between reports whether the last touch is needed no more once t is appended: it lies close
// between its neighbours, and not at a jump.
func (f *Field) between(t *Touch) bool {
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

// Append keeps a touch. Touches are appended in the order of time; two at one instant mark
// a jump of the lane's film.
func (f *Field) Append(t *Touch) {
	if f.between(t) {
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
	// A circle narrower than the contact is taken for the great one.
	if t.Sweep > f.memory.ContactWidth*math.Sqrt(dot(t.Spin, t.Spin)) {
		p.axis = scale(f.radius/t.Sweep, t.Spin)
	} else {
		p.axis = cross(p.along, t.Point)
	}
	p.height = dot(p.axis, t.Point)
	if f.passes.followed {
		f.mark()
		if spin := f.memory.ContactWidth * leastCircle; t.Sweep*t.Sweep < spin*spin*dot(t.Spin, t.Spin) {
			f.search()
		}
	} else if n > 0 {
		f.enter(n - 1)
	}
}

// direction is that in which the contact moves over the ball, p × ω; where it does not
// move any direction across p will do.
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
