package physics

import (
	"math"

	"lanesim/internal/root"
	"lanesim/lane"
)

// This file finds where the path turns: hook start and breakpoint.

// velocity is that of the sphere's centre.
func (t *Thrower) velocity(at instant) (vx, vy float64) {
	p := &t.pieces[at.piece]
	r := t.m.radius
	if p.mode != sliding {
		return r * p.Component(iwy, at.time), -r * p.Component(iwx, at.time)
	}
	if !t.m.offCentre {
		return p.Component(ivx, at.time), p.Component(ivy, at.time)
	}
	t.resume(p)
	y := t.scratch[:]
	p.At(at.time, y)
	var s motion
	t.m.motionIn(&s, y)
	return s.cx, s.cy
}

// swayLooks is the number of looks within a step, which turns the ball by half a
// turn at most as a rule, at a path that a mass centre beside the sphere's sways.
const swayLooks = 6

// rises calls found with each time before limit at which a function of the motion
// becomes zero or more, until found returns false.
func (t *Thrower) rises(of func(instant) float64, limit instant, found func(instant) bool) {
	looks := 1
	if t.m.offCentre {
		looks = swayLooks
	}
	before := of(instant{0, 0})
	for i := 0; i <= limit.piece; i++ {
		p := &t.pieces[i]
		end := p.End
		if i == limit.piece {
			end = limit.time
		}
		from := p.Start
		for k := 1; k <= looks; k++ {
			to := p.Start + (end-p.Start)*float64(k)/float64(looks)
			after := of(instant{i, to})
			if before < 0 && after >= 0 {
				at := instant{i, to}
				if after > 0 && to > from {
					at.time = root.Find(func(u float64) float64 { return of(instant{i, u}) }, from, to, before, after, 0)
				}
				if !found(at) {
					return
				}
			}
			before, from = after, to
		}
	}
}

// turnsBy finds the first time before limit at which the heading is an angle in
// rad, below π, away from the launch heading, to either side.
func (t *Thrower) turnsBy(angle float64, limit instant) (first instant, ok bool) {
	ux, uy := t.velocity(instant{0, 0})
	sin, cos := math.Sincos(angle)
	// |v| |v₀| sin(|φ| − angle) with φ the angle from v₀ to v.
	beyond := func(at instant) float64 {
		vx, vy := t.velocity(at)
		return math.Abs(ux*vy-uy*vx)*cos - (ux*vx+uy*vy)*sin
	}
	t.rises(beyond, limit, func(at instant) bool {
		first, ok = at, true
		return false
	})
	return first, ok
}

// breakpoint finds the point farthest toward the bowler's ball-side gutter, the
// right one here and the left one for a backup ball, if the path turns back there, at
// least leastBreak outside the laydown.
func (t *Thrower) breakpoint(backup bool, end instant) (farthest instant, ok bool) {
	side := 1.0
	if backup {
		side = -1
	}
	lowest := min(side*t.component(instant{0, 0}, iy)-leastBreak, side*t.component(end, iy))
	inward := func(at instant) float64 {
		_, vy := t.velocity(at)
		return side * vy
	}
	t.rises(inward, end, func(at instant) bool {
		if y := side * t.component(at, iy); y < lowest {
			farthest, ok, lowest = at, true, y
		}
		return true
	})
	return farthest, ok
}

// leastBreak is by how much, in m, a breakpoint lies outside the laydown at least.
const leastBreak = 0.25 * lane.BoardWidth
