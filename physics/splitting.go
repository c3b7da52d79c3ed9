package physics

import (
	"math"
	"slices"

	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/physics/film"
)

// Studies of many shots ask for less than one shot does. At their tolerances a
// sliding ball is carried on by splitting: friction, which changes the velocity by less than a
// hundredth in a radian of turning, acts in kicks at a few nodes of a step and
// the ball flies freely between. With kicks at the nodes of Gauss's rule the
// error is of sixth order in the step and of second in friction (McLachlan, BIT
// 35 (1995) 258, for nearly integrable systems); with film on the ball they are
// at the even nodes at which that is looked up. The approach to the end of the
// slip is left to the pair of order 5(4).

// coarseTolerance is the tolerance from which on steps are split.
const coarseTolerance = 1e-5

const (
	// splitTurn is how far, in rad, one step may turn the ball: less than the half
	// turn at which the rotation vector between its ends is lost, which is also the
	// least age of the film that it meets.
	splitTurn = 2.95

	// splitTurnOffCentre is that with the mass centre beside the sphere's, where forces
	// go round with the ball.
	splitTurnOffCentre = 2.2

	// splitTurnFilm is that of a ball that will come to run on its own film: its
	// touches lie no farther apart than 0.4 of it.
	splitTurnFilm = 2.2

	// splitTolerance is that below which steps turn the ball by less, by the third
	// root: what kicks leave out falls with the square of the step.
	splitTolerance = 1e-4

	// unevenMoments is the relative difference of the moments above which steps turn the
	// ball by less: what free flight leaves out grows with its square. Balls for bowling
	// stay below.
	unevenMoments = 0.08

	// shortSplit is the turning, in rad, below which steps are left to the pair.
	shortSplit = 0.3

	// splitSlip is the share of the slip that one step may use up.
	splitSlip = 0.5

	// splitError is the ratio of the error that a step leaves in a velocity to
	// the difference between Gauss's and Simpson's rule: found from 1000 random
	// shots.
	splitError = 0.1

	// edgePrecision is how near in m to an edge a step must end.
	edgePrecision = 1e-7

	// nearEdgeTime is the time in s before or after the edge at which a step with film on the ball does
	// that is lengthened or shortened by it: less than a touch lasts.
	nearEdgeTime = 1e-5

	// lightest is the share of the weight below which the normal force may come to
	// nothing in a step.
	lightest = 0.2

	// splitSpeed is the speed down the lane, in m/s, below which the ball may
	// turn back.
	splitSpeed = 1.0
)

// Gauss's rule with three nodes.
var (
	gaussNode   = (1 - math.Sqrt(0.6)) / 2
	gaussWeight = 5. / 18
)

// split carries a sliding ball on from a time, which it returns anew, to the next edge; nothing where it
// has to be carried on otherwise.
func (t *Thrower) split(now float64, y []float64) (float64, eventKind) {
	m := &t.m
	dydt := t.rates[:]
	m.ahead.known = false
	m.rate(now, y, dydt)
	most := splitTurn
	if m.offCentre {
		most = splitTurnOffCentre
	}
	if fine := t.asked / splitTolerance; fine < 1 {
		most *= portable.Pow(fine, 1./3)
	}
	if uneven := m.uneven(); uneven > unevenMoments {
		most *= unevenMoments / uneven
	}
	onFilm := m.remembers() && m.now.mu > m.filmless
	h := most / dydt[iTurned]
	for {
		longest := most / dydt[iTurned]
		switch {
		case onFilm:
			longest = m.turningTime(most, dydt[iTurned])
		case m.remembers():
			// 0.4 of the step lies between its nodes.
			longest = min(longest, 2.5*t.apart(splitTurnFilm/2.5/dydt[iTurned], m.now.mu))
		}
		slip := m.now.slip
		if a := m.now.mu * m.g * m.mass * m.mobility; a > 0 {
			longest = min(longest, splitSlip*slip/a)
		}
		h = min(h, longest)
		if !(h*dydt[iTurned] > shortSplit) || !t.freeFor(h, now, y, dydt) {
			return now, nothing
		}
		step, atEdge := t.upToEdge(h, y, dydt)
		for try := 0; ; try++ {
			if !onFilm {
				onFilm = t.splitByGauss(now, step, y)
			}
			if onFilm {
				t.splitOnFilm(now, step, y, dydt)
			}
			off := t.edges[t.edge].x - t.flight.x
			if !atEdge || math.Abs(off) <= edgePrecision || try == 4 {
				break
			}
			step += off / t.flight.cx
			if left := off / t.flight.cx; onFilm && math.Abs(left) <= nearEdgeTime {
				t.shift(now+step, left)
				break
			}
		}
		if min(t.sums.lightest, t.final.normal) < lightest*m.mass*m.g {
			return now, nothing
		}
		f := &t.flight
		size := t.splitSize
		if slipNow := portable.Hypot(f.ux, f.uy); slipNow < (1-splitSlip)*slip/2 || size > 1 || math.Abs(f.y) > lane.Width/2-edgeNear && !t.lane.Edgeless {
			t.stats.Rejected++
			h = step * max(0.3, min(0.8, 0.9/math.Sqrt(math.Sqrt(size))))
			continue
		}
		t.stats.Steps++
		if atEdge {
			// With film on the ball the place jumps by some micrometres with the
			// length of the step: it ends where the edge is.
			f.x = t.edges[t.edge].x
		}
		if now = t.acceptSplit(now, step, y, dydt); atEdge {
			return now, edgeAhead
		}
		h = step * min(2, 0.9/math.Sqrt(math.Sqrt(max(size, 1e-3))))
	}
}

