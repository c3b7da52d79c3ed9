package physics

import (
	"math"

	"lanesim/ball"
	"lanesim/lane"
)

// StandardGravity is the standard acceleration of free fall in m/s² (ISO
// 80000-3).
const StandardGravity = 9.80665

// The state vector of a shot. Position is that of the sphere's centre,
// velocity that of the centre of mass.
const (
	ix, iy         = 0, 1 // m
	ivx, ivy       = 2, 3 // m/s
	iwx, iwy, iwz  = 4, 5, 6
	itx, ity, itz  = 7, 8, 9 // rotation vector since the orientation was renewed
	iWork          = 10      // J, work of the contact's friction: negative
	iSlip          = 11      // m, slip distance
	iTurned        = 12      // rad, ∫|ω| dt
	iFlare         = 13      // m
	iLane          = 14      // m³, oil that the lane gained
	iTrack, iRings = 15, 16  // m³
	iSoaked        = 17      // m³
	dimension      = 18
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
	// The shot, in a right-hander's terms.
	mass, radius  float64
	inertia       vector // principal moments
	inverse       vector
	offset        vector // centre to centre of mass, in body axes
	offCentre     bool
	mobility      float64 // 1/kg, acceleration of the contact per force, at most
	isotropic     bool
	contactRadius float64
	resistance    float64 // of rolling
	slope         vector  // acceleration by the lane's tilt
	law           frictionLaw
	oil           *lane.OilMap
	oilSide       float64 // −1 mirrors the oil map
	oilEnd        float64
	memory        film
	g             float64

	// The present stretch.
	mode      mode
	stretch   int     // index into the friction law's edges
	oiled     bool    // before the pattern's end
	pivotSide float64 // sign of ω_z while rolling
	start     matrix  // Q₀

	// The last evaluation.
	now contact
}

// contact is what one evaluation of the rates found.
type contact struct {
	time     float64
	normal   float64 // N
	mu       float64
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
	law, err := newFrictionLaw(l.Friction, l.Roughness, b.Roughness)
	if err != nil {
		return err
	}
	m.oilSide = 1
	if hand == ball.Left {
		b = b.Mirror()
		m.oilSide = -1
	}
	m.mass, m.radius = b.Mass, b.Radius
	m.inertia = b.Moments
	m.inverse = vector{1 / b.Moments[0], 1 / b.Moments[1], 1 / b.Moments[2]}
	m.isotropic = b.Moments[0] == b.Moments[1] && b.Moments[1] == b.Moments[2]
	m.mobility = 1/b.Mass + b.Radius*b.Radius/min(b.Moments[0], b.Moments[1], b.Moments[2])
	m.offset = b.Offset
	m.offCentre = b.Offset != vector{}
	m.contactRadius = b.ContactRadius
	m.resistance = l.RollingResistance
	if gravity == 0 {
		gravity = StandardGravity
	}
	m.g = gravity
	m.slope = vector{0, -m.g * l.Tilt * m.oilSide / lane.Width, 0}
	m.law = law
	m.oil, m.oilEnd = l.Oil, l.Oil.Length()
	m.memory.set(b.Memory, m.oil != nil)
	return nil
}

// forceRounding is the share of the ball's weight by which a rolling force may
// exceed friction before the ball breaks away: rounding leaves about 1e-15 of
// the weight where no force is needed at all, as on a lane without friction.
const forceRounding = 1e-12

// film on the lane under the contact. Within a smooth stretch the pattern goes
// on for ever, or is not there at all.
func (m *machine) laneFilm(x, y float64) float64 {
	if !m.oiled {
		return 0
	}
	return m.oil.Extended(x, m.oilSide*y)
}

// pivotCoefficient and pivotMixing belong to a Hertz contact of radius a that
// slides and spins at once,
//
//	τ_pivot = −(3π/16) μ N a · a|ω_z| / (a|ω_z| + (15π/16)|u|) · sign ω_z
//
// (Contensou 1963; the fraction is Zhuravlev's Padé form, from memory).
const (
	pivotCoefficient = 3 * math.Pi / 16
	pivotMixing      = 15 * math.Pi / 16
)

