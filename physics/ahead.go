package physics

import (
	"math"

	"lanesim/physics/ode"
)

// The film on the ball comes and goes several times in a turn, by far faster
// than the motion changes. But what a step of less than half a turn meets was
// laid before it began. So the film is looked up before the step is taken: a
// scheme of second order marches through the step in short strides and finds
// the friction at each. With Coulomb's law only the impulse ∫μ g û dt acts, û
// turns slowly, and a polynomial with the same moments as μ,
//
//	∫ (μ − p) zʲ dt = 0,   j = 0 … degree, z from −1 to 1 along the step,
//
// stands in for it: the step then integrates smooth rates.

// aheadDegree is that of the polynomial in place of the friction: the error
// estimate of the 5(4) pair does not see cubics.
const aheadDegree = 3

// straying is how far, in tolerances, the march may end from the contact that
// the step finds, in rad, for what it met to count: a thousandth of the
// contact's width moves the friction by less than one in a hundred.
const (
	straying     = 20.0
	mostStraying = 3e-4
)

// mostPasses bounds how often a step is tried again with the film looked up
// along the last try.
const mostPasses = 4

// ahead is what is known of the friction along the step that is being taken.
type ahead struct {
	known      bool
	start, per float64 // z = (t − start) per − 1
	mu         [aheadDegree + 1]float64
	nodes      []node
	jumps      []jump
	first      node // of the step
	carried    bool // first is known: it was the last of the step before
	pass       int
	projectors []*projector // by the number of strides
}

// node is where the march met the lane.
type node struct {
	sample
	mu           float64
	met          pass
	speed, sweep float64 // m/s
}

// jump is a place between two nodes at which the film on the ball jumps, since
// it does so on the track: at the pattern's end the film left does.
type jump struct {
	node          int // behind it
	before, after sample
	mu            [2]float64 // friction before and after
}

// at returns the friction at time t of the step.
func (a *ahead) at(t float64) float64 {
	z := (t-a.start)*a.per - 1
	return a.mu[0] + z*(a.mu[1]+z*(a.mu[2]+z*a.mu[3]))
}

// lookAhead finds the friction along the step from at to at + h.
func (t *Thrower) lookAhead(at, h float64, y, dydt []float64) bool {
	m := &t.m
	a := &m.ahead
	if m.mode != sliding || !m.memory.remembers() {
		a.known, a.carried = false, false
		a.nodes = a.nodes[:0]
		if m.mode != sliding && m.memory.remembers() && t.coarse && t.holdsFast(y) {
			// Held whatever the film, a rolling ball feels friction through its
			// pivot alone: what it has now will do for a step.
			a.known, a.start, a.per = true, at, 0
			a.mu = [aheadDegree + 1]float64{m.now.mu}
		}
		return false
	}
	const noMiddle = -1
	t.march(at, h, t.strides(h, dydt), noMiddle, 0, y)
	a.fit(at, h)
	a.known, a.pass = true, 0
	return true
}

// march goes through the step in n strides by the leapfrog scheme: kicks by
// friction at the nodes and free flight between. It leaves the flight at the end,
// that at node middle in midway, and the integrals along the way in sums. Nodes
// to skip make strides longer; they are neither the middle nor the last.
func (t *Thrower) march(at, h float64, n, middle int, skip nodeSet, y []float64) {
	m, a, f := &t.m, &t.m.ahead, &t.flight
	for len(a.nodes) <= n {
		a.nodes = append(a.nodes, node{})
	}
	m.depart(f, y)
	t.sums = totals{lightest: math.Inf(1)}
	var p push
	stride, count := h/float64(n), 0
	for k, behind := 0, 0.0; ; count++ {
		s := &a.nodes[count]
		m.observe(f)
		if k == 0 && a.carried {
			*s = a.first
		} else {
			s.time, s.turned, s.x, s.y, s.point = at+float64(k)*stride, f.turned, f.x, f.y, scale(-1, f.e3)
			m.look(s, math.Sqrt(f.cx*f.cx+f.cy*f.cy), m.radius*math.Sqrt(f.wx*f.wx+f.wy*f.wy))
		}
		next, ahead := k+1, 0.0
		if k < n {
			for skip.has(next) {
				next++
			}
			ahead = float64(next-k) * stride
		}
		m.pushedFor(&p, f, s.mu, (behind+ahead)/2)
		t.sums.add(&p, (behind+ahead)/2)
		f.kick(&p, behind/2)
		s.sample.speed = cross(s.point, f.spin)
		if k == n {
			s.time = at + h
			break
		}
		if k == middle {
			m.observe(f)
			t.midway = *f
		}
		f.kick(&p, ahead/2)
		m.hop(f, ahead)
		k, behind = next, ahead
	}
	a.nodes = a.nodes[:count+1]
	t.findJumps()
}

// nodeSet is a set of the first 64 nodes of a march.
type nodeSet uint64

func (s nodeSet) has(k int) bool { return k < 64 && s>>k&1 != 0 }