// uneven is the relative difference of the moments of inertia.
func (m *machine) uneven() float64 {
	return max(m.inertia.x, m.inertia.y, m.inertia.z)/min(m.inertia.x, m.inertia.y, m.inertia.z) - 1
}

// freeFor reports that for a time nothing can happen to a sliding or rolling ball but
// that it reaches the next edge.
func (t *Thrower) freeFor(h, now float64, y, dydt []float64) bool {
	return dydt[ix] > splitSpeed && now+h <= t.maxTime &&
		(t.lane.Edgeless || math.Abs(y[iy])+math.Abs(dydt[iy])*h <= lane.Width/2-edgeNear)
}

// upToEdge shortens a step to end about the next edge, and reports whether it does. Where
// friction on a ball that turns too fast, at most μ = 2, might carry it there all the
// same, it goes half of the distance at most.
func (t *Thrower) upToEdge(h float64, y, dydt []float64) (step float64, atEdge bool) {
	room := t.edges[t.edge].x - y[ix]
	switch faster := h * h * t.m.g; {
	case room < h*dydt[ix]:
		// From v h + a h²/2.
		if step = 2 * room / (dydt[ix] + math.Sqrt(max(0, dydt[ix]*dydt[ix]+2*dydt[ivx]*room))); step <= h {
			return step, true
		}
		return room / dydt[ix] / 2, false
	case room < h*dydt[ix]+faster:
		return min(h, room/dydt[ix]/2), false
	}
	return h, false
}

// splittingStep is a step as far as it was tried.
type splittingStep struct {
	flight, midway flight // at its end and in the middle
	final          action // at its end
	sums           totals
	taking         float64 // m³/s of oil by the lane, at its end
	splitSize      float64 // of the error, in what is allowed
}

// totals are integrals along a splitting step, and the least normal force in N.
type totals struct{ work, slip, lane, lightest float64 }

// add counts a kick, with the means of slip and power over it, so that the energy that it takes is counted to the last digit.
func (s *totals) add(a *action, time float64) {
	s.slip += time * (a.slip + time/2*a.slipRate)
	s.work += time * (a.work + time/2*a.workRate)
	if a.normal < s.lightest {
		s.lightest = a.normal
	}
}

