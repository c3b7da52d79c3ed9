package physics

import (
	"math"

	"lanesim/physics/film"
)

// This file connects the steppers with the film on the ball: the film that the contact finds in a state, and
// the touches of a step.

// touchAngle is the turning in rad between touches at the default tolerance. The spacing follows the fourth
// root of the tolerance.
const touchAngle = 0.075

// evenTouches is the factor by which evenly spaced nodes are closer: random shots are then about as accurate
// as with strides that are halved. A remainder of at most longerStride of a stride lengthens the strides
// instead of adding one.
const (
	evenTouches  = 0.85
	longerStride = 0.25
)

// narrowTouches is the largest spacing as a share of the angle that the contact's width spans at the default
// tolerance: a pass that crosses an earlier one at right angles meets its film only over the width. It
// follows the square root of the tolerance.
const narrowTouches = 0.5

// frictionStep is the change of friction between nodes times the angle in rad between them above which
// strides are halved, at the default tolerance. It follows the power 3/4 of the tolerance.
const frictionStep = 3e-4

// coarseStrips is the number of strips across the contact at the tolerances of studies: over 400 random shots
// the median, 90 % and 99 % quantiles of the error are the same as with six and with ten strips.
const coarseStrips = 4

// coarsestTouches is the widest spacing of touches in rad: two dozen in a turn.
const coarsestTouches = 0.26

// touchDistance is the length on the lane in m that gets as many touches as a radian of turning: a ball that
// hardly turns meets other oil long before it has turned by the angle. Above the default tolerance it follows
// the fourth root of the tolerance, up to farthestTouches times the length; beyond that hardly any time is
// saved.
const (
	touchDistance   = 0.2
	farthestTouches = 2.0
)

// leastTouchDistance is the least distance in m on the lane between touches, however narrow the contact.
const leastTouchDistance = 3e-3

// steadyTouches is the longest time in s between touches at the widest spacing, for a ball whose spin
// friction changes by 1 rad/s². Between touches the contact is taken to move on a circle about the spin: a
// change α of the spin moves it aside by R α/8 times the square of the time.
const steadyTouches = 0.12

// spacing returns the angle in rad between touches in a state.
func (t *Thrower) spacing(y []float64) float64 {
	spacing := t.touchSpacing
	if level := y[iwx]*y[iwx] + y[iwy]*y[iwy]; (film.Upright*film.Upright-1)*level < y[iwz]*y[iwz] {
		spacing = min(spacing*math.Sqrt(1+y[iwz]*y[iwz]/level)/film.Upright, t.widestSpacing)
	}
	return min(spacing*max(1, y[iTurned]/film.ManyTurns), coarsestTouches)
}

// apart returns the given time between touches in s, or a shorter one if friction would bend the contact's
// path over the ball too much.
func (t *Thrower) apart(time, mu float64) float64 {
	return min(time, steadyTouches*t.touchSpacing/coarsestTouches/math.Sqrt(t.m.spinUp(mu)))
}

// remembers reports whether film that the ball carries acts on its friction: film memory is on and the lane
// is oiled.
func (m *machine) remembers() bool { return m.oil != nil && !m.memory.Off && m.memory.PickUp > 0 }

// exchange finds the film in the gap and, for a ball without film memory, the rate at which the lane gains
// oil.
func (m *machine) exchange(t float64, y []float64, s *motion, dydt []float64) {
	m.contact.gap, m.contact.own, dydt[iLane] = 0, 0, 0
	if m.oil == nil {
		return
	}
	var touch film.Touch
	m.place(&touch, s, t, y[iTurned], y[ix], y[iy])
	touch.Lane = m.laneFilm(touch.X, touch.Y)
	m.contact.gap = touch.Lane
	if !m.remembers() {
		dydt[iLane] = -film.CleanGain(m.memory, touch.Lane, touch.Speed, touch.Sweep)
		return
	}
	if sameTouch(&touch, &m.touch) {
		copyFound(&touch, &m.touch)
	} else {
		m.film.Meet(&touch)
	}
	m.touch = touch
	m.contact.own = touch.Found
	m.contact.gap += touch.Found
}

func filmVector(v vector) film.Vector { return film.Vector{X: v.x, Y: v.y, Z: v.z} }

// meet finds the film at a touch and returns the friction there. If friction on the lane's own film is that
// of a full film, the ball's film does not matter and is not looked up.
func (m *machine) meet(t *film.Touch) (mu float64) {
	t.Lane, t.Met = m.laneFilm(t.X, t.Y), false
	if mu = m.law.coefficient(t.Lane, m.stretch); mu <= m.filmless {
		return mu
	}
	m.film.Meet(t)
	return m.law.coefficient(t.Lane+t.Found, m.stretch)
}

// meetOnce is meet, but takes the result of the last touch looked up if it was the same.
func (m *machine) meetOnce(t, last *film.Touch) (mu float64) {
	if t.Lane = m.laneFilm(t.X, t.Y); sameTouch(t, last) {
		return m.meetAgain(t, last)
	}
	return m.meet(t)
}

// sameTouch reports whether before is the same touch and has been looked up.
func sameTouch(t, before *film.Touch) bool {
	return before.Met && before.Time == t.Time && before.Turned == t.Turned && before.Lane == t.Lane && before.Point == t.Point && before.Spin == t.Spin
}

// copyFound copies to a touch the film that another one found.
func copyFound(t, near *film.Touch) {
	t.Met, t.Found, t.Left, t.Taken = true, near.Found, near.Left, near.Taken
}

// meetAgain is meet for a touch at nearly the same place as one that may have been looked up.
func (m *machine) meetAgain(t, near *film.Touch) (mu float64) {
	if !near.Met {
		return m.meet(t)
	}
	t.Lane = m.laneFilm(t.X, t.Y)
	copyFound(t, near)
	return m.law.coefficient(t.Lane+t.Found, m.stretch)
}

// touchIn fills in place and motion of the contact in a state.
func (m *machine) touchIn(touch *film.Touch, t float64, y []float64) {
	m.motionIn(&m.motion, y)
	m.place(touch, &m.motion, t, y[iTurned], y[ix], y[iy])
}

// place fills in place and motion of the contact, on the lane and on the ball.
func (m *machine) place(touch *film.Touch, s *motion, time, turned, x, y float64) {
	touch.Time, touch.Turned, touch.X, touch.Y, touch.Met = time, turned, x, y, false
	touch.Point, touch.Spin = filmVector(scale(-1, s.q[2])), filmVector(s.spin)
	touch.Speed, touch.Sweep = math.Sqrt(s.cx*s.cx+s.cy*s.cy), m.radius*math.Sqrt(s.wx*s.wx+s.wy*s.wy)
}

// touchNow looks the film up in the present state and appends the touch.
func (m *machine) touchNow(t float64, y []float64) {
	last := m.touch
	m.touchIn(&m.touch, t, y)
	m.meetOnce(&m.touch, &last)
	m.film.Append(&m.touch)
}
