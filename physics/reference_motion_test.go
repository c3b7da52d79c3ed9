package physics_test

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// Components of the state of the reference: where the centre of the sphere is,
// the horizontal velocity of the centre of mass, the spin in body axes, the
// orientation as a quaternion (body to lane, scalar first), and running sums.
const (
	posX = iota
	posY
	velX
	velY
	spinPin
	spinIntermediate
	spinPSA
	turn0
	turn1
	turn2
	turn3
	revolutions
	flared
	dissipated
	slipped
	slopeWork
	oilLane // of a ball that stays clean
	referenceSize
)

type referenceVector [referenceSize]float64

func (y *referenceVector) plus(h float64, k *referenceVector) referenceVector {
	z := *y
	for i := range z {
		z[i] += h * k[i]
	}
	return z
}

func (y *referenceVector) normalise() {
	q := y[turn0 : turn3+1]
	n := math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2] + q[3]*q[3])
	for i := range q {
		q[i] /= n
	}
}

func (y *referenceVector) spin() r3.Vec {
	return r3.Vec{X: y[spinPin], Y: y[spinIntermediate], Z: y[spinPSA]}
}

// axes returns the lane's axes x, y and z in body axes.
func (y *referenceVector) axes() (r3.Vec, r3.Vec, r3.Vec) {
	a, b, c, d := y[turn0], y[turn1], y[turn2], y[turn3]
	n := a*a + b*b + c*c + d*d // stages leave the unit sphere a little
	s := 2 / n
	return r3.Vec{X: 1 - s*(c*c+d*d), Y: s * (b*c - a*d), Z: s * (b*d + a*c)},
		r3.Vec{X: s * (b*c + a*d), Y: 1 - s*(b*b+d*d), Z: s * (c*d - a*b)},
		r3.Vec{X: s * (b*d - a*c), Y: s * (c*d + a*b), Z: 1 - s*(b*b+c*c)}
}

// referenceContact is what the lane does to the ball at one instant.
type referenceContact struct {
	Velocity   [2]float64 // m/s, of the centre of the sphere
	Speed      float64    // its magnitude
	Slip, Mu   float64
	Normal     float64
	Force      [2]float64 // N, horizontal, on the ball
	SpinUp     float64    // rad/s, ω_z
	Holding    float64    // N·m, torque that keeps ω_z at zero
	Lane, Ball float64    // m, films that meet
}

func (c referenceContact) force() float64 { return math.Hypot(c.Force[0], c.Force[1]) }

// pivotShare and slipShare are Zhuravlev's Padé approximation of the moment
// and the coupling of a Hertz contact that slides and pivots.
const (
	pivotShare = 3 * math.Pi / 16
	slipShare  = 15 * math.Pi / 16
)

func (r *reference) pivotLimit(c referenceContact) float64 {
	return pivotShare * c.Mu * c.Normal * r.ball.ContactRadius
}

func (r *reference) inertia(v r3.Vec) r3.Vec {
	i := r.ball.Moments
	return r3.Vec{X: i[0] * v.X, Y: i[1] * v.Y, Z: i[2] * v.Z}
}

func (r *reference) inverseInertia(v r3.Vec) r3.Vec {
	i := r.ball.Moments
	return r3.Vec{X: v.X / i[0], Y: v.Y / i[1], Z: v.Z / i[2]}
}

