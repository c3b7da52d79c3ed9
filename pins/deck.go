package pins

import (
	"math"
)

const (
	ballIndex = Count
	mostTime  = 4.0 // s, after which a rack is over

	slow        = 0.2    // m/s: if nothing is faster a rack is over
	leastStep   = 5e-6   // s
	quickStep   = 1e-4   // s, below which the turning of two pins cuts no step
	passingStep = 3e-4   // s, below which their passing each other cuts none
	overlap     = 0.1e-3 // m, that touching bodies may overlap within a step
	longestRest = 0.03   // s for which the distance of two bodies goes unchecked

	// A pin that reaches past an edge of the deck hangs beside the edge with the points
	// that are deeper below deck or gutter than this, in m.
	overEdge = 0.4e-3
)

// Deck computes racks, one after the other. It is for one goroutine; after the first
// racks it allocates nothing but paths.
type Deck struct {
	solver
	settings Settings
	draws    draws

	time float64
	due  [Count + 1][Count + 1]float64 // s, when two bodies must be looked at again
	near []neighbours
	low  []lowPoint

	result   Result
	nextPath float64
	gravity  vector
	sleeping bool // pins may fall asleep again
}

// neighbours are two bodies that may touch within a step.
type neighbours struct {
	a, b int
	touch
}

// lowPoint is a point of a body above a plane that it may touch within a step.
type lowPoint struct {
	a   int
	n   vector
	r   vector
	gap float64
}

// NewDeck returns a deck, or what is wrong with the settings.
func NewDeck(s Settings) (*Deck, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	d := &Deck{settings: s.WithDefaults(), draws: newDraws(), sleeping: true}
	d.gravity = vector{0, 0, -d.settings.Gravity}
	d.contacts = make([]contact, 0, 64)
	d.near = make([]neighbours, 0, 55)
	d.low = make([]lowPoint, 0, 64)
	return d, nil
}

// Roll computes what a delivery does to the pins of a leave that stand, [All] for a
// full rack. How the pins differ follows from seed and number, the same whatever ball
// comes. The delivery must be valid.
func (d *Deck) Roll(delivery Delivery, standing Leave, seed, number uint64) Result {
	d.set(standing, seed, number)
	d.place(delivery)
	d.begin()
	for !d.over() {
		d.step()
	}
	return d.finish()
}

func (d *Deck) begin() {
	d.time, d.nextPath = 0, 0
	d.due = [Count + 1][Count + 1]float64{}
	d.result = Result{}
	for i := range d.result.First {
		d.result.First[i].By = Untouched
	}
	d.result.Exit = math.NaN()
}

// step goes to the next touch, by the largest step at most.
func (d *Deck) step() {
	d.contacts, d.near, d.low = d.contacts[:0], d.near[:0], d.low[:0]
	d.pairs()
	for i := range d.bodies {
		if b := &d.bodies[i]; !b.asleep && !b.gone {
			d.floors(i)
		}
	}
	for i := range d.contacts {
		if c := &d.contacts[i]; -d.along(c, &c.n) > bounce {
			d.strike()
			break
		}
	}
	dt := d.length()
	fall := d.gravity.mul(dt)
	for i := range d.bodies {
		b := &d.bodies[i]
		b.resting = false
		if !b.asleep && !b.gone {
			b.v = b.v.add(fall)
		}
	}
	if len(d.contacts) > 0 {
		d.rest()
		for i := range d.contacts {
			if c := &d.contacts[i]; c.b == fixed && c.n.impulse > 0 {
				d.bodies[c.a].resting = true
			}
		}
	}
	for i := range d.bodies {
		b := &d.bodies[i]
		if b.asleep || b.gone {
			continue
		}
		b.x = b.x.plus(dt, b.v)
		if !b.resting {
			b.x = b.x.plus(-dt/2, fall) // the parabola of free fall
		}
		b.spin(dt)
	}
	d.time += dt
	d.settle(dt)
}

