package physics

import (
	"math"
	"sync"

	"lanesim/lane"
)

// A ball that rolls coasts: its angular momentum about the contact, in the lane's
// axes
//
//	K = I ω + m R² (ω − ω_z ẑ)
//
// changes only by the lane's slope and by pivot friction, which are known before a
// step is taken. So ω follows from the orientation alone, and a step solves for the
// rotation vector ψ since its start, in body axes,
//
//	ψ' = ω + ½ ψ×ω + c ψ×(ψ×ω),   ω = (D − m R² ẑ ẑᵀ)⁻¹ K,   D = I + m R²
//
// by collocation at Gauss's nodes, of order 8. The spin changes by no more than the
// relative difference of the moments, so that each sweep over the nodes leaves an
// error smaller by that.

const (
	// coastTurn is how far, in rad, one step may turn the ball.
	coastTurn = 2.95

	// coarsestCoast is the tolerance at which one sweep over the nodes does;
	// every decade below takes one more.
	coarsestCoast = 1e-3

	// gripShare is the share of what friction can give up to which the force that
	// rolling needs at the nodes leaves no doubt that it holds between them.
	gripShare = 0.9

	// nearlyUpright is the turning in rad/s about the vertical below which it may
	// end within a step.
	nearlyUpright = 0.05
)

// coasting is a step of a rolling ball as far as it was tried.
type coasting struct {
	shift            float64 // m R²
	inverse          vector  // D⁻¹
	momentum, torque vector  // K at the start and its rate, in the lane's axes

	// At the end and in the middle: ψ, and the integrals up to there.
	rotation, middle   vector
	travel, halfTravel [2]float64
	turned, halfTurned float64
	work, flare        float64

	nodes [4]stance

	pull    float64 // square of the most acceleration by friction at a node, m²/s⁴
	upright bool    // turning about the vertical went through 0 or near it
}

// coast carries a rolling ball on from a time, which it returns anew, and reports
// whether it stopped at the next edge.
func (t *Thrower) coast(now float64, y []float64) (float64, bool) {
	m := &t.m
	if m.mode != rolling || m.offCentre || m.resistance != 0 || m.oiled || !(t.control.Absolute >= coarseTolerance) {
		return now, false
	}
	defer func() { m.orient(m.start) }()
	dydt := t.rates[:]
	m.ahead.known, m.ahead.idle = false, true
	m.rate(now, y, dydt)
	t.stats.Evaluations++
	for {
		h := coastTurn / dydt[iTurned]
		if !(dydt[ix] > glideSpeed) || now+h > t.maxTime {
			return now, false
		}
		if !t.lane.Edgeless && math.Abs(y[iy])+math.Abs(dydt[iy])*h > lane.Width/2-edgeNear {
			return now, false
		}
		lands := false
		if room := t.edges[t.edge].x - y[ix]; room < h*dydt[ix] {
			h, lands = room/dydt[ix], true
		}
		for try := 0; ; try++ {
			off := t.edges[t.edge].x - y[ix] - t.roll(h, y)
			if !lands || math.Abs(off) <= landing || try == 4 {
				break
			}
			h += off / dydt[ix]
		}
		if t.coasting.upright || !t.rest(now, h, lands, y, dydt) {
			return now, false
		}
		now += h
		if lands {
			y[ix] = max(y[ix], t.edges[t.edge].x)
			return now, true
		}
	}
}

// collocation holds Gauss's rule with four nodes on the unit interval: nodes,
// weights, and the weights of the integrals up to each node and to the middle.
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
		// Lagrange's polynomial of node j, by its powers.
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

// stance is how a rolling ball stands and turns in a moment, in body axes.
type stance struct {
	square, sin, cos float64    // of the rotation vector
	e1, e2, e3       vector     // the lane's axes
	spin             vector     // rad/s
	velocity         [2]float64 // m/s, of the centre
	turning          float64    // rad/s
}

// stand finds how the ball stands when it has turned by ψ, in body axes, a time
// after the start of the step.
func (t *Thrower) stand(s *stance, psi vector, time float64) {
	m, c := &t.m, &t.coasting
	s.square = dot(psi, psi)
	s.sin, s.cos = sinc(s.square)
	s.e1, s.e3 = turnBack(psi, s.sin, s.cos, m.start[0]), turnBack(psi, s.sin, s.cos, m.start[2])
	s.e2 = cross(s.e3, s.e1)
	s.spin = c.solve(s.inBody(add(c.momentum, scale(time, c.torque))), s.e3)
}