// rate stores the rate of the state y in dydt.
func (m *machine) rate(t float64, y, dydt []float64) {
	_ = y[dimension-1]
	_ = dydt[dimension-1]
	omega := vector{y[iwx], y[iwy], y[iwz]}
	theta := vector{y[itx], y[ity], y[itz]}
	var q matrix
	advance(&q, theta, &m.start)
	chart := chartRate(theta, omega)
	dydt[itx], dydt[ity], dydt[itz] = chart[0], chart[1], chart[2]

	spun := q.transposed(omega) // spin in body axes
	// The torque-free part of the spin's rate, I⁻¹(−ω × Iω), in body axes.
	i := &m.inertia
	free := vector{
		(i[1] - i[2]) * spun[1] * spun[2] * m.inverse[0],
		(i[2] - i[0]) * spun[2] * spun[0] * m.inverse[1],
		(i[0] - i[1]) * spun[0] * spun[1] * m.inverse[2],
	}
	spin2 := dot(omega, omega)
	spin := math.Sqrt(spin2)
	dydt[iTurned] = spin
	dydt[iFlare] = 0
	if spin2 > 0 && !m.isotropic {
		along := dot(free, spun)
		dydt[iFlare] = m.radius * math.Sqrt(max(0, dot(free, free)-along*along/spin2)) / spin
	}

	// Velocity of the sphere's centre and the arm from contact to centre of
	// mass, r = d + R ẑ.
	arm := vector{0, 0, m.radius}
	vx, vy := y[ivx], y[ivy]
	var offset vector
	if m.offCentre {
		offset = q.times(m.offset)
		arm = add(arm, offset)
		turning := cross(omega, offset)
		vx -= turning[0]
		vy -= turning[1]
	}
	if m.mode != sliding {
		vx, vy = m.radius*omega[1], -m.radius*omega[0]
	}
	dydt[ix], dydt[iy] = vx, vy

	m.now.time = t
	m.exchange(t, y, &q, vx, vy, m.radius*math.Hypot(omega[0], omega[1]), dydt)
	m.now.mu = m.law.coefficient(m.now.gap, m.stretch)

	if m.mode == sliding {
		m.slide(y, &q, omega, offset, arm, free, vx, vy, dydt)
	} else {
		m.roll(&q, omega, offset, arm, dydt)
	}
}

