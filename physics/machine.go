package physics

import (
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics/film"
)

// StandardGravity is the standard acceleration of free fall in m/s² (ISO 80000-3).
const StandardGravity = 9.80665

// The components of a shot's state vector. The position is that of the sphere's centre, the velocity that of
// the mass centre.
const (
	ix, iy        = 0, 1    // m
	ivx, ivy      = 2, 3    // m/s
	iwx, iwy, iwz = 4, 5, 6 // rad/s, in the lane's axes
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

// machine is the ball on the lane: it computes the rates of the state. It keeps what is constant during a
// shot, what is constant during a smooth stretch, and the results of the last evaluation.
type machine struct {
	body
	ground
	present
	film  film.Field
	touch film.Touch // the last one looked up
	ahead ahead

	// The last evaluation, and how many there were.
	contact     contact
	motion      motion
	evaluations int
}

// body is the ball of a shot; a left-hander's is mirrored.
type body struct {
	mass, radius  float64
	inertia       vector // principal moments
	inverse       vector
	aboutContact  vector // (I + m R²)⁻¹, with the mass centre in the middle
	euler         vector // (I_y − I_z)/I_x and cyclically
	offset        vector // m, from the sphere's centre to the mass centre, in body axes
	offCentre     bool
	mobility      float64 // 1/kg, largest acceleration of the contact per force
	contactRadius float64
	memory        ball.FilmMemory
}

// ground is the lane of a shot.
type ground struct {
	g          float64
	slope      vector  // m/s², acceleration by the lane's tilt
	resistance float64 // coefficient of rolling resistance
	law        frictionLaw
	filmless   float64 // coefficient up to which the ball's film makes no difference
	oil        *lane.OilMap
	oilSide    float64      // −1 mirrors the oil map
	oilEnd     float64      // m, end of the pattern
	patches    [][2]float64 // distances in m between which the film does not jump
}

// present holds the mode and the stretch that the ball is on, and its orientation at the start of the step.
type present struct {
	mode      mode
	stretch   int     // index into the friction law's edges
	oiled     bool    // before the pattern's end
	patch     int     // index into the patches of oil
	pivotSide float64 // sign of ω_z while rolling
	start     matrix  // Q₀
}

// contact is the result of one evaluation of the rates.
type contact struct {
	time float64
	action
	mu       float64 // coefficient of friction
	holding  float64 // coefficient that limits the force on a rolling ball
	margin   float64 // μN − |F| while rolling, N
	pivot    float64 // limit − |τ_z| while pinned, N·m
	gap, own float64 // film in the gap and the ball's part of it, m
}

// prepare prepares the machine for a shot. The caller lists the edges of the law and of the oil.
func (m *machine) prepare(l *lane.Lane, b ball.Ball, hand ball.Hand, gravity float64) error {
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
	m.inverse = m.inverseWith(0)
	m.aboutContact = m.inverseWith(b.Mass * b.Radius * b.Radius)
	m.euler = vector{(b.Moments[1] - b.Moments[2]) / b.Moments[0], (b.Moments[2] - b.Moments[0]) / b.Moments[1], (b.Moments[0] - b.Moments[1]) / b.Moments[2]}
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

// laneFilm returns the film on the lane under the contact in m. Beyond the ends of a smooth stretch its film
// continues; after the end of the pattern there is none.
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
	_, _ = y[dimension-1], dydt[dimension-1]
	s, c := &m.motion, &m.contact
	r := m.motionIn(s, y)
	omega, free := vector{s.wx, s.wy, s.wz}, m.free(s.spin)
	turnRate(dydt, omega, &r)
	dydt[ix], dydt[iy] = s.cx, s.cy
	dydt[iTurned], dydt[iFlare] = norm(omega), m.migration(s.spin, free)

	c.time = t
	if m.ahead.known {
		c.mu, dydt[iLane] = m.ahead.friction(t), 0
	} else {
		m.exchange(t, y, s, dydt)
		c.mu = m.law.coefficient(c.gap, m.stretch)
	}
	if m.mode == sliding {
		m.slide(&c.action, s, c.mu)
		c.change = add(c.change, free)
	} else {
		m.roll(s)
	}
	change := s.q.times(c.change)
	if m.mode == pinned {
		change.z = 0
	}
	dydt[ivx], dydt[ivy] = c.ax, c.ay
	dydt[iwx], dydt[iwy], dydt[iwz] = change.x, change.y, change.z
	dydt[iWork], dydt[iSlip] = c.work, c.slip
}

// roll finds the forces on a rolling ball, and by how much the available friction exceeds the force that
// rolling needs.
func (m *machine) roll(s *motion) {
	c := &m.contact
	if c.holding = c.mu; m.ahead.known {
		c.holding = m.ahead.holding(c.time)
	}
	c.against = m.against(c.mu, s.wx, s.wy)
	m.grip(&c.action, &s.q, s.spin)
	c.work = c.normal * (c.against.x*s.wx + c.against.y*s.wy + c.against.z*s.wz)
	fx, fy := m.force(&c.action)
	c.margin = c.holding*c.normal - math.Sqrt(fx*fx+fy*fy) + forceRounding*m.mass*m.g
	c.pivot = m.pivotGrip(c.holding)*c.normal - math.Abs(c.hold)
}

// force returns the force of friction on the ball in N.
func (m *machine) force(a *action) (fx, fy float64) {
	return m.mass * (a.ax - m.slope.x), m.mass * (a.ay - m.slope.y)
}

// motionIn finds how the ball moves in a state, and returns the state's rotation.
func (m *machine) motionIn(s *motion, y []float64) rotation {
	r := newRotation(vector{y[itx], y[ity], y[itz]})
	r.turn(&s.q, &m.start)
	s.wx, s.wy, s.wz = y[iwx], y[iwy], y[iwz]
	s.spin = s.q.transposed(vector{s.wx, s.wy, s.wz})
	if m.mode == sliding {
		m.contactVelocity(s, y[ivx], y[ivy])
	} else {
		s.cx, s.cy, s.ux, s.uy = m.radius*s.wy, -m.radius*s.wx, 0, 0
	}
	return r
}
