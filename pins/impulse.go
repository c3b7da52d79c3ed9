package pins

import "math"

const (
	touching  = 0.05e-3 // m, bodies this near exchange impulses
	bounce    = 0.08    // m/s, slower contacts do not bounce
	settled   = 1e-9    // m/s, change of velocity at which the impulses are found
	resolved  = 1e-4    // m/s, the same for contacts at rest
	mostSweep = 400
)

// contact is a point where two bodies touch, or a body and a fixed surface.
type contact struct {
	a, b int8 // the bodies; b is fixed if the contact is with deck, gutter or board
	slot int8 // which point of the body rests on the deck; none for other contacts

	n            direction // from b to a
	t1, t2       direction // across n
	restitution  float64
	friction     float64
	least        float64 // kg·m/s, lower bound of the impulse along n
	target       float64 // m/s, the separating speed to reach
	closing      float64 // m/s, before the blow
	perAcross    float64 // kg, impulse per change of velocity across n, small enough never to overshoot
	seenA, seenB uint32  // how often the bodies had changed when the contact was last solved
	stale        bool    // has not been solved since the impulses were cleared
}

// direction is a unit vector at a contact with the effect of an impulse along it.
type direction struct {
	unit           vector
	leverA, leverB vector  // r × unit
	turnA, turnB   vector  // I⁻¹ (r × unit), the spin by a unit impulse
	perMass        float64 // kg, impulse per change of velocity
	impulse        float64 // kg·m/s, on a along it and on b against it
}

// fixed stands for deck, gutters and side boards; none for no slot.
const (
	fixed = -1
	none  = -1
)

// solver holds bodies and the contacts among them.
type solver struct {
	bodies   [Count + 1]body
	contacts []contact
	before   [Count + 1][2]vector // v and w before a blow
	changes  [Count + 1]uint32    // of a body's motion, while impulses are found
	halved   int                  // blows whose restitution was reduced to keep the energy
}

// add appends a contact at a point, with n from b to a.
func (s *solver) add(a, b int, n, point vector, restitution, friction float64) {
	s.contacts = append(s.contacts, contact{a: int8(a), b: int8(b), slot: none, restitution: restitution, friction: friction})
	c := &s.contacts[len(s.contacts)-1]
	t1, t2 := tangents(n)
	ra, rb := point.sub(s.bodies[a].x), vector{}
	if b != fixed {
		rb = point.sub(s.bodies[b].x)
	}
	s.direct(c, &c.n, n, ra, rb)
	s.direct(c, &c.t1, t1, ra, rb)
	s.direct(c, &c.t2, t2, ra, rb)
	// The change of velocity by an impulse across n is at most the greatest eigenvalue of
	// its 2 × 2 matrix.
	cross := c.t1.leverA.dot(c.t2.turnA)
	if b != fixed {
		cross += c.t1.leverB.dot(c.t2.turnB)
	}
	k1, k2 := 1/c.t1.perMass, 1/c.t2.perMass
	half := (k1 - k2) / 2
	c.perAcross = 1 / ((k1+k2)/2 + math.Sqrt(half*half+cross*cross))
}

// direct computes the effect of an impulse along a unit vector at a contact.
func (s *solver) direct(c *contact, d *direction, unit, ra, rb vector) {
	a := &s.bodies[c.a]
	d.unit = unit
	d.leverA = ra.cross(unit)
	d.turnA = a.turn(d.leverA)
	k := a.perMass + d.leverA.dot(d.turnA)
	if c.b != fixed {
		b := &s.bodies[c.b]
		d.leverB = rb.cross(unit)
		d.turnB = b.turn(d.leverB)
		k += b.perMass + d.leverB.dot(d.turnB)
	}
	d.perMass = 1 / k
}

// along returns the velocity of a relative to b at a contact along a direction.
func (s *solver) along(c *contact, d *direction) float64 {
	a := &s.bodies[c.a]
	v := d.unit.dot(a.v) + d.leverA.dot(a.w)
	if c.b != fixed {
		b := &s.bodies[c.b]
		v -= d.unit.dot(b.v) + d.leverB.dot(b.w)
	}
	return v
}

// apply adds to the impulse along a direction.
func (s *solver) apply(c *contact, d *direction, j float64) {
	d.impulse += j
	a := &s.bodies[c.a]
	a.v = a.v.plus(j*a.perMass, d.unit)
	a.w = a.w.plus(j, d.turnA)
	if c.b != fixed {
		b := &s.bodies[c.b]
		b.v = b.v.plus(-j*b.perMass, d.unit)
		b.w = b.w.plus(-j, d.turnB)
	}
}