// pairs finds the bodies that touch or may touch within the next step.
func (d *Deck) pairs() {
	longest := d.settings.LargestStep
	for i := range Count {
		a := &d.bodies[i]
		if a.gone {
			continue
		}
		for j := i + 1; j <= ballIndex; j++ {
			b := &d.bodies[j]
			if b.gone || d.due[i][j] > d.time+longest || a.asleep && b.asleep {
				continue
			}
			one, other, size := i, j, 2*widest
			if j == ballIndex {
				one, other, size = j, i, widest+b.radius
			}
			free := segments(&d.bodies[one], &d.bodies[other]) - size
			speed := a.fastest() + b.fastest() + d.settings.Gravity*longestRest
			if free > speed*longest {
				d.due[i][j] = d.time + min(free/speed, longestRest)
				continue
			}
			var places [2]touch
			var count int
			if j == ballIndex {
				count = ballAndPin(b, a, &places)
			} else {
				count = twoPins(a, b, &places)
			}
			d.due[i][j] = d.time
			first, second := &d.bodies[one], &d.bodies[other]
			if places[0].gap < touching {
				d.wake(a)
				d.wake(b)
				d.apart(first, second, places[:count])
			}
			for _, t := range places[:count] {
				if t.gap < touching {
					restitution, friction := d.coefficients(first, second)
					d.add(one, other, t.n, t.point, t.gap, restitution, friction)
				}
				d.near = append(d.near, neighbours{one, other, t})
			}
		}
	}
}

// wake lets a pin move.
func (d *Deck) wake(b *body) {
	if b.asleep {
		b.asleep, b.still = false, 0
	}
}

// apart takes two bodies that overlap out of each other where they do so most, the
// lighter one farther.
func (d *Deck) apart(a, b *body, places []touch) {
	gap, n := places[0].gap, places[0].n
	if gap >= 0 {
		return
	}
	d.result.Overlap = max(d.result.Overlap, -gap)
	share := a.perMass / (a.perMass + b.perMass)
	a.x = a.x.plus(-gap*share, n)
	b.x = b.x.plus(gap*(1-share), n)
	for i := range places {
		places[i].gap -= gap * n.dot(places[i].n)
	}
}

// floors finds where a body touches deck, gutters and side boards.
func (d *Deck) floors(i int) {
	b := &d.bodies[i]
	s := &d.settings
	var points [6]planePoint
	up := vector{0, 0, 1}
	margin := reach + b.fastest()*s.LargestStep
	restitution, friction := min(1, s.PinFloorRestitution*b.restitution), s.PinDeckFriction*b.friction
	if i == ballIndex {
		restitution, friction = 0, s.BallDeckFriction
	}
	if b.x.z < margin || math.Abs(b.x.y) > edge-reach && b.x.z < margin-gutterDepth {
		count := b.onPlane(up, 0, &points)
		lowest, hangs := math.Inf(1), false
		for k := range count {
			p := &points[k]
			past, gutter := p.point.x > DeckEnd, math.Abs(p.point.y) > edge
			b.beside = b.beside || past || gutter
			hangs = hangs || past || gutter || p.gap < -overEdge
			if gutter {
				p.gap += gutterDepth
			}
			if past || b.beside && p.gap < -overEdge {
				p.gap = math.Inf(1)
			}
			lowest = min(lowest, p.gap)
		}
		b.beside = b.beside && hangs
		shift := 0.0
		if lowest < 0 {
			d.result.Overlap = max(d.result.Overlap, -lowest)
			shift = -lowest
		} else if lowest < touching && b.resting {
			shift = -lowest
		}
		b.x.z += shift
		for k := range count {
			p := &points[k]
			if math.IsInf(p.gap, 1) {
				continue
			}
			p.gap += shift
			p.point.z += shift
			d.above(i, up, *p, restitution, friction)
		}
	}
	if side := math.Abs(b.x.y); side > sideBoard-margin && i != ballIndex {
		n := vector{0, -math.Copysign(1, b.x.y), 0}
		count := b.onPlane(n, -sideBoard, &points)
		lowest := 0.0
		for k := range count {
			lowest = min(lowest, points[k].gap)
		}
		d.result.Overlap = max(d.result.Overlap, -lowest)
		b.x = b.x.plus(-lowest, n)
		for k := range count {
			p := points[k]
			p.gap -= lowest
			p.point = p.point.plus(-lowest, n)
			d.above(i, n, p, min(1, s.PinSideBoardRestitution*b.restitution), s.PinSideBoardFriction*b.friction)
		}
	}
}

