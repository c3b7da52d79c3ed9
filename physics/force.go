package physics

import (
	"math"

	"lanesim/internal/portable"
)

// This file has the law of the contact. Per unit of the normal force N the lane acts on the ball with
//
//	F/N  = −μ û,   û = u/|u|,   u = v + R (−ω_y, ω_x)     where the contact slips,
//	|F|  ≤ μ N                                             where it does not,
//	τ/N  = τ_pivot/N ẑ − c_rr R ω_h/|ω_h|                  against turning on the spot and rolling,
//
// with v the velocity of the sphere's centre, ω the spin in the lane's axes and R the
// sphere's radius.

// pivotCoefficient and pivotMixing are the constants of a Hertz contact of radius a that slides and spins at
// once,
//
//	τ_pivot = −(3π/16) μ N a · a|ω_z| / (a|ω_z| + (15π/16)|u|) · sign ω_z
//
// (Contensou 1963; the fraction is Zhuravlev's Padé form, from memory).
const (
	pivotCoefficient = 3 * math.Pi / 16
	pivotMixing      = 15 * math.Pi / 16
)

// slip returns the velocity u of the contact over the lane, from the velocity of the sphere's centre and the
// spin.
func (m *machine) slip(vx, vy, wx, wy float64) (ux, uy float64) {
	return vx - m.radius*wy, vy + m.radius*wx
}

// direction returns the size of a slip and its direction û, which is zero for a zero slip.
func direction(ux, uy float64) (size, ex, ey float64) {
	if size = math.Sqrt(ux*ux + uy*uy); size > 0 {
		per := 1 / size
		ex, ey = ux*per, uy*per
	}
	return size, ex, ey
}

// leverage returns the torque per unit of normal force about a point at an arm r from the contact, −r × (ẑ −
// μ û).
func leverage(arm vector, mu, ex, ey float64) vector {
	return vector{-(arm.y + arm.z*mu*ey), arm.z*mu*ex + arm.x, arm.x*mu*ey - arm.y*mu*ex}
}

// pivot returns the torque per unit of normal force against turning about the vertical while the contact
// slips, in m. Its sign is that of the turning.
func (m *machine) pivot(mu, turning, slip float64) float64 {
	a := m.contactRadius
	if a == 0 || turning == 0 {
		return 0
	}
	return pivotCoefficient * mu * a * a * turning / (a*math.Abs(turning) + pivotMixing*slip)
}

// pivotGrip returns the largest such torque, which is also that of a contact that does not slip.
func (m *machine) pivotGrip(mu float64) float64 { return pivotCoefficient * mu * m.contactRadius }

// against returns the torque per unit of normal force against pivoting and rolling while the contact does not
// slip, in m.
func (m *machine) against(mu, wx, wy float64) vector {
	against := m.resist(wx, wy)
	if m.mode == rolling {
		against.z = -m.pivotGrip(mu) * m.pivotSide
	}
	return against
}

// resist returns the torque of rolling resistance per unit of normal force, τ_roll/N = −c_rr R ω_h/|ω_h|. It
// takes slowRoll for R|ω_h| in the denominator where that is lower.
func (m *machine) resist(wx, wy float64) vector {
	if m.resistance == 0 {
		return vector{}
	}
	c := -m.resistance * m.radius / max(portable.Hypot(wx, wy), slowRoll/m.radius)
	return vector{x: c * wx, y: c * wy}
}

// slowRoll is the rolling speed in m/s below which rolling resistance fades out, so that it does not jump
// where the spin passes through zero. It is well below restSpeed. If friction is too weak to overcome rolling
// resistance, the ball slides on with less spin than this.
const slowRoll = 0.005

// action holds the forces and torques of lane and gravity on the ball at one instant, and what follows from
// them.
type action struct {
	ax, ay  float64 // m/s², of the mass centre
	change  vector  // rad/s², of the spin, in body axes
	normal  float64 // N
	yield   float64 // factor of N in the equation of slide; 1 with the mass centre in the middle, 0 where friction jams the ball
	slip    float64 // m/s
	ex, ey  float64 // its direction û
	against vector  // m, torque per unit of normal force against pivoting and rolling, in the lane's axes
	torque  vector  // N·m, on a ball that slips, in the lane's axes
	hold    float64 // N·m, torque that keeps a pinned ball from turning about the vertical
	work    float64 // W, power of friction

	slipRate, workRate float64 // m/s² and W/s, rates of slip and work; 0 with the mass centre aside
}

