package physics

import (
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics/film"
)

// StandardGravity is the standard acceleration of free fall in m/s² (ISO
// 80000-3).
const StandardGravity = 9.80665

// The state vector of a shot. Position is that of the sphere's centre,
// velocity that of the centre of mass.
const (
	ix, iy        = 0, 1 // m
	ivx, ivy      = 2, 3 // m/s
	iwx, iwy, iwz = 4, 5, 6
	itx, ity, itz = 7, 8, 9 // rotation vector since the orientation was renewed
	iTurned       = 10      // rad, ∫|ω| dt

	// Integrals that do not act back on the motion.
	iWork       = 11 // J, work of the contact's friction: negative
	iSlip       = 12 // m, slip distance
	iFlare      = 13 // m
	iLane       = 14 // m³, oil that the lane gained; with film memory it follows from the touches
	dimension   = 15
	quadratures = dimension - iWork
)

// mode is how the contact moves.
type mode uint8

const (
	sliding mode = iota
	rolling      // no slip, turning about the vertical against pivot friction
	pinned       // no slip and held against turning about the vertical
)

// machine is the ball on the lane: it computes rates of the state. It holds
// what is constant during a shot, what is constant during a smooth stretch of
// it, and what the last evaluation found.
type machine struct {
	body
	ground
	present
	film  film.Field
	touch film.Touch // the last looked at
	ahead ahead

	// The last evaluation, and how many there were.
	now         contact
	evaluations int
}

// body is the ball of a shot, in a right-hander's terms.
type body struct {
	mass, radius  float64
	inertia       vector // principal moments
	inverse       vector
	isotropic     bool
	offset        vector // centre to centre of mass, in body axes
	offCentre     bool
	mobility      float64 // 1/kg, acceleration of the contact per force, at most
	contactRadius float64
	memory        ball.FilmMemory
}

// ground is the lane under it.
type ground struct {
	g          float64
	slope      vector  // acceleration by the lane's tilt
	resistance float64 // of rolling
	law        frictionLaw
	filmless   float64 // friction up to which the ball's film makes no difference
	oil        *lane.OilMap
	oilSide    float64 // −1 mirrors the oil map
	oilEnd     float64
	patches    [][2]float64 // distances in m between which the film does not jump
}

// present is what holds along the stretch that the ball is on.
type present struct {
	mode      mode
	stretch   int     // index into the friction law's edges
	oiled     bool    // before the pattern's end
	patch     int     // index into the patches of oil
	pivotSide float64 // sign of ω_z while rolling
	start     matrix  // Q₀
	tensor    matrix  // Q₀ I Q₀ᵀ, the inertia in the lane's axes
	inverted  matrix  // its inverse
}

// contact is what one evaluation of the rates found.
type contact struct {
	time     float64
	normal   float64 // N
	yield    float64 // of an off-centre ball
	mu       float64
	holding  float64 // friction that holds a rolling ball
	margin   float64 // μN − |F| while rolling, N
	pivot    float64 // limit − |τ_z| while pinned, N·m
	hold     float64 // τ_z while pinned
	force    [2]float64
	slip     float64
	gap, own float64 // film in the gap and the ball's part of it, m
}

// set prepares the machine for a shot; edges of the law and of the oil are
// left to the caller.
func (m *machine) set(l *lane.Lane, b ball.Ball, hand ball.Hand, gravity float64) error {
	law, err := newFrictionLaw(l, &b)
	if err != nil {
		return err
	}
	m.oilSide = 1
	if hand == ball.Left {
		b = b.Mirror()
		m.oilSide = -1
	}
	m.mass, m.radius = b.Mass, b.Radius
	m.inertia = vectorOf(b.Moments)
	m.inverse = vector{1 / b.Moments[0], 1 / b.Moments[1], 1 / b.Moments[2]}
	m.isotropic = b.Moments[0] == b.Moments[1] && b.Moments[1] == b.Moments[2]
	m.mobility = 1/b.Mass + b.Radius*b.Radius/min(b.Moments[0], b.Moments[1], b.Moments[2])
	m.offset = vectorOf(b.Offset)
	m.offCentre = m.offset != vector{}
	m.contactRadius = b.ContactRadius
	m.resistance = l.RollingResistance
	if gravity == 0 {
		gravity = StandardGravity
	}
	m.g = gravity
	m.slope = vector{0, -m.g * l.Tilt * m.oilSide / lane.Width, 0}
	m.law = law
	m.oil, m.oilEnd = l.Oil, l.Oil.Length()
	m.memory = b.Memory
	return nil
}

