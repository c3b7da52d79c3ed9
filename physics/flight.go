package physics

import "math"

// flight is a sliding ball whose motion is taken apart: kicks by friction at
// nodes, between them free flight, in which the angular momentum keeps still in
// the lane's axes. The lane's axes are followed in the body's, where they turn
// by −ω × e.
type flight struct {
	x, y, vx, vy float64 // of the mass centre's velocity
	turned       float64
	e1, e2, e3   vector // down-lane, left and up, in body axes
	momentum     vector // kg m²/s, in the lane's axes
	spin         vector // rad/s, in body axes

	cx, cy float64 // velocity of the sphere's centre
	wx, wy float64 // spin in the lane's axes
	ux, uy float64 // slip
	offset vector  // of the mass centre, in the lane's axes
}

// depart begins a flight in a state at which the rotation vector is 0.
func (m *machine) depart(f *flight, y []float64) {
	*f = flight{x: y[ix], y: y[iy], vx: y[ivx], vy: y[ivy], turned: y[iTurned], e1: m.start[0], e2: m.start[1], e3: m.start[2]}
	f.spin = m.start.transposed(vector{y[iwx], y[iwy], y[iwz]})
	momentum := each(m.inertia, f.spin)
	f.momentum = vector{dot(momentum, f.e1), dot(momentum, f.e2), dot(momentum, f.e3)}
}

// observe finds the velocities at the contact.
func (m *machine) observe(f *flight) {
	f.cx, f.cy = f.vx, f.vy
	f.wx, f.wy = dot(f.spin, f.e1), dot(f.spin, f.e2)
	if m.offCentre {
		f.offset = vector{dot(m.offset, f.e1), dot(m.offset, f.e2), dot(m.offset, f.e3)}
		wz := dot(f.spin, f.e3)
		f.cx -= f.wy*f.offset.z - wz*f.offset.y
		f.cy -= wz*f.offset.x - f.wx*f.offset.z
	}
	f.ux, f.uy = m.slip(f.cx, f.cy, f.wx, f.wy)
}

// push is what acts on a flight in a moment: accelerations, torque in the lane's
// axes, and the rate of the spin in body axes; beside them the slip in m/s and
// the power of friction in W, with the rates at which the push changes them, and the
// normal force in N.
type push struct {
	ax, ay             float64
	torque             vector
	change             vector
	slip, work         float64
	slipRate, workRate float64
	normal             float64
}

// pushedFor finds what friction μ, the lane's slope and the normal force do, from now
// on or in the middle of a time.
func (m *machine) pushedFor(p *push, f *flight, mu, time float64) {
	m.evaluations++
	if m.offCentre {
		m.pushedAside(p, f, mu, time)
		return
	}
	m.pushed(p, f, mu)
}

// pushed is pushedFor with the mass centre in the middle, where the push hardly
// depends on the velocities that it changes.
func (m *machine) pushed(p *push, f *flight, mu float64) {
	slip, ex, ey := direction(f.ux, f.uy)
	pull := mu * m.g
	p.ax, p.ay = m.slope.x-pull*ex, m.slope.y-pull*ey
	wz := dot(f.spin, f.e3)
	p.normal = m.mass * m.g
	tz := -p.normal * m.pivot(mu, wz, slip)
	// Friction turns the ball about the horizontal across it.
	across := vector{ex*f.e2.x - ey*f.e1.x, ex*f.e2.y - ey*f.e1.y, ex*f.e2.z - ey*f.e1.z}
	lever := m.mass * m.radius * pull
	p.torque = vector{-lever * ey, lever * ex, tz}
	p.change = each(m.inverse, vector{lever*across.x + tz*f.e3.x, lever*across.y + tz*f.e3.y, lever*across.z + tz*f.e3.z})
	p.slip, p.work = slip, tz*wz-p.normal*mu*slip
	p.slipRate = ex*p.ax + ey*p.ay - m.radius*dot(p.change, across)
	p.workRate = tz*dot(p.change, f.e3) - p.normal*mu*p.slipRate
}

// pushedAside is pushed for a mass centre beside the sphere's, in the middle of a time.
func (m *machine) pushedAside(p *push, f *flight, mu, time float64) {
	m.pushedNow(p, f, mu)
	if time > 0 {
		middle := *f
		middle.kick(p, time/2)
		m.observe(&middle)
		m.pushedNow(p, &middle, mu)
		p.slipRate, p.workRate = 0, 0
	}
}