// rates returns the time derivative of the state and the contact. All vectors
// are in body axes; x, y, z are the lane's.
func (r *reference) rates(t float64, s *referenceVector, mode referenceMode) (referenceVector, referenceContact) {
	var k referenceVector
	var c referenceContact
	m, R, g, d := r.ball.Mass, r.ball.Radius, r.settings.Gravity, r.offset
	x, y, z := s.axes()
	w := s.spin()
	wx, wy, wz := r3.Dot(x, w), r3.Dot(y, w), r3.Dot(z, w)
	wd := r3.Cross(w, d)
	c.Velocity = [2]float64{s[velX] - r3.Dot(x, wd), s[velY] - r3.Dot(y, wd)}
	c.Speed = math.Hypot(c.Velocity[0], c.Velocity[1])
	u := [2]float64{c.Velocity[0] - R*wy, c.Velocity[1] + R*wx}
	c.Slip, c.SpinUp = math.Hypot(u[0], u[1]), wz
	c.Lane = r.laneFilm(s, mode)
	if r.grid != nil {
		c.Ball = r.grid.met
	} else if turning := R * math.Hypot(wx, wy); turning > 0 {
		swept := max(turning, c.Speed/5)
		k[oilLane] = -r.ball.Memory.ContactWidth * turning * min(r.ball.Memory.PickUp*c.Lane*c.Speed/swept, c.Lane)
	}
	c.Mu = r.friction(mode, c.Lane+c.Ball)

	// Torque per normal force of rolling resistance.
	var resist r3.Vec
	if h := math.Hypot(wx, wy); h > 0 {
		resist = r3.Scale(-r.lane.RollingResistance*R/h, r3.Sub(w, r3.Scale(wz, z)))
	}
	centripetal := r3.Cross(w, wd)
	gyroscopic := r3.Cross(w, r.inertia(w))
	free := r.inverseInertia(r3.Scale(-1, gyroscopic))
	var dw r3.Vec
	pivot := 0.0 // N·m, torque about z

	if mode.Rolling {
		var f r3.Vec
		dw, f, pivot = r.roll(w, x, y, z, centripetal, gyroscopic, resist, mode.Pivot, c.Mu)
		c.Force, c.Normal = [2]float64{r3.Dot(x, f), r3.Dot(y, f)}, r3.Dot(z, f)
		if mode.Pivot == 0 {
			c.Holding = pivot
		}
	} else {
		var e [2]float64 // direction of slip
		if c.Slip >= r.settings.RollSlip {
			e = [2]float64{u[0] / c.Slip, u[1] / c.Slip}
		} else {
			// Too slow for a direction: the ball breaks away against the
			// force that rolling would take.
			_, f, _ := r.roll(w, x, y, z, centripetal, gyroscopic, resist, referenceSign(wz), c.Mu)
			fx, fy := r3.Dot(x, f), r3.Dot(y, f)
			if n := math.Hypot(fx, fy); n > 0 {
				e = [2]float64{-fx / n, -fy / n}
			}
		}
		perNormal := 0.0
		if a := r.ball.ContactRadius; a > 0 && wz != 0 {
			perNormal = -pivotShare * c.Mu * a * a * wz / (a*math.Abs(wz) + slipShare*c.Slip)
		}
		n := r3.Sub(z, r3.Add(r3.Scale(c.Mu*e[0], x), r3.Scale(c.Mu*e[1], y)))
		arm := r3.Scale(-1, r3.Add(d, r3.Scale(R, z)))
		torque := r3.Add(r3.Add(r3.Cross(arm, n), r3.Scale(perNormal, z)), resist)
		// N = m[g + (ω×(ω×d))_z + (d×ẑ)·ω̇] with ω̇ = free + N·turned.
		lever := r3.Cross(d, z)
		turned := r.inverseInertia(torque)
		c.Normal = m * (g + r3.Dot(z, centripetal) + r3.Dot(lever, free)) / (1 - m*r3.Dot(lever, turned))
		dw = r3.Add(free, r3.Scale(c.Normal, turned))
		pivot = perNormal * c.Normal
		c.Force = [2]float64{-c.Mu * c.Normal * e[0], -c.Mu * c.Normal * e[1]}
		k[dissipated] -= c.Force[0]*u[0] + c.Force[1]*u[1]
		k[slipped] = c.Slip
	}
	k[dissipated] -= pivot*wz + c.Normal*r3.Dot(resist, w)

	k[posX], k[posY] = c.Velocity[0], c.Velocity[1]
	k[velX], k[velY] = c.Force[0]/m, c.Force[1]/m+r.slope
	k[spinPin], k[spinIntermediate], k[spinPSA] = dw.X, dw.Y, dw.Z
	k[slopeWork] = m * r.slope * s[velY]
	q0, q := s[turn0], r3.Vec{X: s[turn1], Y: s[turn2], Z: s[turn3]}
	dq := r3.Scale(0.5, r3.Add(r3.Scale(q0, w), r3.Cross(q, w)))
	k[turn0], k[turn1], k[turn2], k[turn3] = -r3.Dot(q, w)/2, dq.X, dq.Y, dq.Z
	if n := r3.Norm(w); n > 0 {
		k[revolutions] = n / (2 * math.Pi)
		k[flared] = R * r3.Norm(r3.Cross(w, free)) / (n * n)
	}
	return k, c
}