// strides is the number of strides in which a step of length h is marched through.
func (t *Thrower) strides(h float64, dydt []float64) int {
	return t.samples(h*dydt[iTurned], h*math.Sqrt(dydt[ix]*dydt[ix]+dydt[iy]*dydt[iy]))
}

// look fills in what a node's contact meets.
func (m *machine) look(s *node, speed, sweep float64) {
	s.mu = m.law.coefficient(m.meet(&s.sample, &s.met, speed, sweep), m.stretch)
	s.speed, s.sweep = speed, sweep
}

// findJumps looks for jumps of the film between the nodes.
func (t *Thrower) findJumps() {
	m := &t.m
	f, a := &m.memory, &m.ahead
	a.jumps = a.jumps[:0]
	if len(f.jumps) == 0 {
		return
	}
	for k := 1; k < len(a.nodes); k++ {
		from, to := &a.nodes[k-1], &a.nodes[k]
		if !(from.met.overlap > 0) || !(to.met.overlap > 0) {
			continue
		}
		for _, i := range f.jumps {
			when := f.trace[i].time
			if !(from.met.when < when && when < to.met.when) || to.met.sample-from.met.sample > mostBetween {
				continue
			}
			share := (when - from.met.when) / (to.met.when - from.met.when)
			j := jump{node: k, before: within(&from.sample, &to.sample, share)}
			j.after = j.before
			met := pass{kept: from.met.kept + share*(to.met.kept-from.met.kept), overlap: from.met.overlap + share*(to.met.overlap-from.met.overlap)}
			h := m.laneFilm(j.before.x, j.before.y)
			speed, sweep := from.speed+share*(to.speed-from.speed), from.sweep+share*(to.sweep-from.sweep)
			met.share(f.trace[i].left)
			j.mu[0] = m.law.coefficient(h+met.own, m.stretch)
			m.leave(&j.before, h, &met, speed, sweep)
			met.share(f.trace[i+1].left)
			j.mu[1] = m.law.coefficient(h+met.own, m.stretch)
			m.leave(&j.after, h, &met, speed, sweep)
			a.jumps = append(a.jumps, j)
		}
	}
}

// mostBetween is the number of samples of the trace that two neighbouring nodes
// may pass: more is another place on the track.
const mostBetween = 16

// within interpolates between two samples: where and when, not the film.
func within(from, to *sample, u float64) sample {
	h := to.time - from.time
	mix := func(a, b float64) float64 { return a + u*(b-a) }
	// The cubic that points and rates define, back on the sphere.
	u2, u3 := u*u, u*u*u
	p := scale(1-3*u2+2*u3, from.point)
	p = add(p, scale(3*u2-2*u3, to.point))
	p = add(p, scale(h*(u-2*u2+u3), from.speed))
	p = add(p, scale(h*(u3-u2), to.speed))
	p = scale(1/norm(p), p)
	return sample{
		trail{time: mix(from.time, to.time), turned: mix(from.turned, to.turned), point: p, speed: add(scale(1-u, from.speed), scale(u, to.speed))},
		spot{x: mix(from.x, to.x), y: mix(from.y, to.y)},
	}
}

// lookAgain compares where the march ended with the contact at the end of the
// step and, where they differ too much, looks the film up along the step.
func (t *Thrower) lookAgain(s *ode.Segment, y []float64) bool {
	m := &t.m
	a := &m.ahead
	if !a.known || len(a.nodes) == 0 {
		return false
	}
	n := len(a.nodes) - 1
	last := &a.nodes[n]
	if a.pass == 0 {
		var q matrix
		advance(&q, vector{y[itx], y[ity], y[itz]}, &m.start)
		off := add(scale(-1, q[2]), scale(-1, last.point))
		limit := min(straying*t.control.Absolute, mostStraying)
		if dot(off, off) <= limit*limit {
			// Errors of the march grow with the square of the time.
			for k := 1; k <= n; k++ {
				share := float64(k) / float64(n)
				p := &a.nodes[k].point
				*p = add(*p, scale(share*share, off))
			}
			for k := range a.jumps {
				j := &a.jumps[k]
				share := (j.before.time - s.Start) / s.Step
				p := add(j.before.point, scale(share*share, off))
				j.before.point, j.after.point = p, p
			}
			last.x, last.y, last.turned = y[ix], y[iy], y[iTurned]
			return false
		}
	}
	if a.pass == mostPasses {
		return false
	}
	a.pass++
	for k := 1; k <= n; k++ {
		at, state := a.nodes[k].time, y
		if k < n {
			state = t.scratch[:]
			s.Leading(at, state[:iWork])
		}
		next := &a.nodes[k]
		s, speed, sweep := m.contact(at, state)
		next.sample = s
		m.look(next, speed, sweep)
	}
	t.findJumps()
	before := a.mu
	a.fit(s.Start, s.Step)
	change := 0.0
	for j := range before {
		change = max(change, math.Abs(a.mu[j]-before[j]))
	}
	return change*m.g*s.Step > t.control.Absolute
}