// splitByGauss tries a step with three kicks.
func (t *Thrower) splitByGauss(now, h float64, y []float64) (filmMatters bool) {
	m, f := &t.m, &t.flight
	remembers := m.remembers()
	m.startFlight(f, y)
	t.sums = totals{lightest: math.Inf(1)}
	var ax, ay [3]float64
	var turning [5]vector // torque at start, nodes and end
	var kick action
	if m.offCentre {
		m.act(&kick, f, m.now.mu, 0)
		turning[0] = kick.torque
	}
	outer, inner := gaussNode*h, (0.5-gaussNode)*h
	nodes := append(m.ahead.nodes[:0], node{}, node{}, node{}, node{}, node{})
	m.ahead.nodes = nodes
	elapsed, notable := 0.0, false
	for i, reach := range [3]float64{outer, inner, inner} {
		weight := gaussWeight * h
		if i == 1 {
			weight = h - 2*weight
		}
		m.drift(f, reach)
		m.flightVelocity(f)
		gap := m.laneFilm(f.x, f.y)
		mu := m.law.coefficient(gap, m.stretch)
		m.act(&kick, f, mu, weight)
		if elapsed += reach; remembers {
			notable = notable || mu > m.filmless
			t.locate(&nodes[i+1].Touch, now+elapsed)
			nodes[i+1].Lane = gap
		}
		ax[i], ay[i], turning[i+1] = kick.ax, kick.ay, kick.torque
		t.sums.add(&kick, weight)
		t.sums.lane += weight * m.taking(f, gap)
		f.kick(&kick, weight/2)
		nodes[i+1].Spin = inBall(f.spin)
		if i == 1 {
			m.flightVelocity(f)
			t.midway = *f
		}
		f.kick(&kick, weight/2)
	}
	m.drift(f, outer)
	m.flightVelocity(f)

	gap := m.laneFilm(f.x, f.y)
	mu := m.law.coefficient(gap, m.stretch)
	if remembers {
		notable = notable || mu > m.filmless
		t.locate(&nodes[4].Touch, now+h)
		nodes[4].Lane, nodes[4].mu = gap, mu
	}
	last := &t.final
	m.act(last, f, mu, 0)
	m.now.mu, t.taking = mu, m.taking(f, gap)
	difference := func(start, middle, outside, end float64) float64 {
		return math.Abs(gaussWeight*outside + (1-2*gaussWeight)*middle - (start+4*middle+end)/6)
	}
	size := max(difference(t.rates[ivx], ax[1], ax[0]+ax[2], last.ax), difference(t.rates[ivy], ay[1], ay[0]+ay[2], last.ay))
	if m.offCentre {
		turning[4] = last.torque
		for _, along := range [3]vector{{x: 1}, {y: 1}, {z: 1}} {
			var c [5]float64
			for i := range c {
				c[i] = dot(turning[i], along) / (m.mass * m.radius)
			}
			size = max(size, difference(c[0], c[2], c[1]+c[3], c[4]))
		}
	}
	t.splitSize = size * h * splitError / t.asked
	return notable
}

// splitOnFilm tries a step with kicks at even nodes, at which the film on the
// ball is looked up.
func (t *Thrower) splitOnFilm(now, h float64, y, dydt []float64) {
	m, f := &t.m, &t.flight
	t.leapfrog(now, h, 2, y, dydt)
	m.flightVelocity(f)
	m.now.mu = m.ahead.nodes[len(m.ahead.nodes)-1].mu
	m.act(&t.final, f, m.now.mu, 0)
	t.taking, t.splitSize = 0, 0
}

// shift lets the step that was tried end a very short time later, or earlier, at now.
func (t *Thrower) shift(now, time float64) {
	m, f := &t.m, &t.flight
	t.sums.add(&t.final, time)
	f.kick(&t.final, time)
	for _, moved := range []struct {
		*flight
		time float64
	}{{f, time}, {&t.midway, time / 2}} {
		turned := moved.turned
		m.shortDrift(moved.flight, moved.time)
		moved.turned = turned + math.Copysign(moved.turned-turned, time)
		m.flightVelocity(moved.flight)
	}
	last := &m.ahead.nodes[len(m.ahead.nodes)-1]
	found := last.Touch
	t.locate(&last.Touch, now)
	last.mu = m.meetAgain(&last.Touch, &found)
	m.now.mu = last.mu
	m.act(&t.final, f, last.mu, 0)
}

// acceptSplit takes the step that was tried: it keeps it as a piece of the dense
// solution and leaves the state at its end, with its rate.
func (t *Thrower) acceptSplit(now, h float64, y, dydt []float64) float64 {
	m := &t.m
	f, mid := &t.flight, &t.midway
	next := now + h

	slopes := *(*[dimension]float64)(dydt)
	var half, end [dimension]float64
	m.state(&half, mid)
	m.state(&end, f)
	end[iWork], end[iSlip], end[iLane] = y[iWork]+t.sums.work, y[iSlip]+t.sums.slip, y[iLane]+t.sums.lane
	flare := m.migration(f.spin, m.free(f.spin))
	end[iFlare] = y[iFlare] + h/6*(dydt[iFlare]+4*m.migration(mid.spin, m.free(mid.spin))+flare)

	start := *(*[dimension]float64)(y)
	copy(y, end[:])
	m.slopes(dydt, &end, f, &t.final)
	dydt[iFlare], dydt[iLane] = flare, t.taking
	m.now.time, m.now.action = next, t.final
	t.keep(now, h, &start, &slopes, &half, &end, (*[dimension]float64)(dydt))
	if m.remembers() {
		t.record(next)
	}
	t.restart(f.q, y, dydt)
	return next
}