// inBody returns a vector of the lane's axes in body axes.
func (s *stance) inBody(v vector) vector {
	return vector{
		v.x*s.e1.x + v.y*s.e2.x + v.z*s.e3.x,
		v.x*s.e1.y + v.y*s.e2.y + v.z*s.e3.y,
		v.x*s.e1.z + v.y*s.e2.z + v.z*s.e3.z,
	}
}

// solve returns (D − m R² ẑ ẑᵀ)⁻¹ b in body axes, by Sherman and Morrison's formula.
func (c *coasting) solve(b, up vector) vector {
	x, upward := each(c.inverse, b), each(c.inverse, up)
	return add(x, scale(c.shift*dot(up, x)/(1-c.shift*dot(up, upward)), upward))
}

// roll tries a step of length h and returns how far it carries the ball down the
// lane.
func (t *Thrower) roll(h float64, y []float64) float64 {
	m, c, g := &t.m, &t.coasting, gauss4()
	shift := m.mass * m.radius * m.radius
	omega := vector{y[iwx], y[iwy], y[iwz]}
	spin := m.start.transposed(omega)
	angular := each(m.inertia, spin)
	pivot := -pivotCoefficient * m.now.mu * m.contactRadius * m.mass * m.g * m.pivotSide
	*c = coasting{
		shift:    shift,
		inverse:  vector{1 / (m.inertia.x + shift), 1 / (m.inertia.y + shift), 1 / (m.inertia.z + shift)},
		momentum: vector{dot(angular, m.start[0]) + shift*omega.x, dot(angular, m.start[1]) + shift*omega.y, dot(angular, m.start[2])},
		torque:   vector{-m.mass * m.radius * m.slope.y, m.mass * m.radius * m.slope.x, pivot},
	}
	rates := [4]vector{spin, spin, spin, spin}
	var s stance
	for reached, last := coarsestCoast, false; !last; reached /= 10 {
		last = reached <= 1.01*t.control.Absolute
		var next [4]vector
		for i := range next {
			psi := weighted(h, &g.upTo[i], &rates)
			t.stand(&s, psi, h*g.node[i])
			first := cross(psi, s.spin)
			second := cross(psi, first)
			next[i] = add(s.spin, add(scale(0.5, first), scale(chart(s.square, s.sin, s.cos), second)))
			if last {
				t.sumUp(&s, h*g.weight[i], h*g.half[i], pivot)
				c.nodes[i] = s
			}
		}
		rates = next
	}
	c.rotation, c.middle = weighted(h, &g.weight, &rates), weighted(h, &g.half, &rates)
	return c.travel[0]
}

// sumUp adds a node to the integrals over a step and over its first half.
func (t *Thrower) sumUp(s *stance, weight, half, pivot float64) {
	m, c := &t.m, &t.coasting
	wz := dot(s.spin, s.e3)
	if m.contactRadius > 0 && !(wz*m.pivotSide > nearlyUpright) {
		c.upright = true
	}
	s.velocity = [2]float64{m.radius * dot(s.spin, s.e2), -m.radius * dot(s.spin, s.e1)}
	s.turning = norm(s.spin)
	c.travel = [2]float64{c.travel[0] + weight*s.velocity[0], c.travel[1] + weight*s.velocity[1]}
	c.halfTravel = [2]float64{c.halfTravel[0] + half*s.velocity[0], c.halfTravel[1] + half*s.velocity[1]}
	c.turned, c.halfTurned = c.turned+weight*s.turning, c.halfTurned+half*s.turning
	c.work += weight * pivot * wz
	gyro := cross(each(m.inertia, s.spin), s.spin)
	if !m.isotropic {
		c.flare += weight * migration(m.radius, each(m.inverse, gyro), s.spin)
	}
	change := c.solve(add(gyro, s.inBody(c.torque)), s.e3)
	ax, ay := m.radius*dot(change, s.e2)-m.slope.x, -m.radius*dot(change, s.e1)-m.slope.y
	c.pull = max(c.pull, ax*ax+ay*ay)
}

