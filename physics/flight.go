package physics

import "math"

// motion is the orientation, spin and velocity of the ball at one instant.
type motion struct {
	q          matrix  // orientation: the axes down-lane, left and up, in body axes
	spin       vector  // rad/s, in body axes
	wx, wy, wz float64 // rad/s, the same in the lane's axes
	offset     vector  // m, of the mass centre, in the lane's axes
	cx, cy     float64 // m/s, velocity of the sphere's centre
	ux, uy     float64 // m/s, slip
}

// contactVelocity finds the velocity of the sphere's centre and the slip of a sliding ball from its spin and
// the velocity of its mass centre.
func (m *machine) contactVelocity(s *motion, vx, vy float64) {
	s.cx, s.cy = vx, vy
	if m.offCentre {
		s.offset = s.q.times(m.offset)
		s.cx -= s.wy*s.offset.z - s.wz*s.offset.y
		s.cy -= s.wz*s.offset.x - s.wx*s.offset.z
	}
	s.ux, s.uy = m.slip(s.cx, s.cy, s.wx, s.wy)
}

// flight is a sliding ball whose motion is split into kicks by friction at nodes and free flight between
// them. In free flight the angular momentum is constant in the lane's axes. The orientation is that of the
// lane's axes e in the body, where they change by −ω × e.
type flight struct {
	motion
	x, y, vx, vy float64 // m and m/s: place of the sphere's centre, velocity of the mass centre
	turned       float64 // rad
	momentum     vector  // kg m²/s, in the lane's axes
}

// startFlight begins a flight from a state whose rotation vector is 0.
func (m *machine) startFlight(f *flight, y []float64) {
	f.x, f.y, f.vx, f.vy, f.turned, f.q = y[ix], y[iy], y[ivx], y[ivy], y[iTurned], m.start
	f.spin = f.q.transposed(vector{y[iwx], y[iwy], y[iwz]})
	f.momentum = f.q.times(each(m.inertia, f.spin))
	m.flightVelocity(f)
}

// flightVelocity finds the spin in the lane's axes and the velocities of a flight.
func (m *machine) flightVelocity(f *flight) {
	f.wx, f.wy, f.wz = dot(f.spin, f.q[0]), dot(f.spin, f.q[1]), dot(f.spin, f.q[2])
	m.contactVelocity(&f.motion, f.vx, f.vy)
}

// act finds the action on a flight, and the rates at which the action changes slip and work. With the mass
// centre aside, forces depend on the velocities that they change: then the action is that in the middle of
// the given time.
func (m *machine) act(a *action, f *flight, mu, time float64) {
	m.slide(a, &f.motion, mu)
	if !m.offCentre {
		x, y, z := dot(a.change, f.q[0]), dot(a.change, f.q[1]), dot(a.change, f.q[2])
		a.slipRate = a.ex*(a.ax-m.radius*y) + a.ey*(a.ay+m.radius*x)
		a.workRate = a.normal * (a.against.x*x + a.against.y*y + a.against.z*z - mu*a.slipRate)
		return
	}
	a.slipRate, a.workRate = 0, 0
	if time > 0 {
		middle := *f
		middle.kick(a, time/2)
		m.flightVelocity(&middle)
		m.slide(a, &middle.motion, mu)
	}
}

// kick applies an action for a time while the ball stays in place.
func (f *flight) kick(a *action, time float64) {
	f.vx, f.vy = f.vx+time*a.ax, f.vy+time*a.ay
	f.cx, f.cy = f.cx+time*a.ax, f.cy+time*a.ay
	f.momentum = add(f.momentum, scale(time, a.torque))
	f.spin = add(f.spin, scale(time, a.change))
}

// drift moves the ball in free flight for a time. By Euler's equations I ω̇ = L × ω in body axes and Magnus'
// series the rotation is
//
//	φ = t ω + t²/2 ω̇ + t³/6 ω̈ + t³/12 ω × ω̇ + …
//
// with terms that become smaller by the relative difference of the moments. The first omitted term is below
// 1e-7 rad for half a radian and moments that differ by 5 %.
func (m *machine) drift(f *flight, time float64) {
	w, first := f.spin, m.free(f.spin)
	second := each(m.euler, vector{first.y*w.z + w.y*first.z, first.z*w.x + w.z*first.x, first.x*w.y + w.x*first.y})
	bend := cross(w, first)
	t2, t3 := time*time/2, time*time*time*(1./6)
	m.turn(f, time, vector{
		time*w.x + t2*first.x + t3*(second.x+bend.x/2),
		time*w.y + t2*first.y + t3*(second.y+bend.y/2),
		time*w.z + t2*first.z + t3*(second.z+bend.z/2),
	})
}

// shortDrift is drift for a short time, without the term with ω̈, which is below 1e-6 rad for a quarter of a
// radian.
func (m *machine) shortDrift(f *flight, time float64) {
	first := m.free(f.spin)
	bend := cross(f.spin, first)
	t2, t3 := time*time/2, time*time*time*(1./12)
	m.turn(f, time, vector{
		time*f.spin.x + t2*first.x + t3*bend.x,
		time*f.spin.y + t2*first.y + t3*bend.y,
		time*f.spin.z + t2*first.z + t3*bend.z,
	})
}

// turn moves the ball for a time while it turns by a rotation vector in body axes.
func (m *machine) turn(f *flight, time float64, angle vector) {
	square := dot(angle, angle)
	f.turned += math.Sqrt(square)
	f.x, f.y = f.x+time*f.vx, f.y+time*f.vy
	sin, cos := sinc(square)
	q := &f.q
	q[0], q[2] = turnBack(angle, sin, cos, q[0]), turnBack(angle, sin, cos, q[2])
	q[1] = cross(q[2], q[0])
	if m.offCentre { // the mass centre flies straight, the sphere's centre moves about it
		f.x += f.offset.x - dot(m.offset, q[0])
		f.y += f.offset.y - dot(m.offset, q[1])
	}
	f.spin = each(m.inverse, q.transposed(f.momentum))
}