// solve finds the impulses of all contacts together, by sweeps over them (projected
// Gauss–Seidel). Each contact is brought to its target: v·n = target with an impulse
// of at least c.least, or v·n above the target with exactly that. The impulse across
// n stays within Coulomb's cone, against the slip where it lies on the cone. A contact
// is skipped while neither of its bodies changes by more than the tolerance in m/s.
func (s *solver) solve(tolerance float64) {
	for range mostSweep {
		busy := false
		for i := range s.contacts {
			c := &s.contacts[i]
			if !c.stale && s.changes[c.a] == c.seenA && (c.b == fixed || s.changes[c.b] == c.seenB) {
				continue
			}
			c.stale = false
			change := 0.0
			if j := max(c.least, c.n.impulse-(s.along(c, &c.n)-c.target)*c.n.perMass) - c.n.impulse; j != 0 {
				s.apply(c, &c.n, j)
				change = math.Abs(j) / c.n.perMass
			}
			if limit := c.friction * c.n.impulse; limit != 0 || c.t1.impulse != 0 || c.t2.impulse != 0 {
				j1 := c.t1.impulse - s.along(c, &c.t1)*c.perAcross
				j2 := c.t2.impulse - s.along(c, &c.t2)*c.perAcross
				if size := j1*j1 + j2*j2; size > limit*limit {
					k := limit / math.Sqrt(size)
					j1, j2 = k*j1, k*j2
				}
				j1, j2 = j1-c.t1.impulse, j2-c.t2.impulse
				s.apply(c, &c.t1, j1)
				s.apply(c, &c.t2, j2)
				change = max(change, (math.Abs(j1)+math.Abs(j2))/c.perAcross)
			}
			if change > tolerance {
				busy = true
				s.changes[c.a]++
				if c.b != fixed {
					s.changes[c.b]++
				}
				c.stale = true
			}
			c.seenA = s.changes[c.a]
			if c.b != fixed {
				c.seenB = s.changes[c.b]
			}
		}
		if !busy {
			return
		}
	}
}

// reset clears the impulses of a contact and sets its least impulse, without bounce.
func (c *contact) reset(least float64) {
	c.n.impulse, c.t1.impulse, c.t2.impulse = 0, 0, 0
	c.least, c.target, c.stale = least, 0, true
}

func (s *solver) clear() {
	for i := range s.contacts {
		c := &s.contacts[i]
		c.reset(0)
	}
}

// rest removes the closing velocity of the contacts in a step of dt in s, without a
// bounce. It starts from the deck's forces on the bodies in the step before.
func (s *solver) rest(dt float64) {
	s.clear()
	for i := range s.contacts {
		c := &s.contacts[i]
		if c.slot == none {
			continue
		}
		if held := &s.bodies[c.a].held[c.slot]; held[0] > 0 {
			s.apply(c, &c.n, dt*held[0])
			s.apply(c, &c.t1, dt*held[1])
			s.apply(c, &c.t2, dt*held[2])
		}
	}
	s.solve(resolved)
	for i := range s.bodies {
		if b := &s.bodies[i]; b.resting {
			b.resting, b.held = false, [6][3]float64{}
		}
	}
	for i := range s.contacts {
		c := &s.contacts[i]
		if c.b != fixed || c.n.impulse <= 0 {
			continue
		}
		b := &s.bodies[c.a]
		b.resting = true
		if c.slot != none {
			b.held[c.slot] = [3]float64{c.n.impulse / dt, c.t1.impulse / dt, c.t2.impulse / dt}
		}
	}
}

// blow resolves a blow: each closing contact separates with its restitution (Newton's
// law), simultaneously with all others. If returned is set, a floor that did not itself
// bounce then gives back its restitution's share of the impulse it took. Newton's law
// with friction can create energy in rare, oblique blows (Kane and Levinson, Dynamics,
// 1985); the restitution of such a blow is halved until it does not.
func (s *solver) blow(returned bool) {
	energy := 0.0
	for i := range s.bodies {
		b := &s.bodies[i]
		if !b.asleep && !b.gone {
			s.before[i] = [2]vector{b.v, b.w}
			energy += b.energy()
		}
	}
	for i := range s.contacts {
		c := &s.contacts[i]
		c.closing = -s.along(c, &c.n)
	}
	for share := 1.0; ; share /= 2 {
		if share < 0.1 {
			share = 0 // without restitution no energy is created
		}
		s.bounceBack(share, returned)
		after := 0.0
		for i := range s.bodies {
			if b := &s.bodies[i]; !b.asleep && !b.gone {
				after += b.energy()
			}
		}
		if after <= energy*(1+1e-12) || share == 0 {
			return
		}
		s.halved++
		for i := range s.bodies {
			if b := &s.bodies[i]; !b.asleep && !b.gone {
				b.v, b.w = s.before[i][0], s.before[i][1]
			}
		}
	}
}

// bounceBack resolves a blow with every restitution multiplied by share.
func (s *solver) bounceBack(share float64, returned bool) {
	s.clear()
	for i := range s.contacts {
		if c := &s.contacts[i]; c.closing > bounce {
			c.target = share * c.restitution * c.closing
		}
	}
	s.solve(settled)
	if !returned || share == 0 {
		return
	}
	returns := false
	for i := range s.contacts {
		c := &s.contacts[i]
		back := 0.0
		if c.b == fixed && c.target == 0 {
			back = share * c.restitution * c.n.impulse
		}
		c.reset(back)
		returns = returns || back > 1e-6
	}
	if returns {
		s.solve(settled)
	}
}
