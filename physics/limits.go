package physics

import (
	"math"

	"lanesim/lane"
)

// DefaultTolerance is the dimensionless accuracy asked of the integration.
const DefaultTolerance = 1e-6

const (
	// slipFloorPerTolerance times the tolerance is ε, the slip in m/s below
	// which the ball may begin to roll: 1e-5 at the default tolerance, and ten
	// times the error that one step may leave in a velocity, so that the
	// direction of the slip is known down to it. At the deceleration of dry
	// boards 1e-5 m/s are gone in a millionth of a second.
	slipFloorPerTolerance = 10.0

	// coarseSlipFloor is that at the tolerances of studies, 3e-3 m/s at 1e-4, and mostSlipFloor the most it
	// comes to. In many shots a rolling ball breaks away once or twice for a moment, which takes the more
	// steps the less slip it is followed to. Of 400 random shots without film 99 % are within 0.013 board
	// with it, within 0.009 with a third of it.
	coarseSlipFloor = 30.0
	mostSlipFloor   = 0.012 // m/s

	// leastSlipFloor bounds ε from below: finer changes nothing.
	leastSlipFloor = 1e-7

	// breakaway is the slip, in terms of ε, with which a rolling ball is set
	// sliding when it breaks away: enough for sliding to be the state that it
	// is in, and of no consequence to the energy (10⁻⁹ J; at the tolerance of studies some 10⁻⁵ J).
	breakaway = 2.0

	// approach is the share of the slip that one step may use up, so that
	// the end of the slip is never stepped over.
	approach = 0.95

	// relaxation is the longest step while the slip is small, in terms of
	// the time in which friction turns the slip's direction, |u|/A with A the
	// acceleration that friction gives the contact. A step at the limit of
	// stability, 3.3 such times, would leave the direction in error for good.
	relaxation = 1.5

	// smallSlip is, in terms of ε, the slip below which that bound holds:
	// above it the error allowed to a velocity turns it by less than 10⁻³ rad.
	smallSlip = 100.0

	// renewal is the number of steps after which the orientation is made a
	// rotation again; each step leaves it one to rounding.
	renewal = 16

	// edgeNear is how near to the lane's edge, in m, a step must end for a look
	// at what happens within it: no path bends by as much in longestStep, in s, by
	// friction of at most twice the weight.
	edgeNear    = 0.05
	longestStep = 0.1

	// edgeClearance is by how much, in m, a ball that is put down over the lane's edge or goes on
	// from another edge must pass it in the other direction: no more than rounding.
	edgeClearance = 1e-9

	// restSpeed is the speed in m/s at which a rolling ball has come to rest:
	// it would need a quarter of a minute for a foot.
	restSpeed = 0.02

	// offsetTolerance is the share of the tolerance that is asked of a step
	// with a mass centre beside the sphere's, which shakes the forces once a
	// turn: it keeps the energy to a millionth.
	offsetTolerance = 0.01

	// offsetToleranceCoarse is that at the tolerances of studies.
	offsetToleranceCoarse = 0.3

	// filmTolerance is the share asked with film on the ball, where the cubic in
	// place of the friction lets steps be longer: it too keeps the energy.
	filmTolerance = 0.3

	// mostTurn is how far, in rad, one step may turn the ball: well inside
	// the rotation vector's range of 2π. With film memory a step must stay
	// shorter than half a turn, the least age of the film that it meets.
	mostTurn       = 4.0
	mostTurnMemory = 2.5

	// pivotFloor is the turning in rad/s about the vertical below which a
	// rolling ball may be held against it: no more than rounding leaves.
	pivotFloor = 1e-9

	// mostChanges bounds the changes between sliding and rolling.
	mostChanges = 10000

	defaultMaxTime = 60.0

	afterBreakaway       = 1e-5 // s, first step tried
	afterBreakawayCoarse = 1e-3 // the same at the tolerances of studies

	// gripPrecision is the time in s within which studies locate the end of a roll.
	gripPrecision = 1e-7

	// finestFilm is the tolerance below which the film on the ball is looked up no more
	// often.
	finestFilm = 1e-7

	// filmNotice times the tolerance is the difference in friction of which no
	// notice is taken: over the length of the lane it moves the ball by less than
	// the tolerance does.
	filmNotice = 0.1

	// afterCatch is the turning, in rad, of the first step tried of a rolling ball.
	afterCatch = 2.0
)