// slide finds the action where the contact slips. Its change of the spin leaves out the torque-free part. The
// normal force keeps the sphere's centre at its height. With T the torque per unit of normal force, d from
// the sphere's centre to the mass centre and ρ = −(d + R ẑ),
//
//	T = ρ × (ẑ − μû) + (τ_pivot + τ_roll)/N
//	N (1 − m (d × ẑ)·I⁻¹T) = m [ g + (ω × (ω × d))_z + (d × ẑ)·I⁻¹(−ω × Iω) ]
//	m v̇_G = −μ N û + m g_slope,   ω̇ = N I⁻¹T − I⁻¹(ω × Iω)
//
// The factor of N is the yield. Where it reaches zero friction jams the ball, and rigid-body mechanics gives
// no normal force (Painlevé 1895).
func (m *machine) slide(a *action, s *motion, mu float64) {
	m.evaluations++
	slip, ex, ey := direction(s.ux, s.uy)
	against := m.resist(s.wx, s.wy)
	against.z = -m.pivot(mu, s.wz, slip)
	lever := mu * m.radius // per has the leverage of R ẑ, and below that of d
	per := vector{against.x - lever*ey, against.y + lever*ex, against.z}
	if m.offCentre {
		per = add(per, leverage(s.offset, mu, ex, ey))
	}
	change := each(m.inverse, s.q.transposed(per))
	normal := m.mass * m.g
	if a.yield = 1; m.offCentre {
		across := cross(m.offset, s.q[2]) // d × ẑ in body axes
		lift := dot(s.spin, m.offset)*s.wz - dot(s.spin, s.spin)*s.offset.z
		a.yield = 1 - m.mass*dot(across, change)
		if normal = 0; a.yield > jammed {
			normal = m.mass * (m.g + lift + dot(across, m.free(s.spin))) / a.yield
		}
	}
	pull := mu * normal / m.mass
	a.ax, a.ay = m.slope.x-pull*ex, m.slope.y-pull*ey
	a.torque, a.change = scale(normal, per), scale(normal, change)
	a.normal, a.slip, a.ex, a.ey, a.against, a.hold = normal, slip, ex, ey, against, 0
	a.work = normal * (against.x*s.wx + against.y*s.wy + against.z*s.wz - mu*slip)
}

// grip finds the action where the contact does not slip. Its change of the spin is complete. The action
// already has t, the torque per unit of normal force against pivoting and rolling. The arm r from the contact
// to the mass centre turns with the ball, so the lane's force is f = m (ω̇ × r + b), and the moments about
// the contact give
//
//	b = ω × (ω × d) + g ẑ − g_slope,   D = I + m r²
//	[ D − m r rᵀ − m t (d × ẑ)ᵀ ] ω̇ = −ω × Iω − m r × b + m b_z t
//
// solved in body axes by Sherman and Morrison's formula. On a pinned ball acts the torque h ẑ that makes the
// change about the vertical zero.
func (m *machine) grip(a *action, q *matrix, spin vector) {
	m.evaluations++
	up := q[2]
	arm := add(scale(m.radius, up), m.offset)
	base, height := scale(m.g, up), m.g    // b and b_z
	right := each(m.inertia, m.free(spin)) // −ω × Iω
	if m.offCentre || m.slope != (vector{}) {
		aside := cross(spin, cross(spin, m.offset))
		base = add(add(base, aside), q.transposed(scale(-1, m.slope)))
		height += dot(aside, up)
		right = add(right, scale(-m.mass, cross(arm, base)))
	}
	inverse := m.inverseAbout(arm)
	solve := func(b vector) vector { return m.solveAbout(inverse, arm, b) }
	if a.against != (vector{}) {
		t := q.transposed(a.against)
		right = add(right, scale(m.mass*height, t))
		if m.offCentre {
			across, per := cross(m.offset, up), solve(t)
			per = scale(m.mass/(1-m.mass*dot(across, per)), per)
			alone := solve
			solve = func(b vector) vector { x := alone(b); return add(x, scale(dot(across, x), per)) }
		}
	}
	a.change, a.hold, a.slip = solve(right), 0, 0
	if m.mode == pinned {
		held := solve(up)
		a.hold = -dot(up, a.change) / dot(up, held)
		a.change = add(a.change, scale(a.hold, held))
	}
	force := add(cross(a.change, arm), base)
	a.normal, a.yield = m.mass*dot(force, up), 1
	a.ax, a.ay = dot(force, q[0])+m.slope.x, dot(force, q[1])+m.slope.y
}

// free returns the rate of the spin without torque, −I⁻¹(ω × Iω), in body axes by Euler's equations
//
//	ω̇_x = (I_y − I_z)/I_x ω_y ω_z   and cyclically
func (m *machine) free(spin vector) vector {
	k := &m.euler
	return vector{k.x * spin.y * spin.z, k.y * spin.z * spin.x, k.z * spin.x * spin.y}
}

// inverseAbout returns D⁻¹, D = I + m r².
func (m *machine) inverseAbout(arm vector) vector {
	if !m.offCentre {
		return m.aboutContact
	}
	return m.inverseWith(m.mass * dot(arm, arm))
}

// inverseWith returns the reciprocals of the principal moments, with more added to each.
func (m *machine) inverseWith(more float64) vector {
	return vector{1 / (m.inertia.x + more), 1 / (m.inertia.y + more), 1 / (m.inertia.z + more)}
}

// solveAbout returns (D − m r rᵀ)⁻¹ b in body axes for a given D⁻¹, by Sherman and Morrison's formula.
func (m *machine) solveAbout(inverse, arm, b vector) vector {
	x, across := each(inverse, b), each(inverse, arm)
	return add(x, scale(m.mass*dot(arm, x)/(1-m.mass*dot(arm, across)), across))
}

// migration returns the rate of flare in m/s, R |ω̇⊥|/|ω|, with ω̇⊥ the component of the torque-free rate at
// right angles to the spin.
func (m *machine) migration(spin, free vector) float64 {
	spin2 := dot(spin, spin)
	if spin2 == 0 {
		return 0
	}
	along := dot(free, spin)
	return m.radius * math.Sqrt(max(0, dot(free, free)*spin2-along*along)) / spin2
}
