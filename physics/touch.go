package physics

import (
	"math"

	"lanesim/physics/film"
)

// This file is where the engine and the film on the ball meet: what the contact finds in
// a state, and the touches that a step leaves on the ball.

// touchAngle is the angle in rad by which the ball turns between touches at the default
// tolerance; the spacing follows the fourth root of the tolerance.
const touchAngle = 0.075

// evenTouches is the share of that spacing where nodes are even: random shots are then about as near as with
// strides that are halved. Strides that would end with a share of at most longerStride are made longer instead.
const (
	evenTouches  = 0.85
	longerStride = 0.25
)

// narrowTouches is that spacing as a share of the angle that the contact's width spans: a
// pass that crosses an earlier one squarely meets its film for no more than that. It
// follows the square root of the tolerance.
const narrowTouches = 0.5

// frictionStep is the change of friction times the angle in rad between nodes above which
// more are taken at the default tolerance; it follows its power 3/4.
const frictionStep = 3e-4

// coarseStrips is into how many strips the contact is cut at the tolerances of studies: of 400 random shots
// half, 90 % and 99 % are as near as with six and with ten.
const coarseStrips = 4

// coarsestTouches is the widest spacing of touches in rad: two dozen a turn.
const coarsestTouches = 0.26

// touchDistance is the length on the lane, in m, that asks for as many touches as a radian of
// turning: a ball that hardly turns meets other oil long before it has turned by the
// angle. Above the default tolerance it follows the fourth root, up to farthestTouches times as far:
// farther apart takes hardly less time.
const (
	touchDistance   = 0.2
	farthestTouches = 2.0
)

// leastTouchDistance is a length in m on the lane that asks for no more than one touch, however
// narrow the contact.
const leastTouchDistance = 3e-3

// steadyTouches is the longest time in s between the coarsest touches, over the root of a
// second by rad, of a ball whose spin friction changes by 1 rad/s². In between the contact
// is taken to move on a circle about the spin: a change α of the spin moves it aside by
// R α/8 times the square of the time.
const steadyTouches = 0.12

// spacing is the angle in rad between touches in a state.
func (t *Thrower) spacing(y []float64) float64 {
	spacing := t.touchSpacing
	if level := y[iwx]*y[iwx] + y[iwy]*y[iwy]; (film.Upright*film.Upright-1)*level < y[iwz]*y[iwz] {
		spacing = min(spacing*math.Sqrt(1+y[iwz]*y[iwz]/level)/film.Upright, t.widestSpacing)
	}
	return min(spacing*max(1, y[iTurned]/film.ManyTurns), coarsestTouches)
}

// apart returns the time between touches, of the given one, at which friction does not
// yet bend the contact's path over the ball much.
func (t *Thrower) apart(time, mu float64) float64 {
	return min(time, steadyTouches*t.touchSpacing/coarsestTouches/math.Sqrt(t.m.spinUp(mu)))
}

// remembers reports whether the ball meets the film that it carries.
func (m *machine) remembers() bool { return m.oil != nil && !m.memory.Off && m.memory.PickUp > 0 }

// exchange notes the film in the gap and, for a ball that remembers none, fills in the
// rate at which the lane gains oil.
func (m *machine) exchange(t float64, y []float64, s *motion, dydt []float64) {
	m.now.gap, m.now.own, dydt[iLane] = 0, 0, 0
	if m.oil == nil {
		return
	}
	var touch film.Touch
	m.place(&touch, s, t, y[iTurned], y[ix], y[iy])
	touch.Lane = m.laneFilm(touch.X, touch.Y)
	m.now.gap = touch.Lane
	if !m.remembers() {
		dydt[iLane] = -film.Clean(m.memory, touch.Lane, touch.Speed, touch.Sweep)
		return
	}
	if sameTouch(&touch, &m.touch) {
		findAs(&touch, &m.touch)
	} else {
		m.film.Meet(&touch)
	}
	m.touch = touch
	m.now.own = touch.Found
	m.now.gap += touch.Found
}

func inBall(v vector) film.Vector { return film.Vector{X: v.x, Y: v.y, Z: v.z} }

// meet finds what a touch meets and the friction there. Where friction on the lane's own
// film is no more than on a full one the ball's film does not matter and is not looked up.
func (m *machine) meet(t *film.Touch) (mu float64) {
	t.Lane, t.Met = m.laneFilm(t.X, t.Y), false
	if mu = m.law.coefficient(t.Lane, m.stretch); mu <= m.filmless {
		return mu
	}
	m.film.Meet(t)
	return m.law.coefficient(t.Lane+t.Found, m.stretch)
}

// meetOnce is meet, but where the last touch looked up was the same.
func (m *machine) meetOnce(t, last *film.Touch) (mu float64) {
	if t.Lane = m.laneFilm(t.X, t.Y); sameTouch(t, last) {
		return m.meetAgain(t, last)
	}
	return m.meet(t)
}

// sameTouch reports that a touch has been looked up before.
func sameTouch(t, before *film.Touch) bool {
	return before.Met && before.Time == t.Time && before.Turned == t.Turned && before.Lane == t.Lane && before.Point == t.Point && before.Spin == t.Spin
}

// findAs fills in of a touch what another has found.
func findAs(t, near *film.Touch) {
	t.Met, t.Found, t.Left, t.Taken = true, near.Found, near.Left, near.Taken
}

// meetAgain is meet at nearly the same place as a touch that has been looked up.
func (m *machine) meetAgain(t, near *film.Touch) (mu float64) {
	if !near.Met {
		return m.meet(t)
	}
	t.Lane = m.laneFilm(t.X, t.Y)
	findAs(t, near)
	return m.law.coefficient(t.Lane+t.Found, m.stretch)
}

// touchIn fills in where the ball touches the lane in a state, and how it moves there.
func (m *machine) touchIn(touch *film.Touch, t float64, y []float64) {
	m.motionIn(&m.motion, y)
	m.place(touch, &m.motion, t, y[iTurned], y[ix], y[iy])
}

// place fills in where the ball touches the lane.
func (m *machine) place(touch *film.Touch, s *motion, time, turned, x, y float64) {
	touch.Time, touch.Turned, touch.X, touch.Y, touch.Met = time, turned, x, y, false
	touch.Point, touch.Spin = inBall(scale(-1, s.q[2])), inBall(s.spin)
	touch.Speed, touch.Sweep = math.Sqrt(s.cx*s.cx+s.cy*s.cy), m.radius*math.Sqrt(s.wx*s.wx+s.wy*s.wy)
}

// touchNow leaves a touch in the present state on the ball.
func (m *machine) touchNow(t float64, y []float64) {
	last := m.touch
	m.touchIn(&m.touch, t, y)
	m.meetOnce(&m.touch, &last)
	m.film.Append(&m.touch)
}