// weighted returns h times a weighted sum.
func weighted(h float64, weight *[4]float64, v *[4]vector) vector {
	a, b, c, d := h*weight[0], h*weight[1], h*weight[2], h*weight[3]
	return vector{
		a*v[0].x + b*v[1].x + c*v[2].x + d*v[3].x,
		a*v[0].y + b*v[1].y + c*v[2].y + d*v[3].y,
		a*v[0].z + b*v[1].z + c*v[2].z + d*v[3].z,
	}
}

// rolled stores the state that the ball has come to a time after the start of the
// step, for the rotation vector ψ in body axes.
func (t *Thrower) rolled(state *[dimension]float64, y []float64, time float64, psi vector, travel [2]float64, turned float64) {
	m := &t.m
	var s stance
	t.stand(&s, psi, time)
	wx, wy, theta := dot(s.spin, s.e1), dot(s.spin, s.e2), m.start.times(psi)
	state[ix], state[iy], state[iTurned] = y[ix]+travel[0], y[iy]+travel[1], y[iTurned]+turned
	state[ivx], state[ivy] = m.radius*wy, -m.radius*wx
	state[iwx], state[iwy], state[iwz] = wx, wy, dot(s.spin, s.e3)
	state[itx], state[ity], state[itz] = theta.x, theta.y, theta.z
}

// rest takes the step that was tried, if friction holds the ball to its end: it
// keeps it as a piece of the dense solution and leaves the state at its end, with
// its rate.
func (t *Thrower) rest(now, h float64, lands bool, y, dydt []float64) bool {
	m, c := &t.m, &t.coasting
	var half, end [dimension]float64
	t.rolled(&half, y, h/2, c.middle, c.halfTravel, c.halfTurned)
	t.rolled(&end, y, h, c.rotation, c.travel, c.turned)
	end[iWork], end[iSlip], end[iLane] = y[iWork]+c.work, y[iSlip], y[iLane]
	end[iFlare] = y[iFlare] + c.flare
	mu := m.now.mu
	if m.memory.remembers() {
		mu = min(mu, m.law.coefficient(m.memory.thickestAhead(y[iTurned], c.turned), m.stretch))
	}
	if math.Sqrt(c.pull) > gripShare*mu*m.g {
		return false
	}
	start, slopes := *(*[dimension]float64)(y), *(*[dimension]float64)(dydt)
	m.rate(now+h, end[:], dydt)
	if m.now.margin < 0 {
		return false
	}
	t.stats.Evaluations++
	t.stats.Steps++
	t.keep(now, h, &start, &slopes, &half, &end, (*[dimension]float64)(dydt))
	copy(y, end[:])
	if m.memory.remembers() {
		t.leaveTrail(now, h, &start)
		if lands {
			last, _ := m.touch(now+h, y)
			m.memory.append(&last)
		}
	}
	var q matrix
	advance(&q, vector{y[itx], y[ity], y[itz]}, &m.start)
	if len(t.pieces)%renewal == 0 {
		q.renew()
	}
	m.start = q
	y[itx], y[ity], y[itz] = 0, 0, 0
	dydt[itx], dydt[ity], dydt[itz] = y[iwx], y[iwy], y[iwz]
	return true
}

// leaveTrail samples the trace at the nodes: what the ball carries matters for the
// books alone.
func (t *Thrower) leaveTrail(now, h float64, start *[dimension]float64) {
	m, c, g := &t.m, &t.coasting, gauss4()
	var turning, vx, vy [4]float64
	for i := range c.nodes {
		turning[i], vx[i], vy[i] = c.nodes[i].turning, c.nodes[i].velocity[0], c.nodes[i].velocity[1]
	}
	upTo := func(i int, v *[4]float64) float64 {
		w := &g.upTo[i]
		return h * (w[0]*v[0] + w[1]*v[1] + w[2]*v[2] + w[3]*v[3])
	}
	for i := range c.nodes {
		s := &c.nodes[i]
		point := scale(-1, s.e3)
		next := sample{
			trail{time: now + h*g.node[i], turned: start[iTurned] + upTo(i, &turning), point: point, speed: cross(point, s.spin)},
			spot{x: start[ix] + upTo(i, &vx), y: start[iy] + upTo(i, &vy)},
		}
		var met pass
		speed := math.Sqrt(vx[i]*vx[i] + vy[i]*vy[i]) // over the lane and over the ball alike
		if !m.bare(&next, &met) {
			m.meet(&next, &met, speed, speed)
		}
		m.memory.append(&next)
	}
}
