package physics

import (
	"math"
	"sync"

	"lanesim/internal/root"
	"lanesim/lane"
	"lanesim/physics/film"
	"lanesim/physics/ode"
)

// At the tolerances of studies collocation moves a rolling ball. With r the arm from the contact to the mass
// centre, its angular momentum about the contact
//
//	K = I ω + m r × (ω × r)
//
// changes only by the lane's slope, by pivot friction and, with the mass centre aside, by the weight. So ω
// follows from the orientation and K, and a step solves for the rotation vector ψ from its start, in body
// axes,
//
//	ψ' = ω + ½ ψ×ω + c ψ×(ψ×ω),   ω = (D − m r rᵀ)⁻¹ K,   D = I + m r²
//
// by collocation at Gauss's nodes, of order 8. The spin changes by no more than the relative difference of
// the moments, and each iteration over the nodes reduces the error by that factor. In the sweeps of the
// examples this saves a quarter to a third of a shot's time.

const (
	// collocationTurn is the largest turning of the ball in one step, in rad.
	collocationTurn = 2.95

	// coarsestCollocation is the tolerance at which one iteration over the nodes is enough. Each decade below
	// needs one more, and so does a mass centre aside.
	coarsestCollocation = 1e-3

	// gripShare is the share of the available friction. If rolling needs less at all nodes, the ball is taken
	// to grip between them as well. Film between two nodes, up to a radian apart, then goes unnoticed.
	gripShare = 0.9

	// nearlyUpright is the spin in rad/s about the vertical below which it may reach zero within a step.
	nearlyUpright = 0.05
)

// rollingStep is the collocation step that is being tried.
type rollingStep struct {
	pivot float64 // m, torque about the vertical per unit of normal force

	// At the end and in the middle: ψ and K, and the integrals up to there.
	rotation, middle       vector
	momentum, halfMomentum vector
	displacement           vector // m down-lane and left, and rad of turning
	halfDisplacement       vector
	work, flare            float64

	nodes   [4]configuration
	touches [4]film.Touch

	pull float64 // largest force of friction at a node, as a share of the normal force

	// doubtful is set if at a node the normal force is small or the ball hardly turns about the vertical.
	doubtful bool
}

// collocate moves a rolling ball from time now to the next edge or to where it breaks away, and returns the
// time and the event. The event is nothing where the pair has to continue.
func (t *Thrower) collocate(now float64, y []float64) (float64, eventKind) {
	m := &t.m
	dydt := t.rates[:]
	m.ahead.known = false
	m.rate(now, y, dydt)
	for m.contact.margin >= 0 {
		h := collocationTurn / dydt[iTurned]
		if !t.freeFor(h, now, y, dydt) {
			return now, nothing
		}
		h, atEdge, arrives := t.rollUpTo(h, y, dydt)
		aside := !t.lane.Edgeless && math.Abs(y[iy]+t.rollingStep.displacement.y) > lane.Width/2-edgeNear
		if !arrives || aside || t.rollingStep.doubtful {
			return now, nothing
		}
		next, taken := t.acceptCollocation(now, h, y, dydt)
		switch {
		case !taken:
			return now, nothing
		case next < now+h:
			return next, gripEnds
		case atEdge:
			y[ix] = max(y[ix], t.edges[t.edge].x)
			return next, edgeAhead
		}
		now = next
	}
	return now, gripEnds
}

// rollUpTo tries a step of h, or a shorter one that ends at the next edge. It reports whether the step ends
// at the edge, and whether it could be made to end where it should.
func (t *Thrower) rollUpTo(h float64, y, dydt []float64) (step float64, atEdge, arrives bool) {
	step, atEdge = t.upToEdge(h, y, dydt)
	for range 5 {
		off := t.edges[t.edge].x - y[ix] - t.tryCollocation(step, y)
		if !atEdge || math.Abs(off) <= edgePrecision {
			return step, atEdge, true
		}
		step += off / dydt[ix]
	}
	return step, atEdge, false
}

// collocation is Gauss's rule with four nodes on the unit interval: nodes, weights, and the weights of the
// integrals up to each node and up to the middle.
type collocation struct {
	node, weight, half [4]float64
	upTo               [4][4]float64
}