// pushedNow is pushedAside from now on. As in slide, the normal force is that which
// keeps the sphere's centre at its height: with T the torque per unit of it,
//
//	N (1 − m (d × ẑ)·I⁻¹T) = m [ g + (ω × (ω × d))_z + (d × ẑ)·I⁻¹(−ω × Iω) ]
func (m *machine) pushedNow(p *push, f *flight, mu float64) {
	slip, ex, ey := direction(f.ux, f.uy)
	wz := dot(f.spin, f.e3)
	turning := -m.pivot(mu, wz, slip)
	arm := vector{f.offset.x, f.offset.y, f.offset.z + m.radius}
	per := add(leverage(arm, mu, ex, ey), vector{z: turning})
	change := each(m.inverse, add(add(scale(per.x, f.e1), scale(per.y, f.e2)), scale(per.z, f.e3)))
	across := cross(m.offset, f.e3) // d × ẑ in body axes
	free := each(m.inverse, cross(each(m.inertia, f.spin), f.spin))
	lift := dot(f.spin, m.offset)*wz - dot(f.spin, f.spin)*f.offset.z
	if yield := 1 - m.mass*dot(across, change); yield > jammed {
		p.normal = m.mass * (m.g + lift + dot(across, free)) / yield
	} else {
		p.normal = 0 // no splitting step comes from here
	}
	pull := mu * p.normal / m.mass
	p.ax, p.ay = m.slope.x-pull*ex, m.slope.y-pull*ey
	p.torque, p.change = scale(p.normal, per), scale(p.normal, change)
	x, y, z := dot(p.change, f.e1), dot(p.change, f.e2), dot(p.change, f.e3)
	p.slip, p.work = slip, p.normal*(turning*wz-mu*slip)
	p.slipRate = ex*(p.ax-y*arm.z+z*arm.y) + ey*(p.ay-z*arm.x+x*arm.z)
	p.workRate = p.normal * (turning*z - mu*p.slipRate)
}

// kick lets a push act for a time at one place.
func (f *flight) kick(p *push, time float64) {
	f.vx, f.vy = f.vx+time*p.ax, f.vy+time*p.ay
	f.cx, f.cy = f.cx+time*p.ax, f.cy+time*p.ay
	f.momentum = add(f.momentum, scale(time, p.torque))
	f.spin = add(f.spin, scale(time, p.change))
}

// drift lets the ball fly freely for a time. From Euler's equations I ω̇ = L × ω
// in body axes and Magnus' series the rotation is
//
//	φ = t ω + t²/2 ω̇ + t³/6 ω̈ + t³/12 ω × ω̇ + …
//
// with terms that fall by the relative difference of the moments: the first left
// out is below 1e-7 rad for half a radian and moments that differ by 5 %.
func (m *machine) drift(f *flight, time float64) {
	momentum := each(m.inertia, f.spin)
	first := each(m.inverse, cross(momentum, f.spin))
	second := each(m.inverse, add(cross(each(m.inertia, first), f.spin), cross(momentum, first)))
	bend := cross(f.spin, first)
	t2, t3 := time*time/2, time*time*time*(1./6)
	m.turn(f, time, vector{
		time*f.spin.x + t2*first.x + t3*(second.x+bend.x/2),
		time*f.spin.y + t2*first.y + t3*(second.y+bend.y/2),
		time*f.spin.z + t2*first.z + t3*(second.z+bend.z/2),
	})
}

// shortDrift is drift for a short time: without the term with ω̈, which is below 1e-6
// rad for a quarter of a radian.
func (m *machine) shortDrift(f *flight, time float64) {
	first := each(m.inverse, cross(each(m.inertia, f.spin), f.spin))
	bend := cross(f.spin, first)
	t2, t3 := time*time/2, time*time*time*(1./12)
	m.turn(f, time, vector{
		time*f.spin.x + t2*first.x + t3*bend.x,
		time*f.spin.y + t2*first.y + t3*bend.y,
		time*f.spin.z + t2*first.z + t3*bend.z,
	})
}

// turn lets the ball turn by a rotation in body axes while it flies for a time.
func (m *machine) turn(f *flight, time float64, angle vector) {
	square := dot(angle, angle)
	f.turned += math.Sqrt(square)
	f.x, f.y = f.x+time*f.vx, f.y+time*f.vy
	sin, cos := sinc(square)
	f.e1, f.e3 = turnBack(angle, sin, cos, f.e1), turnBack(angle, sin, cos, f.e3)
	f.e2 = cross(f.e3, f.e1)
	if m.offCentre { // the mass centre flies straight, the sphere's about it
		f.x += f.offset.x - dot(m.offset, f.e1)
		f.y += f.offset.y - dot(m.offset, f.e2)
	}
	l := f.momentum
	f.spin = each(m.inverse, vector{
		l.x*f.e1.x + l.y*f.e2.x + l.z*f.e3.x,
		l.x*f.e1.y + l.y*f.e2.y + l.z*f.e3.y,
		l.x*f.e1.z + l.y*f.e2.z + l.z*f.e3.z,
	})
}
