package physics

import (
	"math"

	"lanesim/lane"
)

// DefaultTolerance is the default of [Settings].Tolerance, dimensionless.
const DefaultTolerance = 1e-6

const (
	// slipFloorPerTolerance times the tolerance is ε, the slip in m/s below which the ball may begin to roll.
	// It is 1e-5 at the default tolerance, ten times the error of a velocity allowed in one step, so that the
	// direction of the slip is known down to it. Dry boards remove 1e-5 m/s of slip in about a microsecond.
	slipFloorPerTolerance = 10.0

	// coarseSlipFloor is slipFloorPerTolerance at the tolerances of studies, which makes ε 3e-3 m/s at 1e-4,
	// and mostSlipFloor is the largest ε. In many shots a rolling ball breaks away once or twice for a
	// moment, and a lower ε takes more steps there. Of 400 random shots without film 99 % are within 0.013
	// board with it, and within 0.009 board with a third of it.
	coarseSlipFloor = 30.0
	mostSlipFloor   = 0.012 // m/s

	// leastSlipFloor is the least ε: a lower one changes nothing.
	leastSlipFloor = 1e-7

	// breakaway is the slip, in terms of ε, that a rolling ball gets when it breaks away: enough to count as
	// sliding, with negligible energy (10⁻⁹ J; some 10⁻⁵ J at the tolerance of studies).
	breakaway = 2.0

	// approach is the share of the slip that one step may use up, so that no step passes the end of the slip.
	approach = 0.95

	// relaxation is the longest step while the slip is small, in terms of the time in which friction turns
	// the slip's direction, |u|/A with A the acceleration of the contact by friction. With steps at the limit
	// of stability, 3.3 such times, errors of the direction would not decay.
	relaxation = 1.5

	// smallSlip is the slip, in terms of ε, below which that limit applies: above it the error allowed in a
	// velocity turns the slip by less than 10⁻³ rad.
	smallSlip = 100.0

	// renewal is the number of steps after which the orientation is orthonormalised again; each step adds
	// only rounding.
	renewal = 16

	// edgeNear is the distance in m from the lane's edge within which the inside of a step is searched for
	// the gutter: within longestStep, in s, friction of at most twice the weight bends no path by as much.
	edgeNear    = 0.05
	longestStep = 0.1

	// edgeClearance is the distance in m by which a ball that is laid down on the lane's edge, or starts from
	// an edge between stretches, must go beyond it to count as past it: no more than rounding.
	edgeClearance = 1e-9

	// restSpeed is the speed in m/s at which a rolling ball counts as at rest: a foot in a quarter of a
	// minute.
	restSpeed = 0.02

	// offsetTolerance multiplies the tolerance for a ball with the mass centre aside, whose forces vary once
	// a turn. It keeps the energy to a millionth.
	offsetTolerance = 0.01

	// offsetToleranceCoarse is offsetTolerance at the tolerances of studies.
	offsetToleranceCoarse = 0.3

	// filmTolerance multiplies the tolerance for a ball with film on it, where the cubic for the friction
	// allows longer steps. It, too, keeps the energy to a millionth.
	filmTolerance = 0.3

	// mostTurn is the largest turning of the ball in one step of the pair, in rad: well inside the rotation
	// vector's range of 2π. With film memory, mostTurnMemory keeps a step below half a turn, so that it meets
	// only film that was laid before it.
	mostTurn       = 4.0
	mostTurnMemory = 2.5

	// pivotFloor is the spin in rad/s about the vertical below which pivot friction may stop a rolling ball's
	// turning: no more than rounding.
	pivotFloor = 1e-9

	// mostChanges bounds the number of events in a shot, in the main changes between sliding and rolling.
	mostChanges = 10000

	defaultMaxTime = 60.0

	afterBreakaway       = 1e-5 // s, first step tried
	afterBreakawayCoarse = 1e-3 // the same at the tolerances of studies

	// gripPrecision is the precision in s with which studies locate the end of rolling.
	gripPrecision = 1e-7

	// finestFilm is the tolerance below which touches become no closer.
	finestFilm = 1e-7

	// filmNotice times the tolerance is the difference in friction that is neglected: over the length of the
	// lane it moves the ball by less than the error of the integration.
	filmNotice = 0.1

	// afterCatch is the turning in rad of the first step tried after rolling has begun.
	afterCatch = 2.0
)

// scales are the natural sizes of the state's components, to which the tolerance is relative. The integrals
// are not controlled: their integrands are as smooth as the motion.
var scales = [dimension]float64{
	ix: 1, iy: 1, ivx: 1, ivy: 1, iwx: 10, iwy: 10, iwz: 10, itx: 10, ity: 10, itz: 10,
	iWork: math.Inf(1), iSlip: math.Inf(1), iTurned: math.Inf(1), iFlare: math.Inf(1),
	iLane: math.Inf(1),
}

// stepLimit returns the longest step in s: it must not pass the end of the slip nor turn the ball too far.
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
		if a := m.contact.mu * m.contact.normal * m.mobility; a > 0 {
			limit = min(limit, relaxation*slip/a)
		}
	}
	return limit
}

// turningTime returns a time in s in which a ball with the given spin turns by no more than an angle, even if
// friction spins it up.
func (m *machine) turningTime(angle, spin float64) float64 {
	most := m.spinUp(m.law.coefficient(0, m.stretch))
	return 2 * angle / (spin + math.Sqrt(spin*spin+2*most*angle))
}

// spinUp returns the largest change of the spin by friction in rad/s².
func (m *machine) spinUp(mu float64) float64 {
	return mu * m.mass * m.g * m.radius / min(m.inertia.x, m.inertia.y, m.inertia.z)
}

// gripIsSure reports whether a rolling ball surely grips throughout the step that ends in y, because friction
// exceeds any force that its core can need: from the moments about the contact, (I + m R²) ω̇ = −ω × Iω, F =
// m R ω̇. Two margins are added. The moments' relative difference, twice what is possible, covers the
// coupling by products of inertia with the change about the vertical. A tenth of the largest |ω × Iω|, which
// is half the difference of the moments times ω², covers the motion of the axis in the body within a step.
func (t *Thrower) gripIsSure(y []float64) bool {
	m := &t.m
	if m.mode == sliding {
		return true
	}
	if m.offCentre || m.oiled {
		return false
	}
	mu := m.contact.mu
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

// farFromEdges reports whether the ball is too far from the gutters to reach one and come back within a step.
func (t *Thrower) farFromEdges(y []float64) bool {
	return lane.Width/2-math.Abs(y[iy]) > edgeNear
}