// scales are the natural sizes of the state's components, in which the
// tolerance is meant. What only adds up along the path is not controlled: its
// integrands are as smooth as the motion.
var scales = [dimension]float64{
	ix: 1, iy: 1, ivx: 1, ivy: 1, iwx: 10, iwy: 10, iwz: 10, itx: 10, ity: 10, itz: 10,
	iWork: math.Inf(1), iSlip: math.Inf(1), iTurned: math.Inf(1), iFlare: math.Inf(1),
	iLane: math.Inf(1),
}

// stepLimit keeps steps from running over the end of the slip and the ball
// from turning too far in one.
func (t *Thrower) stepLimit(_ float64, y, dydt []float64) float64 {
	limit := mostTurn
	if t.m.remembers() {
		limit = mostTurnMemory
	}
	if spin := dydt[iTurned]; t.m.remembers() {
		limit = t.m.turningTime(limit, spin)
	} else if spin > 0 {
		limit /= spin
	} else {
		limit = math.Inf(1)
	}
	if !t.lane.Edgeless {
		limit = min(limit, longestStep)
	}
	if t.m.mode != sliding {
		return limit
	}
	m := &t.m
	ux, uy := m.slip(dydt[ix], dydt[iy], y[iwx], y[iwy])
	slip := math.Sqrt(ux*ux + uy*uy)
	if slip <= t.slipFloor {
		return limit
	}
	ax, ay := m.slip(dydt[ivx], dydt[ivy], dydt[iwx], dydt[iwy])
	if m.offCentre {
		// The centre's acceleration is a_G − ω̇ × d − ω × (ω × d).
		offset := m.start.times(m.offset)
		omega := vector{y[iwx], y[iwy], y[iwz]}
		lag := add(cross(vector{dydt[iwx], dydt[iwy], dydt[iwz]}, offset), cross(omega, cross(omega, offset)))
		ax, ay = ax-lag.x, ay-lag.y
	}
	change := (ux*ax + uy*ay) / slip
	if change < 0 {
		limit = min(limit, approach*slip/-change)
	}
	if slip < smallSlip*t.slipFloor {
		if a := m.now.mu * m.now.normal * m.mobility; a > 0 {
			limit = min(limit, relaxation*slip/a)
		}
	}
	return limit
}

// turningTime is that in which a ball with the given spin turns by no more than an angle,
// however friction spins it up.
func (m *machine) turningTime(angle, spin float64) float64 {
	most := m.spinUp(m.law.coefficient(0, m.stretch))
	return 2 * angle / (spin + math.Sqrt(spin*spin+2*most*angle))
}

// spinUp is the most in rad/s² by which friction changes the spin.
func (m *machine) spinUp(mu float64) float64 {
	return mu * m.mass * m.g * m.radius / min(m.inertia.x, m.inertia.y, m.inertia.z)
}

// gripIsSure reports that friction holds a rolling ball throughout the step that
// ends in y, as its core cannot ask for so much force: from the moments about the
// contact, (I + m R²) ω̇ = −ω × Iω, F = m R ω̇. Added are, for what the products of
// inertia couple in from the change about the vertical, the moments' relative
// difference, twice what it can be, and for what the axis moves in the body within a
// step a tenth of the most that |ω × Iω| can be, half the difference of the
// moments times ω².
func (t *Thrower) gripIsSure(y []float64) bool {
	m := &t.m
	if m.mode == sliding {
		return true
	}
	if m.offCentre || m.oiled {
		return false
	}
	mu := m.now.mu
	if m.remembers() {
		// Friction falls with the film.
		mu = min(mu, m.law.coefficient(math.Inf(1), m.stretch))
	}
	low := min(m.inertia.x, m.inertia.y, m.inertia.z)
	high := max(m.inertia.x, m.inertia.y, m.inertia.z)
	q := rotated(vector{y[itx], y[ity], y[itz]}, &m.start)
	spin := q.transposed(vector{y[iwx], y[iwy], y[iwz]})
	gyro := norm(cross(spin, each(m.inertia, spin))) + (high-low)/20*dot(spin, spin)
	core := high / low * m.mass * m.radius * gyro / (low + m.mass*m.radius*m.radius)
	return m.mass*m.g*(mu-m.resistance)-m.mass*math.Abs(m.slope.y) > core
}

// farFromEdges reports that the ball is too far from the gutters to reach one
// and come back within a step.
func (t *Thrower) farFromEdges(y []float64) bool {
	return lane.Width/2-math.Abs(y[iy]) > edgeNear
}