// roll solves the motion of the rolling ball: the acceleration of the spin,
// the force on the ball, and the pivot torque about z. With r = d + Rẑ the
// centre of mass moves at ω × r, hence f = m[ω̇ × r + c], with
// c = ω × (ω × d) + g ẑ − g_slope, and Iω̇ + ω × Iω = −r × f + f_z t, where t
// is the torque per normal force.
func (r *reference) roll(w, x, y, z, centripetal, gyroscopic, resist r3.Vec, pivot, mu float64) (dw, f r3.Vec, torque float64) {
	m := r.ball.Mass
	arm := r3.Add(r.offset, r3.Scale(r.ball.Radius, z))
	c := r3.Add(centripetal, r3.Sub(r3.Scale(r.settings.Gravity, z), r3.Scale(r.slope, y)))
	perNormal := -pivotShare * mu * r.ball.ContactRadius * pivot
	t := r3.Add(resist, r3.Scale(perNormal, z))
	lever := r3.Cross(arm, z)
	column := func(e r3.Vec) r3.Vec {
		a := r3.Add(r.inertia(e), r3.Scale(m, r3.Cross(arm, r3.Cross(e, arm))))
		return r3.Sub(a, r3.Scale(m*r3.Dot(lever, e), t))
	}
	right := r3.Add(r3.Scale(-1, gyroscopic), r3.Sub(r3.Scale(m*r3.Dot(z, c), t), r3.Scale(m, r3.Cross(arm, c))))
	a, b, e := column(r3.Vec{X: 1}), column(r3.Vec{Y: 1}), column(r3.Vec{Z: 1})
	dw = referenceSolve(a, b, e, right)
	holding := 0.0
	if pivot == 0 && r.ball.ContactRadius > 0 {
		up := referenceSolve(a, b, e, z)
		holding = -r3.Dot(z, dw) / r3.Dot(z, up)
		dw = r3.Add(dw, r3.Scale(holding, up))
	}
	f = r3.Scale(m, r3.Add(r3.Cross(dw, arm), c))
	return dw, f, holding + perNormal*r3.Dot(z, f)
}

// solve3 solves the system with columns a, b, c by Cramer's rule.
func referenceSolve(a, b, c, right r3.Vec) r3.Vec {
	det := r3.Dot(a, r3.Cross(b, c))
	return r3.Vec{
		X: r3.Dot(right, r3.Cross(b, c)) / det,
		Y: r3.Dot(a, r3.Cross(right, c)) / det,
		Z: r3.Dot(a, r3.Cross(b, right)) / det,
	}
}

// beginRoll lets the ball begin to roll: the impulse that ends the slip acts at
// the contact, so the angular momentum about the contact stays as it is.
func (r *reference) beginRoll(s *referenceVector) {
	m := r.ball.Mass
	x, y, z := s.axes()
	w := s.spin()
	arm := r3.Add(r.offset, r3.Scale(r.ball.Radius, z))
	v := r3.Add(r3.Add(r3.Scale(s[velX], x), r3.Scale(s[velY], y)), r3.Scale(r3.Dot(z, r3.Cross(w, r.offset)), z))
	column := func(e r3.Vec) r3.Vec {
		return r3.Add(r.inertia(e), r3.Scale(m, r3.Cross(arm, r3.Cross(e, arm))))
	}
	w = referenceSolve(column(r3.Vec{X: 1}), column(r3.Vec{Y: 1}), column(r3.Vec{Z: 1}),
		r3.Add(r.inertia(w), r3.Scale(m, r3.Cross(arm, v))))
	s[spinPin], s[spinIntermediate], s[spinPSA] = w.X, w.Y, w.Z
	r.constrain(s)
}

// constrain sets the velocity to that of a ball that rolls with its spin.
func (r *reference) constrain(s *referenceVector) {
	x, y, z := s.axes()
	v := r3.Cross(s.spin(), r3.Add(r.offset, r3.Scale(r.ball.Radius, z)))
	s[velX], s[velY] = r3.Dot(x, v), r3.Dot(y, v)
}

// energy is the mechanical energy in J.
func (r *reference) energy(s *referenceVector) float64 {
	_, _, z := s.axes()
	w := s.spin()
	up := r3.Dot(z, r3.Cross(w, r.offset))
	return r.ball.Mass*((s[velX]*s[velX]+s[velY]*s[velY]+up*up)/2+r.settings.Gravity*r3.Dot(z, r.offset)) +
		r3.Dot(w, r.inertia(w))/2
}

// friction is the coefficient over a gap film of the given thickness in m.
func (r *reference) friction(mode referenceMode, film float64) float64 {
	f := r.lane.Friction
	switch f.Law {
	case lane.Constant:
		return f.Mu
	case lane.Zones:
		return f.Zones[mode.Zone].Mu
	}
	ratio := f.Entrained * film / math.Hypot(r.ball.Roughness, r.lane.Roughness)
	full, dry := r.coefficients()
	if ratio >= 4 {
		return full
	}
	return full + (dry-full)*math.Pow(1-ratio/4, 6.804)
}

