package physics

import "math"

// slideCentred is rate for a sliding ball whose mass centre is the sphere's,
// which is most of every shot: the normal force is then the weight and the
// equations of slide become
//
//	ω̇ = I⁻¹ [ m g T − ω × (I ω) ],   T = R (μû_y, −μû_x, 0) + (τ_pivot + τ_roll)/N
//
// They are solved in the axes that turn with the ball and were the lane's when
// the step began: back = Eᵀ, forth = E with E = exp([θ]×).
func (m *machine) slideCentred(t float64, y, dydt []float64) {
	_, _ = y[dimension-1], dydt[dimension-1]
	omega := vector{y[iwx], y[iwy], y[iwz]}
	theta := vector{y[itx], y[ity], y[itz]}
	square := dot(theta, theta)
	sin, cos := sinc(square)
	turnRate(dydt, theta, omega, square, sin, cos)

	flat2 := omega.x*omega.x + omega.y*omega.y
	spin2 := flat2 + omega.z*omega.z
	dydt[iTurned] = math.Sqrt(spin2)

	vx, vy := y[ivx], y[ivy]
	dydt[ix], dydt[iy] = vx, vy
	now := &m.now
	now.time = t
	var mu float64
	if m.ahead.known {
		mu, dydt[iLane] = m.ahead.at(t), 0
	} else {
		var q matrix
		if m.remembers() {
			advance(&q, theta, &m.start)
		}
		m.exchange(t, y, &q, omega, vx, vy, dydt)
		mu = m.law.coefficient(now.gap, m.stretch)
	}

	slip, ex, ey := direction(m.slip(vx, vy, omega.x, omega.y))
	weight := m.mass * m.g
	pull := mu * m.g // m/s²
	dydt[ivx] = m.slope.x - pull*ex
	dydt[ivy] = m.slope.y - pull*ey
	against := vector{z: -m.pivot(mu, omega.z, slip)}
	if m.resistance != 0 {
		m.resist(omega, &against)
	}
	dydt[iWork] = weight * (dot(against, omega) - mu*slip)
	dydt[iSlip] = slip

	lever := m.radius * mu
	torque := vector{weight * (against.x - lever*ey), weight * (against.y + lever*ex), weight * against.z}
	if m.isotropic {
		dydt[iwx], dydt[iwy], dydt[iwz] = m.inverse.x*torque.x, m.inverse.x*torque.y, m.inverse.x*torque.z
		dydt[iFlare] = 0
	} else {
		spun := turnBack(theta, sin, cos, omega)
		free := m.inverted.times(cross(m.tensor.times(spun), spun))
		dydt[iFlare] = migration(m.radius, free, spun)
		change := turnForth(theta, sin, cos, add(free, m.inverted.times(turnBack(theta, sin, cos, torque))))
		dydt[iwx], dydt[iwy], dydt[iwz] = change.x, change.y, change.z
	}
	now.mu, now.slip, now.normal, now.margin = mu, slip, weight, 0
	now.force = [2]float64{-mu * weight * ex, -mu * weight * ey}
}

// rollCentred is rate for a rolling ball whose mass centre is the sphere's. In
// body axes, with c the vertical, b the moments on the right of roll and
// D = I + m R², the equations are (D − m R² c cᵀ) ω̇ = b, solved by Sherman and
// Morrison's formula
//
//	ω̇ = D⁻¹ b + D⁻¹ c (m R² c·D⁻¹b) / (1 − m R² c·D⁻¹c)
func (m *machine) rollCentred(t float64, y, dydt []float64) {
	_, _ = y[dimension-1], dydt[dimension-1]
	omega := vector{y[iwx], y[iwy], y[iwz]}
	theta := vector{y[itx], y[ity], y[itz]}
	r := newRotation(theta)
	turnRate(dydt, theta, omega, r.square, r.sin, r.cos)
	var q matrix
	r.turn(&q, &m.start)
	spin := q.transposed(omega)
	up := q[2]

	gyro := cross(each(m.inertia, spin), spin)
	spin2 := dot(spin, spin)
	dydt[iTurned] = math.Sqrt(spin2)
	dydt[iFlare] = 0
	if !m.isotropic {
		dydt[iFlare] = migration(m.radius, each(m.inverse, gyro), spin)
	}
	vx, vy := m.radius*omega.y, -m.radius*omega.x
	dydt[ix], dydt[iy] = vx, vy
	now := &m.now
	now.time = t
	if m.ahead.known {
		now.mu, now.holding, dydt[iLane] = m.ahead.at(t), m.ahead.holding(t), 0
	} else {
		m.exchange(t, y, &q, omega, vx, vy, dydt)
		now.mu = m.law.coefficient(now.gap, m.stretch)
		now.holding = now.mu
	}

	weight := m.mass * m.g
	against := m.against(now.mu, omega)
	right := gyro
	if against != (vector{}) {
		right = add(right, scale(weight, q.transposed(against)))
	}
	if m.slope != (vector{}) {
		// −m R ẑ × (−g_slope)
		right = add(right, scale(m.mass*m.radius, q.transposed(vector{-m.slope.y, m.slope.x, 0})))
	}
	shift := m.mass * m.radius * m.radius
	inverse := vector{1 / (m.inertia.x + shift), 1 / (m.inertia.y + shift), 1 / (m.inertia.z + shift)}
	upward := each(inverse, up)
	rest := 1 - shift*dot(up, upward)
	solve := func(b vector) vector {
		x := each(inverse, b)
		return add(x, scale(shift*dot(up, x)/rest, upward))
	}
	change := solve(right)
	now.hold = 0
	if m.mode == pinned {
		// The torque h about the vertical that leaves no change about it.
		held := solve(up)
		now.hold = -dot(up, change) / dot(up, held)
		change = add(change, scale(now.hold, held))
	}
	dydt[iwx], dydt[iwy], dydt[iwz] = dot(q[0], change), dot(q[1], change), dot(q[2], change)
	if m.mode == pinned {
		dydt[iwz] = 0
	}
	now.slip = 0
	ax, ay := m.radius*dydt[iwy], -m.radius*dydt[iwx]
	m.gripped(m.mass*(ax-m.slope.x), m.mass*(ay-m.slope.y), weight)
	dydt[ivx], dydt[ivy] = ax, ay
	dydt[iWork] = weight * dot(against, omega)
	dydt[iSlip] = 0
}

// migration is the rate of flare, R |ω̇⊥|/|ω|, with ω̇⊥ the part across the spin of
// its torque-free rate.
func migration(radius float64, free, spin vector) float64 {
	spin2 := dot(spin, spin)
	if spin2 == 0 {
		return 0
	}
	along := dot(free, spin)
	return radius * math.Sqrt(max(0, dot(free, free)*spin2-along*along)) / spin2
}
