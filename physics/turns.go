package physics

import (
	"math"

	"lanesim/physics/ode"
)

// This file finds where the path turns: hook start and breakpoint.

// motion returns the velocity of the sphere's centre.
func (t *Thrower) motion(at instant) (vx, vy float64) {
	p := &t.pieces[at.piece]
	r := t.m.radius
	if p.mode != sliding {
		return r * p.Component(iwy, at.time), -r * p.Component(iwx, at.time)
	}
	if !t.m.offCentre {
		return p.Component(ivx, at.time), p.Component(ivy, at.time)
	}
	t.enter(p)
	y := t.scratch[:]
	p.At(at.time, y)
	var q matrix
	advance(&q, vector{y[itx], y[ity], y[itz]}, &p.start)
	return t.m.centre(y, &q)
}

// heading is the direction of travel in rad, positive to the left.
func (t *Thrower) heading(at instant) float64 {
	vx, vy := t.motion(at)
	return math.Atan2(vy, vx)
}

// turnsTo finds the first time before limit at which the heading has turned to
// the given one, to the left or to the right.
func (t *Thrower) turnsTo(heading float64, left bool, limit instant) (instant, bool) {
	sin, cos := math.Sincos(heading)
	if !left {
		sin, cos = -sin, -cos
	}
	ahead := func(at instant) float64 {
		vx, vy := t.motion(at)
		return cos*vy - sin*vx
	}
	// A mass centre beside the sphere's sways the path within a step.
	looks := 1
	if t.m.offCentre {
		looks = swayLooks
	}
	before := ahead(instant{0, 0})
	for i := 0; i <= limit.piece; i++ {
		p := &t.pieces[i]
		end := p.End
		if i == limit.piece {
			end = limit.time
		}
		from := p.Start
		for k := 1; k <= looks; k++ {
			to := p.Start + (end-p.Start)*float64(k)/float64(looks)
			after := ahead(instant{i, to})
			if before < 0 && after >= 0 {
				if after == 0 || to == from {
					return instant{i, to}, true
				}
				at := ode.Root(func(u float64) float64 { return ahead(instant{i, u}) }, from, to, before, after)
				return instant{i, at}, true
			}
			before, from = after, to
		}
	}
	return instant{}, false
}

// swayLooks is the number of looks within a step, which turns the ball by half a
// turn at most as a rule, at a path that sways.
const swayLooks = 6

// breakpoint finds the point farthest to the right where the path turns back
// or, on a path that does not, the point of greatest curvature before limit.
func (t *Thrower) breakpoint(limit instant) (instant, BreakpointKind) {
	last := len(t.pieces) - 1
	lowest := min(t.component(instant{0, 0}, iy), t.component(instant{last, t.finalTime}, iy))
	best, found := instant{}, false
	_, before := t.motion(instant{0, 0})
	for i := range t.pieces {
		p := &t.pieces[i]
		_, after := t.motion(instant{i, p.End})
		if before < 0 && after >= 0 {
			at := instant{i, p.End}
			if after > 0 {
				at.time = ode.Root(func(u float64) float64 {
					_, v := t.motion(instant{i, u})
					return v
				}, p.Start, p.End, before, after)
			}
			if y := t.component(at, iy); y < lowest {
				best, found, lowest = at, true, y
			}
		}
		before = after
	}
	if found {
		return best, Turn
	}
	return t.sharpest(limit), Curvature
}

// curvature of the path of the sphere's centre in 1/m.
func (t *Thrower) curvature(at instant) float64 {
	p := &t.pieces[at.piece]
	t.enter(p)
	m, y := &t.m, t.scratch[:]
	p.At(at.time, y)
	m.rate(at.time, y, t.rates[:])
	ax, ay := t.rates[ivx], t.rates[ivy]
	if m.offCentre {
		var q matrix
		advance(&q, vector{y[itx], y[ity], y[itz]}, &m.start)
		offset := q.times(m.offset)
		omega := vector{y[iwx], y[iwy], y[iwz]}
		change := add(cross(vector{t.rates[iwx], t.rates[iwy], t.rates[iwz]}, offset), cross(omega, cross(omega, offset)))
		ax, ay = ax-change.x, ay-change.y
	}
	vx, vy := t.rates[ix], t.rates[iy]
	v2 := vx*vx + vy*vy
	return math.Abs(vx*ay-vy*ax) / (v2 * math.Sqrt(v2))
}

// sharpest finds the point of greatest curvature before limit: the best of a
// few samples of every piece, refined by golden-section search between its
// neighbours.
func (t *Thrower) sharpest(limit instant) instant {
	// Film that comes and goes, and a mass centre beside the sphere's, change the
	// curvature within a step.
	samples := 4
	if t.m.memory.remembers() || t.m.offCentre {
		samples = 16
	}
	best, most := instant{}, -1.0
	for i := 0; i <= limit.piece; i++ {
		p := &t.pieces[i]
		end := p.End
		if i == limit.piece {
			end = limit.time
		}
		for k := 0; k <= samples; k++ {
			at := instant{i, p.Start + (end-p.Start)*float64(k)/float64(samples)}
			if c := t.curvature(at); c > most {
				best, most = at, c
			}
		}
	}
	p := &t.pieces[best.piece]
	end := p.End
	if best.piece == limit.piece {
		end = limit.time
	}
	step := (end - p.Start) / float64(samples)
	a, b := max(p.Start, best.time-step), min(end, best.time+step)
	const golden = 0.6180339887498949 // (√5 − 1)/2
	// Curvature is flat at its maximum: a millionth of a second is finer than
	// it can be told.
	for b-a > 1e-6 {
		x1, x2 := b-golden*(b-a), a+golden*(b-a)
		if t.curvature(instant{best.piece, x1}) >= t.curvature(instant{best.piece, x2}) {
			b = x2
		} else {
			a = x1
		}
	}
	if at := (instant{best.piece, (a + b) / 2}); t.curvature(at) > most {
		return at
	}
	return best
}