// kept appends what the march met to the trace, up to the end of the step, and
// reports whether there was a march.
func (t *Thrower) kept(s *ode.Segment, y []float64) bool {
	a := &t.m.ahead
	if !a.known || len(a.nodes) == 0 {
		return false
	}
	if t.record(s.End); !a.carried {
		end := t.m.touch(s.End, y)
		t.m.memory.append(&end)
	}
	return true
}

// record appends what the march met up to a time to the trace. Where that is all,
// the last node is carried over to the next step.
func (t *Thrower) record(end float64) {
	a := &t.m.ahead
	last := &a.nodes[len(a.nodes)-1]
	if a.carried = end >= last.time; a.carried {
		a.first = *last
	}
	f, jumps := &t.m.memory, a.jumps
	for k := 1; k < len(a.nodes); k++ {
		for ; len(jumps) > 0 && jumps[0].node == k && jumps[0].before.time <= end; jumps = jumps[1:] {
			f.append(&jumps[0].before)
			f.append(&jumps[0].after)
		}
		if a.nodes[k].time > end {
			return
		}
		f.append(&a.nodes[k].sample)
	}
}

// projector finds the polynomial with the same moments as a function that is
// known at even strides, by the trapezoidal rule.
type projector struct{ rows [aheadDegree + 1][]float64 }

// fit finds the polynomial in place of the nodes' friction.
func (a *ahead) fit(at, h float64) {
	a.start, a.per = at, 2/h
	n := len(a.nodes) - 1
	for len(a.projectors) <= n {
		a.projectors = append(a.projectors, nil)
	}
	if a.projectors[n] == nil {
		a.projectors[n] = newProjector(n)
	}
	// From the first node's value on, so that an even friction stays so to the
	// last digit.
	base := a.nodes[0].mu
	a.mu = [aheadDegree + 1]float64{}
	for k := range a.nodes {
		above := a.nodes[k].mu - base
		for j := range a.mu {
			a.mu[j] += a.projectors[n].rows[j][k] * above
		}
	}
	a.mu[0] += base
	// What the trapezoidal rule misses of the jumps, by the moments with
	// Legendre's polynomials; on few strides the higher would swing far beyond the
	// friction.
	for i := range a.jumps {
		j := &a.jumps[i]
		from, to := &a.nodes[j.node-1], &a.nodes[j.node]
		share := (j.before.time - from.time) / (to.time - from.time)
		missed := (share*(j.mu[0]-to.mu) + (1-share)*(j.mu[1]-from.mu)) / float64(2*n)
		z := (j.before.time-at)*a.per - 1
		a.mu[0] += missed
		a.mu[1] += 3 * z * missed
		if n >= 2*aheadDegree {
			p2, p3 := (3*z*z-1)/2, z*(5*z*z-3)/2
			a.mu[0] -= missed * 5. / 2 * p2
			a.mu[1] -= missed * 7 * 3. / 2 * p3
			a.mu[2] += missed * 5 * 3. / 2 * p2
			a.mu[3] += missed * 7 * 5. / 2 * p3
		}
	}
}

// newProjector builds the one for n strides from the polynomials that are
// orthogonal under the trapezoidal rule, by Stieltjes' recurrence.
func newProjector(n int) *projector {
	p := &projector{}
	for j := range p.rows {
		p.rows[j] = make([]float64, n+1)
	}
	z, weight := make([]float64, n+1), make([]float64, n+1)
	for k := range z {
		z[k], weight[k] = 2*float64(k)/float64(n)-1, 1
	}
	weight[0], weight[n] = 0.5, 0.5
	var powers, powersBefore [aheadDegree + 1]float64 // of the present polynomial and the one before
	values, before := make([]float64, n+1), make([]float64, n+1)
	powers[0] = 1
	for k := range values {
		values[k] = 1
	}
	sizeBefore := 0.0
	for degree := 0; degree <= min(aheadDegree, n); degree++ {
		size, middle := 0.0, 0.0
		for k, v := range values {
			size += weight[k] * v * v
			middle += weight[k] * z[k] * v * v
		}
		for j := range p.rows {
			for k, v := range values {
				p.rows[j][k] += powers[j] * weight[k] * v / size
			}
		}
		// P₊ = (z − ⟨zP,P⟩/⟨P,P⟩) P − ⟨P,P⟩/⟨P₋,P₋⟩ P₋
		shift, back := middle/size, 0.0
		if degree > 0 {
			back = size / sizeBefore
		}
		var next [aheadDegree + 1]float64
		for j := range next {
			next[j] = -shift*powers[j] - back*powersBefore[j]
			if j > 0 {
				next[j] += powers[j-1]
			}
		}
		for k := range values {
			values[k], before[k] = (z[k]-shift)*values[k]-back*before[k], values[k]
		}
		powersBefore, powers, sizeBefore = powers, next, size
	}
	return p
}