// slide fills in the rates of velocity and spin with the contact slipping. With
// u = v_C + R ω×… the slip, û its direction, n = ẑ − μû and ρ = −r,
//
//	N = m [ g + (ω × (ω × d))_z + (d × ẑ)·ω̇ ]
//	T = ρ × n + (τ_pivot + τ_roll)/N
//	( I − m T (d × ẑ)ᵀ ) ω̇ = m [ g + (ω × (ω × d))_z ] T − ω × (I ω)
//	m v̇_G = −μ N û + m g_slope
func (m *machine) slide(y []float64, q *matrix, omega, offset, arm, free vector, vx, vy float64, dydt []float64) {
	ux, uy := vx-m.radius*omega[1], vy+m.radius*omega[0]
	slip := math.Sqrt(ux*ux + uy*uy)
	m.now.slip = slip
	var ex, ey float64
	if slip > 0 {
		ex, ey = ux/slip, uy/slip
	}
	mu := m.now.mu
	// Torque per unit of normal force: −r × (−μû, 1) and what turns against
	// pivoting and rolling.
	per := vector{
		-(arm[1] + arm[2]*mu*ey),
		arm[2]*mu*ex + arm[0],
		arm[0]*mu*ey - arm[1]*mu*ex,
	}
	var against vector
	if a := m.contactRadius; a > 0 && omega[2] != 0 {
		w := a * math.Abs(omega[2])
		against[2] = -pivotCoefficient * mu * a * a * omega[2] / (w + pivotMixing*slip)
	}
	m.resist(omega, &against)
	per = add(per, against)

	normal := m.mass * m.g
	var change vector
	if !m.offCentre {
		torque := q.transposed(per)
		change = q.times(vector{
			free[0] + normal*torque[0]*m.inverse[0],
			free[1] + normal*torque[1]*m.inverse[1],
			free[2] + normal*torque[2]*m.inverse[2],
		})
	} else {
		lift := cross(omega, cross(omega, offset))[2]
		weight := m.mass * (m.g + lift)
		across := vector{offset[1], -offset[0], 0} // d × ẑ
		tensor := m.tensor(q)
		gyro := tensor.times(q.times(free)) // −ω × Iω
		var right vector
		for r := range 3 {
			right[r] = weight*per[r] + gyro[r]
			for c := range 2 {
				tensor[r][c] -= m.mass * per[r] * across[c]
			}
		}
		change = tensor.solve(right)
		normal = weight + m.mass*dot(across, change)
	}
	m.now.normal = normal
	m.now.margin = 0
	f := -mu * normal
	m.now.force = [2]float64{f * ex, f * ey}
	dydt[ivx] = f*ex/m.mass + m.slope[0]
	dydt[ivy] = f*ey/m.mass + m.slope[1]
	dydt[iwx], dydt[iwy], dydt[iwz] = change[0], change[1], change[2]
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
	m.now.slip = 0
	base := vector{-m.slope[0], -m.slope[1], m.g}
	across := vector{}
	if m.offCentre {
		base = add(base, cross(omega, cross(omega, offset)))
		across = vector{offset[1], -offset[0], 0}
	}
	var against vector
	limit := pivotCoefficient * m.now.mu * m.contactRadius // of the pivot's torque per N
	if m.mode == rolling {
		against[2] = -limit * m.pivotSide
	}
	m.resist(omega, &against)

	tensor := m.tensor(q)
	body := tensor.times(omega)
	right := cross(body, omega)
	moment := cross(base, arm)
	r2 := dot(arm, arm)
	for r := range 3 {
		right[r] += m.mass * (moment[r] + base[2]*against[r])
		for c := range 3 {
			tensor[r][c] -= m.mass * (arm[r]*arm[c] + against[r]*across[c])
		}
		tensor[r][r] += m.mass * r2
	}
	var change vector
	if m.mode == pinned {
		det := tensor[0][0]*tensor[1][1] - tensor[0][1]*tensor[1][0]
		change[0] = (right[0]*tensor[1][1] - right[1]*tensor[0][1]) / det
		change[1] = (right[1]*tensor[0][0] - right[0]*tensor[1][0]) / det
		m.now.hold = dot(tensor[2], change) - right[2]
	} else {
		change = tensor.solve(right)
		m.now.hold = 0
	}
	force := add(cross(change, arm), base)
	normal := m.mass * force[2]
	m.now.normal = normal
	m.now.pivot = limit*normal - math.Abs(m.now.hold)
	fx, fy := m.mass*force[0], m.mass*force[1]
	m.now.force = [2]float64{fx, fy}
	m.now.margin = m.now.mu*normal - math.Hypot(fx, fy) + forceRounding*m.mass*m.g
	dydt[ivx] = fx/m.mass + m.slope[0]
	dydt[ivy] = fy/m.mass + m.slope[1]
	dydt[iwx], dydt[iwy], dydt[iwz] = change[0], change[1], change[2]
	dydt[iWork] = normal * dot(against, omega)
	dydt[iSlip] = 0
}

// resist adds rolling resistance, τ_roll/N = −c_rr R ω_h/|ω_h|.
func (m *machine) resist(omega vector, against *vector) {
	if m.resistance == 0 {
		return
	}
	if h := math.Hypot(omega[0], omega[1]); h > 0 {
		c := m.resistance * m.radius / h
		against[0] -= c * omega[0]
		against[1] -= c * omega[1]
	}
}

// tensor is the inertia about the centre of mass in the lane's axes, Q I Qᵀ.
func (m *machine) tensor(q *matrix) matrix {
	var t matrix
	for r := range 3 {
		for c := r; c < 3; c++ {
			v := q[r][0]*m.inertia[0]*q[c][0] + q[r][1]*m.inertia[1]*q[c][1] + q[r][2]*m.inertia[2]*q[c][2]
			t[r][c], t[c][r] = v, v
		}
	}
	return t
}