// above keeps a point of a body near a plane.
func (d *Deck) above(i int, n vector, p planePoint, restitution, friction float64) {
	if p.gap < touching {
		d.add(i, fixed, n, p.point, p.gap, restitution, friction)
	}
	d.low = append(d.low, lowPoint{i, n, p.point.sub(d.bodies[i].x), p.gap})
}

// strike resolves a blow and notes what touched what first.
func (d *Deck) strike() {
	d.blow(d.settings.Rebound == ReboundReturned)
	for i := range d.contacts {
		c := &d.contacts[i]
		d.look(int(c.a))
		if c.b == fixed {
			continue
		}
		d.look(int(c.b))
		if c.closing <= 0 {
			continue
		}
		d.touched(int(c.b), int(c.a))
		if c.a != ballIndex {
			d.touched(int(c.a), int(c.b))
		} else {
			d.result.Ball = d.result.Ball.With(int(c.b) + 1)
		}
	}
}

// look makes the distances of a body be looked at again.
func (d *Deck) look(i int) {
	for j := range d.due {
		d.due[i][j], d.due[j][i] = 0, 0
	}
}

// touched notes the first touch of a pin.
func (d *Deck) touched(pin, by int) {
	first := &d.result.First[pin]
	if first.By != Untouched {
		return
	}
	*first = Touch{By: by + 1, Time: d.time}
	if by == ballIndex {
		first.By = ByBall
	}
}

// length returns how long the next step may be.
func (d *Deck) length() float64 {
	dt := d.settings.LargestStep
	for i := range d.near {
		n := &d.near[i]
		a, b := &d.bodies[n.a], &d.bodies[n.b]
		v := a.velocity(n.point.sub(a.x)).sub(b.velocity(n.point.sub(b.x)))
		normal := v.dot(n.n)
		// The surfaces curve, the axes turn, and the normal turns with them.
		across := math.Sqrt(max(0, v.dot(v)-normal*normal))
		bend := across*(across/n.radius+turning(a)+turning(b)) + d.bend(a) + d.bend(b)
		dt = min(dt, until(n.gap, -normal, bend))
		// Another place of two pins may come nearest: where they turn fast, and along the
		// hollow of a neck, where it may close as fast as they pass and turn.
		if turns := turning(a) + turning(b); turns > 0 {
			dt = min(dt, max(quickStep, (n.gap+2*overlap)/(turns*reach/2)))
			dt = min(dt, max(passingStep, (n.gap+2*overlap)/(math.Sqrt(v.dot(v))+turns*reach/2)))
		}
	}
	for i := range d.low {
		p := &d.low[i]
		a := &d.bodies[p.a]
		dt = min(dt, until(p.gap, -a.velocity(p.r).dot(p.n), d.bend(a)))
	}
	return max(dt, leastStep)
}

// bend bounds the acceleration in m/s² of points of a body against another, by its
// turning and by gravity.
func (d *Deck) bend(b *body) float64 {
	if b.asleep {
		return 0
	}
	if b.radius > 0 {
		return d.settings.Gravity
	}
	return d.settings.Gravity + 0.5*reach*b.w.dot(b.w)
}

// turning returns how fast in rad/s the axis of a pin turns.
func turning(b *body) float64 {
	if b.radius > 0 || b.asleep {
		return 0
	}
	along := b.w.dot(b.u)
	return math.Sqrt(max(0, b.w.dot(b.w)-along*along))
}

// until returns the time in s after which a gap that closes at a speed, with an
// acceleration at most, is all but used up: gap = speed·t + acceleration·t²/2.
func until(gap, speed, acceleration float64) float64 {
	room := gap - touching/2
	if gap < touching {
		room = overlap
	}
	root := math.Sqrt(speed*speed + 2*acceleration*room)
	if speed+root <= 0 {
		return math.Inf(1)
	}
	return 2 * room / (speed + root)
}
