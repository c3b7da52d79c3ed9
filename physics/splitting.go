package physics

import (
	"math"
	"slices"

	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/physics/film"
)

// Studies of many shots need less accuracy than a single shot. At their tolerances a splitting method moves a
// sliding ball: friction, which changes the velocity by less than a hundredth in a radian of turning, acts in
// kicks at a few nodes of a step, with free flight between them. With kicks at the nodes of Gauss's rule the
// error is of sixth order in the step and of second in friction (McLachlan, BIT 35 (1995) 258, for nearly
// integrable systems). With film on the ball the kicks are at the nodes at which the film is looked up. The
// approach to the end of the slip is left to the pair of order 5(4).

// coarseTolerance is the least tolerance at which splitting and collocation are used.
const coarseTolerance = 1e-5

const (
	// splitTurn is the largest turning of the ball in one step, in rad. It is less than half a turn, beyond
	// which the rotation vector between the ends of the step is ambiguous and the step would meet film that
	// it laid itself.
	splitTurn = 2.95

	// splitTurnOffCentre is splitTurn with the mass centre aside, where forces turn with the ball.
	splitTurnOffCentre = 2.2

	// splitTurnFilm is splitTurn of a ball that carries film but has not yet met it. Its touches are then 0.4
	// of a step apart.
	splitTurnFilm = 2.2

	// splitTolerance is the tolerance below which splitTurn shrinks, by the third root: the error of kicks
	// falls with the square of the step.
	splitTolerance = 1e-4

	// unevenMoments is the relative difference of the moments of inertia above which splitTurn shrinks: the
	// error of free flight grows with the square of the difference. Real bowling balls are below it.
	unevenMoments = 0.08

	// shortSplit is the turning in rad below which steps are left to the pair.
	shortSplit = 0.3

	// splitSlip is the share of the slip that one step may use up.
	splitSlip = 0.5

	// splitError is the ratio of the error of a velocity after a step to the difference between Gauss's and
	// Simpson's rule, found from 1000 random shots.
	splitError = 0.1

	// edgePrecision is the precision in m with which a step ends at an edge.
	edgePrecision = 1e-7

	// nearEdgeTime is the largest time in s by which the end of a step with film on the ball is moved to the
	// edge without trying the step again. It is less than a touch lasts.
	nearEdgeTime = 1e-5

	// lightest is the normal force, as a share of the weight, below which steps are left to the pair, since
	// the ball may lift off within a step.
	lightest = 0.2

	// splitSpeed is the speed down the lane in m/s below which steps are left to the pair, since the ball may
	// turn back.
	splitSpeed = 1.0
)

// Gauss's rule with three nodes.
var (
	gaussNode   = (1 - math.Sqrt(0.6)) / 2
	gaussWeight = 5. / 18
)

// split moves a sliding ball from time now to the next edge, and returns the time and the event. The event is
// nothing where the pair has to continue.
func (t *Thrower) split(now float64, y []float64) (float64, eventKind) {
	m := &t.m
	dydt := t.rates[:]
	m.ahead.known = false
	m.rate(now, y, dydt)
	most := splitTurn
	if m.offCentre {
		most = splitTurnOffCentre
	}
	if fine := t.tolerance / splitTolerance; fine < 1 {
		most *= portable.Pow(fine, 1./3)
	}
	if uneven := m.uneven(); uneven > unevenMoments {
		most *= unevenMoments / uneven
	}
	onFilm := m.remembers() && m.contact.mu > m.filmless
	h := most / dydt[iTurned]
	for {
		longest := most / dydt[iTurned]
		switch {
		case onFilm:
			longest = m.turningTime(most, dydt[iTurned])
		case m.remembers():
			// The nodes are 0.4 of the step apart.
			longest = min(longest, 2.5*t.apart(splitTurnFilm/2.5/dydt[iTurned], m.contact.mu))
		}
		slip := m.contact.slip
		if a := m.contact.mu * m.g * m.mass * m.mobility; a > 0 {
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
			// With film on the ball the end of a step jumps by some micrometres as its length changes: put it
			// at the edge.
			f.x = t.edges[t.edge].x
		}
		if now = t.acceptSplit(now, step, y, dydt); atEdge {
			return now, edgeAhead
		}
		h = step * min(2, 0.9/math.Sqrt(math.Sqrt(max(size, 1e-3))))
	}
}

// uneven returns the relative difference of the moments of inertia.
func (m *machine) uneven() float64 {
	return max(m.inertia.x, m.inertia.y, m.inertia.z)/min(m.inertia.x, m.inertia.y, m.inertia.z) - 1
}

