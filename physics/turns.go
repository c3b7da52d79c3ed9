package physics

import (
	"math"

	"lanesim/internal/root"
	"lanesim/lane"
)

// This file finds where the path turns: hook start and breakpoint.

// velocity returns the velocity of the sphere's centre in m/s.
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

// swaySamples is the number of samples in a step, usually of half a turn at most, on a path that sways
// because the mass centre is aside.
const swaySamples = 6

// rises calls found with each time before limit at which a function of the motion rises through zero, until
// found returns false.
func (t *Thrower) rises(value func(instant) float64, limit instant, found func(instant) bool) {
	looks := 1
	if t.m.offCentre {
		looks = swaySamples
	}
	before := value(instant{0, 0})
	for i := 0; i <= limit.piece; i++ {
		p := &t.pieces[i]
		end := p.End
		if i == limit.piece {
			end = limit.time
		}
		from := p.Start
		for k := 1; k <= looks; k++ {
			to := p.Start + (end-p.Start)*float64(k)/float64(looks)
			after := value(instant{i, to})
			if before < 0 && after >= 0 {
				at := instant{i, to}
				if after > 0 && to > from {
					at.time = root.Find(func(u float64) float64 { return value(instant{i, u}) }, from, to, before, after, 0)
				}
				if !found(at) {
					return
				}
			}
			before, from = after, to
		}
	}
}

// turnsBy finds the first time before limit at which the heading differs from the launch heading by an angle
// in rad, below π, to either side.
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

// breakpoint finds the point farthest toward the ball-side gutter (here the right one, for a backup ball the
// left one), if the path turns back there at least leastBreak outside the laydown.
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

// leastBreak is the least distance in m of a breakpoint outside the laydown.
const leastBreak = 0.25 * lane.BoardWidth