var gauss4 = sync.OnceValue(func() *collocation {
	g := new(collocation)
	// The zeros of Legendre's polynomial of degree 4.
	inner, outer := math.Sqrt((3-2*math.Sqrt(1.2))/7), math.Sqrt((3+2*math.Sqrt(1.2))/7)
	g.node = [4]float64{(1 - outer) / 2, (1 - inner) / 2, (1 + inner) / 2, (1 + outer) / 2}
	for j := range g.node {
		// Coefficients of Lagrange's polynomial of node j.
		powers := [4]float64{1}
		for k, c := range g.node {
			if k == j {
				continue
			}
			per := 1 / (g.node[j] - c)
			for i := 3; i >= 0; i-- {
				powers[i] *= -c * per
				if i > 0 {
					powers[i] += powers[i-1] * per
				}
			}
		}
		integral := func(to float64) float64 {
			sum := 0.0
			for i := 3; i >= 0; i-- {
				sum = to * (sum + powers[i]/float64(i+1))
			}
			return sum
		}
		g.weight[j], g.half[j] = integral(1), integral(0.5)
		for i, c := range g.node {
			g.upTo[i][j] = integral(c)
		}
	}
	return g
})

// configuration is the orientation and motion of a rolling ball at one instant.
type configuration struct {
	square, sin, cos float64 // of the rotation vector
	q                matrix  // from body axes to the lane's
	arm              vector  // m, from the contact to the mass centre, in body axes
	spin             vector  // rad/s, in body axes
	velocity         vector  // m/s down-lane and left, of the sphere's centre, and rad/s of turning
}

// configure finds orientation, arm and spin of a ball that has turned by ψ, in body axes, and has the angular
// momentum K.
func (t *Thrower) configure(s *configuration, psi, momentum vector) {
	m := &t.m
	s.square = dot(psi, psi)
	s.sin, s.cos = sinc(s.square)
	s.q[0], s.q[2] = turnBack(psi, s.sin, s.cos, m.start[0]), turnBack(psi, s.sin, s.cos, m.start[2])
	s.q[1] = cross(s.q[2], s.q[0])
	s.arm = add(scale(m.radius, s.q[2]), m.offset)
	s.spin = m.solveAbout(m.inverseAbout(s.arm), s.arm, s.q.transposed(momentum))
}

// torque returns the rate of K in the lane's axes. Weight and slope act at the mass centre, and about a
// contact that moves with v the angular momentum changes by −v × m v_G. The normal force in pivot friction
// leaves out m (d × ẑ)·ω̇, less than a hundredth of the weight for a mass centre 1 mm aside.
func (t *Thrower) torque(s *configuration) vector {
	m, c := &t.m, &t.rollingStep
	turn := vector{-m.mass * m.radius * m.slope.y, m.mass * m.radius * m.slope.x, c.pivot * m.mass * m.g}
	if !m.offCentre {
		return turn
	}
	offset, spin := s.q.times(m.offset), s.q.times(s.spin)
	pull := scale(m.mass, vector{m.slope.x, m.slope.y, -m.g})
	turn = cross(add(offset, vector{z: m.radius}), pull)
	aside := cross(spin, offset)
	turn = add(turn, scale(-m.mass, cross(vector{m.radius * spin.y, -m.radius * spin.x, 0}, aside)))
	turn.z += c.pivot * m.mass * (m.g + cross(spin, aside).z)
	return turn
}