// forceRounding is the share of the ball's weight by which a rolling force may
// exceed friction before the ball breaks away: rounding leaves about 1e-15 of
// the weight where no force is needed at all, as on a lane without friction.
const forceRounding = 1e-12

// film on the lane under the contact. Within a smooth stretch the film at its ends
// goes on for ever, or there is none at all.
func (m *machine) laneFilm(x, y float64) float64 {
	if !m.oiled {
		return 0
	}
	if len(m.patches) > 1 {
		patch := &m.patches[m.patch]
		x = min(max(x, patch[0]), patch[1])
	}
	return m.oil.Extended(x, m.oilSide*y)
}

// rate stores the rate of the state y in dydt.
func (m *machine) rate(t float64, y, dydt []float64) {
	m.evaluations++
	switch {
	case !m.offCentre && m.mode == sliding:
		m.slideCentred(t, y, dydt)
		return
	case !m.offCentre:
		m.rollCentred(t, y, dydt)
		return
	}
	omega := vector{y[iwx], y[iwy], y[iwz]}
	theta := vector{y[itx], y[ity], y[itz]}
	r := newRotation(theta)
	turnRate(dydt, theta, omega, r.square, r.sin, r.cos)

	// The spin and the torque-free part of its rate, I⁻¹(−ω × Iω), in the axes
	// that turn with the ball and were the lane's when the step began.
	spun := turnBack(theta, r.sin, r.cos, omega)
	gyro := cross(m.tensor.times(spun), spun)
	free := m.inverted.times(gyro)
	spin2 := dot(omega, omega)
	spin := math.Sqrt(spin2)
	dydt[iTurned] = spin
	if dydt[iFlare] = 0; !m.isotropic {
		dydt[iFlare] = migration(m.radius, free, spun)
	}

	var q matrix
	r.turn(&q, &m.start)
	// Velocity of the sphere's centre and the arm from contact to centre of
	// mass, r = d + R ẑ.
	offset := q.times(m.offset)
	arm := add(vector{0, 0, m.radius}, offset)
	turning := cross(omega, offset)
	vx, vy := y[ivx]-turning.x, y[ivy]-turning.y
	if m.mode != sliding {
		vx, vy = m.radius*omega.y, -m.radius*omega.x
	}
	dydt[ix], dydt[iy] = vx, vy

	m.now.time = t
	if m.ahead.known {
		m.now.mu, m.now.holding, dydt[iLane] = m.ahead.at(t), m.ahead.holding(t), 0
	} else {
		m.exchange(t, y, &q, omega, vx, vy, dydt)
		m.now.mu = m.law.coefficient(m.now.gap, m.stretch)
		m.now.holding = m.now.mu
	}

	if m.mode == sliding {
		m.slide(&r, &q, omega, offset, arm, gyro, vx, vy, dydt)
	} else {
		m.roll(&q, omega, offset, arm, dydt)
	}
}

// orient takes an orientation as the one that the coming step starts from.
func (m *machine) orient(q matrix) {
	m.start = q
	m.tensor = diagonal(m.inertia, &q)
	m.inverted = diagonal(m.inverse, &q)
}