// freeFor reports whether, for a time h, the only event that can happen to the ball is that it reaches the
// next edge.
func (t *Thrower) freeFor(h, now float64, y, dydt []float64) bool {
	return dydt[ix] > splitSpeed && now+h <= t.maxTime &&
		(t.lane.Edgeless || math.Abs(y[iy])+math.Abs(dydt[iy])*h <= lane.Width/2-edgeNear)
}

// upToEdge shortens a step so that it ends near the next edge, and reports whether it ends there. If only the
// acceleration by friction, at most 2 g, could take the ball to the edge, the step covers at most half of the
// distance.
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

// splittingStep is the splitting step that is being tried.
type splittingStep struct {
	flight, midway flight // at its end and in the middle
	final          action // at its end
	sums           totals
	laneGain       float64 // m³/s, oil that the lane gains at its end
	splitSize      float64 // its error, in terms of the error allowed
}

// totals are integrals along a splitting step (J, m, m³), and the least normal force in N.
type totals struct{ work, slip, lane, lightest float64 }

// add adds a kick, with the means of slip and power over it, so that the energy balance is exact to rounding.
func (s *totals) add(a *action, time float64) {
	s.slip += time * (a.slip + time/2*a.slipRate)
	s.work += time * (a.work + time/2*a.workRate)
	if a.normal < s.lightest {
		s.lightest = a.normal
	}
}

// splitByGauss tries a step with three kicks, and reports whether film on the ball could matter in it.
func (t *Thrower) splitByGauss(now, h float64, y []float64) (filmMatters bool) {
	m, f := &t.m, &t.flight
	remembers := m.remembers()
	m.startFlight(f, y)
	t.sums = totals{lightest: math.Inf(1)}
	var ax, ay [3]float64
	var turning [5]vector // torque at start, nodes and end
	var kick action
	if m.offCentre {
		m.act(&kick, f, m.contact.mu, 0)
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
		t.sums.lane += weight * m.laneGain(f, gap)
		f.kick(&kick, weight/2)
		nodes[i+1].Spin = filmVector(f.spin)
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
	m.contact.mu, t.laneGain = mu, m.laneGain(f, gap)
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
	t.splitSize = size * h * splitError / t.tolerance
	return notable
}

// splitOnFilm tries a step with kicks at the nodes of the leapfrog, at which the film on the ball is looked
// up.
func (t *Thrower) splitOnFilm(now, h float64, y, dydt []float64) {
	m, f := &t.m, &t.flight
	t.leapfrog(now, h, 2, y, dydt)
	m.flightVelocity(f)
	m.contact.mu = m.ahead.nodes[len(m.ahead.nodes)-1].mu
	m.act(&t.final, f, m.contact.mu, 0)
	t.laneGain, t.splitSize = 0, 0
}

// shift moves the end of the tried step by a very short time, forward or backward, to now.
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
	m.contact.mu = last.mu
	m.act(&t.final, f, last.mu, 0)
}

// acceptSplit accepts the tried step: it keeps it as a piece of the dense solution, stores the state at its
// end and its rate in y and dydt, and returns the time.
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
	dydt[iFlare], dydt[iLane] = flare, t.laneGain
	m.contact.time, m.contact.action = next, t.final
	t.keep(now, h, &start, &slopes, &half, &end, (*[dimension]float64)(dydt))
	if m.remembers() {
		t.record(next)
	}
	t.restart(f.q, y, dydt)
	return next
}

// keep appends a step to the dense solution: polynomials of fourth degree through states and rates at both
// ends and the state in the middle, cubics for the integrals.
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

// dropPiece removes the last piece.
func (t *Thrower) dropPiece() {
	last := len(t.pieces) - 1
	t.arena = t.arena[:len(t.arena)-len(t.pieces[last].Coefficients)]
	t.pieces = t.pieces[:last]
}

// state stores a flight in a state vector, with the rotation vector from m.start. It leaves out the
// integrals.
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

// laneGain returns the rate in m³/s at which the lane gains oil from a clean ball; it is negative.
func (m *machine) laneGain(f *flight, gap float64) float64 {
	if !(gap > 0) {
		return 0
	}
	return -film.CleanGain(m.memory, gap, math.Sqrt(f.cx*f.cx+f.cy*f.cy), m.radius*math.Sqrt(f.wx*f.wx+f.wy*f.wy))
}

// slopes stores the rates of the state of a flight, except those of flare and oil.
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