// tryCollocation tries a step of h in s and returns its length down the lane in m.
func (t *Thrower) tryCollocation(h float64, y []float64) float64 {
	m, c, g := &t.m, &t.rollingStep, gauss4()
	var s configuration
	s.q = m.start
	s.arm = add(scale(m.radius, s.q[2]), m.offset)
	s.spin = m.start.transposed(vector{y[iwx], y[iwy], y[iwz]})
	*c = rollingStep{pivot: m.against(m.contact.mu, 0, 0).z}
	momentum := add(each(m.inertia, s.spin), scale(m.mass, cross(s.arm, cross(s.spin, s.arm))))
	start := s.q.times(momentum)
	turn := t.torque(&s)
	rates, turns := [4]vector{s.spin, s.spin, s.spin, s.spin}, [4]vector{turn, turn, turn, turn}
	var velocities [4]vector
	first := coarsestCollocation
	if m.offCentre {
		first *= 10
	}
	for reached, last := first, false; !last; reached /= 10 {
		last = reached <= 1.01*t.tolerance
		var next, nextTurns [4]vector
		for i := range next {
			psi := weighted(h, &g.upTo[i], &rates)
			t.configure(&s, psi, add(start, weighted(h, &g.upTo[i], &turns)))
			next[i] = rotationRate(psi, s.spin, 0.5, chart(s.square, s.sin, s.cos))
			nextTurns[i] = turn
			if m.offCentre {
				nextTurns[i] = t.torque(&s)
			}
			if last {
				t.sumUp(&s, h*g.weight[i])
				c.nodes[i], velocities[i] = s, s.velocity
			}
		}
		rates, turns = next, nextTurns
	}
	c.rotation, c.middle = weighted(h, &g.weight, &rates), weighted(h, &g.half, &rates)
	c.momentum, c.halfMomentum = add(start, weighted(h, &g.weight, &turns)), add(start, weighted(h, &g.half, &turns))
	c.displacement, c.halfDisplacement = weighted(h, &g.weight, &velocities), weighted(h, &g.half, &velocities)
	return c.displacement.x
}

// sumUp adds a node to the work and the flare of a step, and sets doubtful.
func (t *Thrower) sumUp(s *configuration, weight float64) {
	m, c := &t.m, &t.rollingStep
	wz := dot(s.spin, s.q[2])
	if m.contactRadius > 0 && !(wz*m.pivotSide > nearlyUpright) {
		c.doubtful = true
	}
	s.velocity = vector{m.radius * dot(s.spin, s.q[1]), -m.radius * dot(s.spin, s.q[0]), norm(s.spin)}
	c.flare += weight * m.migration(s.spin, m.free(s.spin))
	a := action{against: vector{z: c.pivot}}
	m.grip(&a, &s.q, s.spin)
	c.work += weight * c.pivot * a.normal * wz
	if !(a.normal > lightest*m.mass*m.g) {
		c.doubtful = true
	}
	fx, fy := m.force(&a)
	c.pull = max(c.pull, math.Sqrt(fx*fx+fy*fy)/a.normal)
}

// weighted returns h times a weighted sum of vectors.
func weighted(h float64, weight *[4]float64, v *[4]vector) vector {
	a, b, c, d := h*weight[0], h*weight[1], h*weight[2], h*weight[3]
	return vector{
		a*v[0].x + b*v[1].x + c*v[2].x + d*v[3].x,
		a*v[0].y + b*v[1].y + c*v[2].y + d*v[3].y,
		a*v[0].z + b*v[1].z + c*v[2].z + d*v[3].z,
	}
}

// rolled stores the state after a rotation vector ψ, in body axes, and a displacement from the state y, with
// the angular momentum K.
func (t *Thrower) rolled(state *[dimension]float64, y []float64, psi, momentum, displacement vector) {
	var s configuration
	t.configure(&s, psi, momentum)
	spin, velocity, theta := s.q.times(s.spin), s.q.times(cross(s.spin, s.arm)), t.m.start.times(psi)
	state[ix], state[iy], state[iTurned] = y[ix]+displacement.x, y[iy]+displacement.y, y[iTurned]+displacement.z
	state[ivx], state[ivy] = velocity.x, velocity.y
	state[iwx], state[iwy], state[iwz] = spin.x, spin.y, spin.z
	state[itx], state[ity], state[itz] = theta.x, theta.y, theta.z
}

