package pins

import "math"

// Bodies are looked at again when they may touch, not before: the nearest distance of
// two divided by a bound of the speed at which it can close says when that is.

const (
	leastStep   = 5e-6   // s
	quickStep   = 1e-4   // s, below which the turning of two pins cuts no step
	passingStep = 3e-4   // s, below which their passing each other cuts none
	overlap     = 0.1e-3 // m, that touching bodies may overlap within a step
	longestRest = 0.03   // s for which the distance of two bodies goes unchecked

	// A pin that reaches past an edge of the deck hangs beside the edge with the points
	// that are deeper below deck or gutter than this, in m.
	overEdge = 0.4e-3
)

// pairs is how many pairs of bodies there are, and never a time that does not come, in s.
const (
	pairs = Count * (Count + 1) / 2
	never = math.MaxFloat64
)

// bodiesOf are the bodies of a pair, the ball first; pairOf is the pair of two bodies.
var bodiesOf, pairOf = everyPair()

func everyPair() (of [pairs][2]int8, pair [Count + 1][Count + 1]int8) {
	k := 0
	for i := range Count {
		for j := i + 1; j <= ballIndex; j++ {
			of[k] = [2]int8{int8(i), int8(j)}
			if j == ballIndex {
				of[k] = [2]int8{int8(j), int8(i)}
			}
			pair[i][j], pair[j][i] = int8(k), int8(k)
			k++
		}
	}
	return of, pair
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

// meet looks at all bodies that may touch within a time in s, and lists their contacts
// and how near they are. It returns the time, cut short by what it found.
func (d *Deck) meet(within float64) float64 {
	for k := range d.due {
		if d.due[k] <= d.time+within {
			had := len(d.near)
			if d.pair(k); within > 0 {
				within = min(within, d.nearFor(d.near[had:]))
			}
		}
	}
	for i := range d.bodies {
		if b := &d.bodies[i]; d.floorDue[i] <= d.time+within && !b.gone && !b.asleep {
			had := len(d.low)
			if d.floors(i); within > 0 {
				within = min(within, d.lowFor(d.low[had:]))
			}
		}
	}
	return within
}

// pair looks at the bodies of a pair.
func (d *Deck) pair(k int) {
	one, other := int(bodiesOf[k][0]), int(bodiesOf[k][1])
	a, b := &d.bodies[one], &d.bodies[other]
	if a.gone || b.gone || a.asleep && b.asleep {
		d.due[k] = never // or until one wakes
		return
	}
	size := widest + a.radius
	if one != ballIndex {
		size = 2 * widest
	}
	if free := segments(a, b) - size; free > 0 {
		if rest := d.apartFor(a, b, free); rest > d.settings.LargestStep {
			d.due[k] = d.time + rest
			return
		}
	}
	var places [2]touch
	var count int
	if one == ballIndex {
		count = ballAndPin(a, b, &places)
	} else {
		count = twoPins(a, b, &places)
	}
	if places[0].gap < touching {
		d.wake(one)
		d.wake(other)
		d.apart(a, b, places[:count])
	}
	for _, t := range places[:count] {
		if t.gap < touching {
			restitution, friction := d.coefficients(a, b)
			d.add(one, other, t.n, t.point, t.gap, restitution, friction)
		}
		d.near = append(d.near, neighbours{one, other, t})
	}
	d.due[k] = math.Inf(1) // until the step's blow is known
}

// apartFor bounds from below how long in s two bodies at a distance stay apart.
func (d *Deck) apartFor(a, b *body, free float64) float64 {
	speed := a.v.sub(b.v).norm() + (turning(a)+turning(b))*reach
	return d.clear(free, speed)
}

// clear bounds from below how long in s a distance lasts that closes at a speed at most,
// while contacts at rest and gravity change that speed.
func (d *Deck) clear(free, speed float64) float64 {
	if free < 2*overlap {
		return 0
	}
	return min(until(free-overlap, speed+bounce, 2*d.settings.Gravity), longestRest)
}

// wake lets a pin move.
func (d *Deck) wake(i int) {
	if b := &d.bodies[i]; b.asleep {
		b.asleep, b.still = false, 0
		d.look(i)
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
	soon := (b.fastest() + s.Gravity*s.LargestStep) * s.LargestStep // m
	d.height[i] = b.x.z - reach
	if d.height[i] < soon {
		restitution, friction := min(1, s.PinFloorRestitution*b.restitution), s.PinDeckFriction*b.friction
		if i == ballIndex {
			restitution, friction = 0, s.BallDeckFriction
		}
		count := b.onPlane(up, 0, &points)
		d.height[i] = math.Inf(1)
		lowest, hangs := math.Inf(1), false
		for k := range count {
			p := &points[k]
			d.height[i] = min(d.height[i], p.gap)
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
			p := points[k]
			if p.gap += shift; p.gap < soon {
				p.point.z += shift
				d.above(i, k, up, p, restitution, friction)
			}
		}
	}
	if i != ballIndex && math.Abs(b.x.y)+math.Abs(b.u.y)*reach+widest > sideBoard-soon {
		d.sideBoards(i, &points)
	}
	d.floorDue[i] = math.Inf(1) // until the step's blow is known
}

// sideBoards finds where a pin touches the nearer side board.
func (d *Deck) sideBoards(i int, points *[6]planePoint) {
	b := &d.bodies[i]
	s := &d.settings
	n := vector{0, -math.Copysign(1, b.x.y), 0}
	count := b.onPlane(n, -sideBoard, points)
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
		d.above(i, none, n, p, min(1, s.PinSideBoardRestitution*b.restitution), s.PinSideBoardFriction*b.friction)
	}
}

// above keeps a point of a body near a plane, with its slot among those on the deck.
func (d *Deck) above(i, slot int, n vector, p planePoint, restitution, friction float64) {
	if p.gap < touching {
		d.add(i, fixed, n, p.point, p.gap, restitution, friction)
		d.contacts[len(d.contacts)-1].slot = int8(slot)
	}
	d.low = append(d.low, lowPoint{i, n, p.point.sub(d.bodies[i].x), p.gap})
}

// look makes the distances of a body be looked at again, but for those that have been
// looked at in this step.
func (d *Deck) look(i int) {
	for j := range d.bodies {
		if k := pairOf[i][j]; j != i && !math.IsInf(d.due[k], 1) {
			d.due[k] = 0
		}
	}
	if !math.IsInf(d.floorDue[i], 1) {
		d.floorDue[i] = 0
	}
}

// length returns how long the next step may be.
func (d *Deck) length() float64 {
	dt := min(d.settings.LargestStep, d.nearFor(d.near), d.lowFor(d.low))
	dt = max(d.meet(dt), leastStep)
	for i := range d.near {
		n := &d.near[i]
		if due := &d.due[pairOf[n.a][n.b]]; math.IsInf(*due, 1) {
			*due = d.time + d.apartFor(&d.bodies[n.a], &d.bodies[n.b], n.gap) // of the nearest of two places
		}
	}
	for i := range d.floorDue {
		if math.IsInf(d.floorDue[i], 1) {
			d.floorDue[i] = d.time + d.aboveFor(i)
		}
	}
	return dt
}

// nearFor returns how long a step may be for pairs that are near.
func (d *Deck) nearFor(near []neighbours) float64 {
	dt := math.Inf(1)
	for i := range near {
		n := &near[i]
		a, b := &d.bodies[n.a], &d.bodies[n.b]
		v := a.velocity(n.point.sub(a.x)).sub(b.velocity(n.point.sub(b.x)))
		normal := v.dot(n.n)
		turnA, turnB := turning(a), turning(b)
		// The surfaces curve, the axes turn, and the normal turns with them.
		across := math.Sqrt(max(0, v.dot(v)-normal*normal))
		bend := across*(across/n.radius+turnA+turnB) + d.bend(a) + d.bend(b)
		dt = min(dt, until(n.gap, -normal, bend))
		// Another place of two pins may come nearest: where they turn fast, and along the
		// hollow of a neck, where it may close as fast as they pass and turn.
		if turns := turnA + turnB; turns > 0 {
			dt = min(dt, max(quickStep, (n.gap+2*overlap)/(turns*reach/2)))
			dt = min(dt, max(passingStep, (n.gap+2*overlap)/(math.Sqrt(v.dot(v))+turns*reach/2)))
		}
	}
	return dt
}

// lowFor returns how long a step may be for points above planes.
func (d *Deck) lowFor(low []lowPoint) float64 {
	dt := math.Inf(1)
	for i := range low {
		p := &low[i]
		a := &d.bodies[p.a]
		dt = min(dt, until(p.gap, -a.velocity(p.r).dot(p.n), d.bend(a)))
	}
	return dt
}

// aboveFor bounds from below how long in s a body keeps off deck and side boards.
func (d *Deck) aboveFor(i int) float64 {
	b := &d.bodies[i]
	turn := turning(b) * reach
	return min(d.clear(d.height[i], turn-b.v.z), d.clear(sideBoard-reach-math.Abs(b.x.y), math.Abs(b.v.y)))
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