// keep appends a step as a piece of the dense solution: the polynomials of fourth
// degree through states and rates at both ends and the state in the middle, cubics
// for what only adds up.
func (t *Thrower) keep(now, h float64, start, slopes, half, end, rates *[dimension]float64) {
	m := &t.m
	at := len(t.arena)
	t.arena = slices.Grow(t.arena, 5*dimension)[:at+5*dimension]
	t.pieces = append(t.pieces, m.conditions())
	p := &t.pieces[len(t.pieces)-1]
	p.Start, p.Step, p.End = now, h, now+h
	p.Coefficients = t.arena[at:len(t.arena):len(t.arena)]
	c := (*[5 * dimension]float64)(p.Coefficients)
	for i := range dimension {
		difference := end[i] - start[i]
		bend := h*slopes[i] - difference
		back := difference - h*rates[i] - bend
		c[i], c[dimension+i], c[2*dimension+i], c[3*dimension+i], c[4*dimension+i] = start[i], difference, bend, back, 0
		if i < iWork {
			c[4*dimension+i] = 16*(half[i]-start[i]) - 8*difference - 4*bend - 2*back
		}
	}
}

// dropPiece takes the last piece back.
func (t *Thrower) dropPiece() {
	last := len(t.pieces) - 1
	t.arena = t.arena[:len(t.arena)-len(t.pieces[last].Coefficients)]
	t.pieces = t.pieces[:last]
}

// state stores a flight in a state vector, with the rotation vector since
// m.start; the integrals are left out.
func (m *machine) state(y *[dimension]float64, f *flight) {
	y[ix], y[iy], y[ivx], y[ivy], y[iTurned] = f.x, f.y, f.vx, f.vy, f.turned
	y[iwx], y[iwy], y[iwz] = f.wx, f.wy, f.wz
	// E = Q Q₀ᵀ; its skew part is sin θ [n]×, its trace 1 + 2 cos θ.
	q := &m.start
	skew := vector{
		(dot(f.q[2], q[1]) - dot(f.q[1], q[2])) / 2,
		(dot(f.q[0], q[2]) - dot(f.q[2], q[0])) / 2,
		(dot(f.q[1], q[0]) - dot(f.q[0], q[1])) / 2,
	}
	sin, cos := norm(skew), (dot(f.q[0], q[0])+dot(f.q[1], q[1])+dot(f.q[2], q[2])-1)/2
	per := 1.0
	if sin > 0 {
		per = math.Atan2(sin, cos) / sin
	}
	y[itx], y[ity], y[itz] = per*skew.x, per*skew.y, per*skew.z
}

// taking is the rate in m³/s at which the lane gains oil from a clean ball.
func (m *machine) taking(f *flight, gap float64) float64 {
	if !(gap > 0) {
		return 0
	}
	return -film.Clean(m.memory, gap, math.Sqrt(f.cx*f.cx+f.cy*f.cy), m.radius*math.Sqrt(f.wx*f.wx+f.wy*f.wy))
}

// slopes stores the rates of a state that belongs to a flight, but that of
// flare.
func (m *machine) slopes(dydt []float64, y *[dimension]float64, f *flight, a *action) {
	change := f.q.times(add(m.free(f.spin), a.change))
	dydt[ix], dydt[iy], dydt[ivx], dydt[ivy] = f.cx, f.cy, a.ax, a.ay
	dydt[iwx], dydt[iwy], dydt[iwz] = change.x, change.y, change.z
	omega, theta := vector{y[iwx], y[iwy], y[iwz]}, vector{y[itx], y[ity], y[itz]}
	r := newRotation(theta)
	turnRate(dydt, omega, &r)
	dydt[iTurned] = norm(omega)
	dydt[iWork], dydt[iSlip] = a.work, a.slip
}