// slide fills in the rates of velocity and spin with the contact slipping. With
// u = v_C + R ω×… the slip, û its direction, n = ẑ − μû and ρ = −r,
//
//	N = m [ g + (ω × (ω × d))_z + (d × ẑ)·ω̇ ]
//	T = ρ × n + (τ_pivot + τ_roll)/N
//	( I − m T (d × ẑ)ᵀ ) ω̇ = m [ g + (ω × (ω × d))_z ] T − ω × (I ω)
//	m v̇_G = −μ N û + m g_slope
//
// The factor of N, 1 − m (d × ẑ)·I⁻¹T, says how much the lane yields to friction that presses the ball
// into it; it is the ratio of the determinants of the tensor on the left and of I. Where it comes to
// nothing friction jams the ball, and rigid bodies know no normal force (Painlevé 1895).
func (m *machine) slide(r *rotation, q *matrix, omega, offset, arm, gyro vector, vx, vy float64, dydt []float64) {
	slip, ex, ey := direction(m.slip(vx, vy, omega.x, omega.y))
	m.now.slip = slip
	mu := m.now.mu
	against := vector{z: -m.pivot(mu, omega.z, slip)}
	m.resist(omega, &against)
	per := add(leverage(arm, mu, ex, ey), against)

	lift := cross(omega, cross(omega, offset)).z
	weight := m.mass * (m.g + lift)
	across := vector{offset.y, -offset.x, 0} // d × ẑ
	tensor := diagonal(m.inertia, q)
	right := add(scale(weight, per), turnForth(r.theta, r.sin, r.cos, gyro))
	tensor.less(m.mass, per, across)
	change, det := tensor.solve(right)
	m.now.yield = det * m.inverse.x * m.inverse.y * m.inverse.z
	normal := weight + m.mass*dot(across, change)
	m.now.normal = normal
	m.now.margin = 0
	f := -mu * normal
	m.now.force = [2]float64{f * ex, f * ey}
	dydt[ivx] = f*ex/m.mass + m.slope.x
	dydt[ivy] = f*ey/m.mass + m.slope.y
	dydt[iwx], dydt[iwy], dydt[iwz] = change.x, change.y, change.z
	dydt[iWork] = f*slip + normal*dot(against, omega)
	dydt[iSlip] = slip
}

// roll fills in the rates without slip. The arm from contact to centre of mass
// turns with the ball, so the force is f = m(ω̇ × r + b) with
// b = ω × (ω × d) + g ẑ − g_slope, and the moments about the contact give
//
//	[ I + m(r² − r rᵀ) − m t (d × ẑ)ᵀ ] ω̇ = −ω × Iω − m r × b + m (g + (ω × (ω × d))_z) t
//
// where t is the torque per unit of normal force that works against pivoting
// and rolling.
func (m *machine) roll(q *matrix, omega, offset, arm vector, dydt []float64) {
	m.now.slip, m.now.yield = 0, 1
	base := add(vector{-m.slope.x, -m.slope.y, m.g}, cross(omega, cross(omega, offset)))
	across := vector{offset.y, -offset.x, 0}
	against := m.against(m.now.mu, omega)

	tensor := diagonal(m.inertia, q)
	right := cross(tensor.times(omega), omega)
	right = add(right, scale(m.mass, add(cross(base, arm), scale(base.z, against))))
	tensor.less(m.mass, arm, arm)
	tensor.less(m.mass, against, across)
	r2 := m.mass * dot(arm, arm)
	tensor[0].x += r2
	tensor[1].y += r2
	tensor[2].z += r2
	var change vector
	if m.mode == pinned {
		det := tensor[0].x*tensor[1].y - tensor[0].y*tensor[1].x
		change.x = (right.x*tensor[1].y - right.y*tensor[0].y) / det
		change.y = (right.y*tensor[0].x - right.x*tensor[1].x) / det
		m.now.hold = dot(tensor[2], change) - right.z
	} else {
		change, _ = tensor.solve(right)
		m.now.hold = 0
	}
	force := add(cross(change, arm), base)
	normal := m.mass * force.z
	fx, fy := m.mass*force.x, m.mass*force.y
	m.gripped(fx, fy, normal)
	dydt[ivx] = fx/m.mass + m.slope.x
	dydt[ivy] = fy/m.mass + m.slope.y
	dydt[iwx], dydt[iwy], dydt[iwz] = change.x, change.y, change.z
	dydt[iWork] = normal * dot(against, omega)
	dydt[iSlip] = 0
}