// acceptCollocation accepts the tried step, up to where the ball breaks away: it keeps it as a piece of the
// dense solution and stores the state at its end and its rate in y and dydt. It returns the time, and false
// if the step cannot be accepted. Pivot friction during the whole step is that on the film at its start.
func (t *Thrower) acceptCollocation(now, h float64, y, dydt []float64) (float64, bool) {
	m, c := &t.m, &t.rollingStep
	begins, first, slopes := m.contact, node{Touch: m.touch, mu: m.contact.mu}, *(*[dimension]float64)(dydt)
	sure := c.pull <= gripShare*first.mu
	if sure && m.remembers() {
		sure = c.pull <= gripShare*t.meetAlong(now, h, y)
	}
	var end [dimension]float64
	if !t.keepCollocation(now, h, y, dydt, &end, &slopes) {
		return now, false
	}
	if sure = sure && m.contact.margin >= 0; !sure {
		ends := t.gripAlong(&t.pieces[len(t.pieces)-1].Segment, &first, begins.margin, end[:])
		if ends < now+h {
			t.dropPiece()
			m.contact = begins
			t.tryCollocation(ends-now, y)
			if !t.keepCollocation(now, ends-now, y, dydt, &end, &slopes) {
				return now, false
			}
		}
	}
	next := t.pieces[len(t.pieces)-1].End
	t.stats.Steps++
	copy(y, end[:])
	switch {
	case !m.remembers():
	case sure:
		m.ahead.carried = false
		for i := range c.touches {
			m.film.Append(&c.touches[i])
		}
		m.film.Append(&m.touch) // at the end
	default:
		t.keepTouches(next, y)
	}
	q := rotated(vector{y[itx], y[ity], y[itz]}, &m.start)
	t.restart(q, y, dydt)
	return next, true
}

// keepCollocation keeps the tried step as a piece of the dense solution, and stores the state at its end and
// its rate in end and dydt. It returns false if the spin about the vertical has reversed.
func (t *Thrower) keepCollocation(now, h float64, y, dydt []float64, end, slopes *[dimension]float64) bool {
	m, c := &t.m, &t.rollingStep
	var half [dimension]float64
	t.rolled(&half, y, c.middle, c.halfMomentum, c.halfDisplacement)
	t.rolled(end, y, c.rotation, c.momentum, c.displacement)
	end[iWork], end[iSlip], end[iLane] = y[iWork]+c.work, y[iSlip], y[iLane]
	end[iFlare] = y[iFlare] + c.flare
	m.rate(now+h, end[:], dydt)
	if m.contactRadius > 0 && end[iwz]*m.pivotSide <= 0 {
		return false
	}
	t.keep(now, h, (*[dimension]float64)(y), slopes, &half, end, (*[dimension]float64)(dydt))
	return true
}

// gripAlong returns the time at which a rolling ball breaks away, or the end of the step, whose end state is
// y. It looks the film up from the first node on.
func (t *Thrower) gripAlong(s *ode.Segment, first *node, margin float64, y []float64) float64 {
	m, a, present := &t.m, &t.m.ahead, t.m.contact
	a.nodes = append(a.nodes[:0], *first)
	a.nodes[0].Time = s.Start // without oil nothing was looked at
	a.known, a.start, a.per, a.mu = true, s.Start, 0, [aheadDegree + 1]float64{first.mu}
	defer func() { a.known, m.contact = false, present }()
	marginAt := func(at float64) float64 {
		m.contact.time, m.contact.mu = at, first.mu
		m.roll(&m.motion)
		return m.contact.margin
	}
	longest, perRadian := t.stridesAlong(s, y)
	for held := s.Start; held < s.End; {
		t.strideAlong(s, y, longest, perRadian)
		at := a.nodes[len(a.nodes)-1].Time
		next := marginAt(at)
		if next < 0 {
			return root.Find(func(at float64) float64 {
				s.Leading(at, t.scratch[:iWork])
				m.motionIn(&m.motion, t.scratch[:])
				return marginAt(at)
			}, held, at, margin, next, gripPrecision)
		}
		held, margin = at, next
	}
	return s.End
}

// meetAlong looks the film up at the nodes of a step, and returns the least coefficient of friction at them.
func (t *Thrower) meetAlong(now, h float64, start []float64) float64 {
	m, c, g := &t.m, &t.rollingStep, gauss4()
	var velocities [4]vector
	for i := range velocities {
		velocities[i] = c.nodes[i].velocity
	}
	least := math.Inf(1)
	for i := range c.nodes {
		s, touch := &c.nodes[i], &c.touches[i]
		displacement := weighted(h, &g.upTo[i], &velocities)
		speed := math.Sqrt(s.velocity.x*s.velocity.x + s.velocity.y*s.velocity.y) // over the lane and over the ball alike
		*touch = film.Touch{
			Time: now + h*g.node[i], Turned: start[iTurned] + displacement.z, X: start[ix] + displacement.x, Y: start[iy] + displacement.y,
			Point: filmVector(scale(-1, s.q[2])), Spin: filmVector(s.spin), Speed: speed, Sweep: speed,
		}
		least = min(least, m.meet(touch))
	}
	return least
}