// coefficients are those of a full film and of a dry contact under this ball's
// cover; the lane's are what a reactive one meets.
func (r *reference) coefficients() (film, dry float64) {
	f, c := r.lane.Friction, r.ball.Cover
	if c == (ball.Cover{}) {
		return f.Film, f.Dry
	}
	return f.Film * c.Film / ball.Reactive.Film, f.Dry * c.Dry / ball.Reactive.Dry
}

// laneFilm is the film on the lane in m where the ball touches it.
func (r *reference) laneFilm(s *referenceVector, mode referenceMode) float64 {
	if !mode.Oiled || r.lane.Oil == nil {
		return 0
	}
	return r.lane.Oil.Extended(s[posX], s[posY])
}

// referenceRelease returns the state at release. A left-hander's axis point
// lies at his right, against the spin: there the turn is right-handed about
// −PAP.
func referenceRelease(b ball.Ball, rel physics.Release) referenceVector {
	side := 1.0
	if rel.Hand == ball.Left {
		side = -1
	}
	sinA, cosA := math.Sincos(rel.Angle)
	up := r3.Vec{Z: 1}
	launch := r3.Vec{X: cosA, Y: -side * sinA}
	off := r3.Scale(side, r3.Cross(up, launch))
	sinR, cosR := math.Sincos(rel.AxisRotation)
	sinT, cosT := math.Sincos(rel.AxisTilt)
	pap := r3.Add(r3.Add(r3.Scale(-cosT*sinR, launch), r3.Scale(cosT*cosR, off)), r3.Scale(sinT, up))
	down := r3.Unit(r3.Sub(r3.Scale(sinT, pap), up))
	sinP, cosP := math.Sincos(rel.Phase)
	fingers := r3.Add(r3.Scale(cosP, down), r3.Scale(sinP, r3.Cross(pap, down)))

	vec := func(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }
	from := [3]r3.Vec{vec(b.PAP), vec(b.Fingers), r3.Cross(vec(b.PAP), vec(b.Fingers))}
	to := [3]r3.Vec{pap, fingers, r3.Cross(pap, fingers)}
	image := func(v r3.Vec) (w r3.Vec) {
		for i := range from {
			w = r3.Add(w, r3.Scale(r3.Dot(from[i], v), to[i]))
		}
		return w
	}
	var s referenceVector
	q := referenceQuaternion(image(r3.Vec{X: 1}), image(r3.Vec{Y: 1}), image(r3.Vec{Z: 1}))
	copy(s[turn0:], q[:])
	w := r3.Scale(side*rel.RevRate, vec(b.PAP)) // in body axes
	s[spinPin], s[spinIntermediate], s[spinPSA] = w.X, w.Y, w.Z
	x, y, _ := s.axes()
	wd := r3.Cross(w, vec(b.Offset))
	s[velX] = rel.Speed*launch.X + r3.Dot(x, wd)
	s[velY] = rel.Speed*launch.Y + r3.Dot(y, wd)
	s[posX], s[posY] = rel.LaydownDistance, side*lane.Lateral(rel.Laydown)
	return s
}

// referenceQuaternion returns the rotation whose matrix has the columns a, b, c, from
// its largest component so that nothing cancels.
func referenceQuaternion(a, b, c r3.Vec) [4]float64 {
	squares := [4]float64{1 + a.X + b.Y + c.Z, 1 + a.X - b.Y - c.Z, 1 - a.X + b.Y - c.Z, 1 - a.X - b.Y + c.Z}
	largest := 0
	for i, v := range squares {
		if v > squares[largest] {
			largest = i
		}
	}
	n := 2 * math.Sqrt(squares[largest])
	switch largest {
	case 0:
		return [4]float64{n / 4, (b.Z - c.Y) / n, (c.X - a.Z) / n, (a.Y - b.X) / n}
	case 1:
		return [4]float64{(b.Z - c.Y) / n, n / 4, (b.X + a.Y) / n, (c.X + a.Z) / n}
	case 2:
		return [4]float64{(c.X - a.Z) / n, (b.X + a.Y) / n, n / 4, (c.Y + b.Z) / n}
	}
	return [4]float64{(a.Y - b.X) / n, (c.X + a.Z) / n, (c.Y + b.Z) / n, n / 4}
}
