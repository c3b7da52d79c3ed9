package pins

import "math"

// Two bodies are checked again only when they may touch: their distance divided by an
// upper bound of their closing speed gives that time.

const (
	leastStep   = 5e-6   // s
	quickStep   = 1e-4   // s, below which the turning of two pins does not shorten a step
	passingStep = 3e-4   // s, below which their motion past each other does not
	overlap     = 0.1e-3 // m, that touching bodies may overlap within a step
	longestRest = 0.03   // s for which the distance of two bodies goes unchecked

	// The points of a pin past an edge of the deck that are deeper than this below deck
	// or gutter, in m, hang over the edge and do not touch.
	overEdge = 0.4e-3
)

// pairs is the number of pairs of bodies; never is a time in s that is not reached.
const (
	pairs = Count * (Count + 1) / 2
	never = math.MaxFloat64
)

// bodiesOf has the bodies of each pair, the ball first; pairOf the pair of two bodies.
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

// meet checks all bodies that may touch within a time in s, and lists their contacts
// and distances. It returns the time, shortened by what it found.
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

// pair checks the bodies of a pair.
func (d *Deck) pair(k int) {
	first, second := int(bodiesOf[k][0]), int(bodiesOf[k][1])
	a, b := &d.bodies[first], &d.bodies[second]
	if a.gone || b.gone || a.asleep && b.asleep {
		d.due[k] = never // or until one wakes
		return
	}
	size := widest + a.radius
	if first != ballIndex {
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
	if first == ballIndex {
		count = ballAndPin(a, b, &places)
	} else {
		count = twoPins(a, b, &places)
	}
	if places[0].gap < touching {
		d.wake(first)
		d.wake(second)
		d.separate(a, b, places[:count])
	}
	for _, t := range places[:count] {
		if t.gap < touching {
			restitution, friction := d.coefficients(a, b)
			d.add(first, second, t.n, t.point, restitution, friction)
		}
		d.near = append(d.near, neighbours{first, second, t})
	}
	d.due[k] = math.Inf(1) // until the step's blow is known
}

// apartFor returns a lower bound of the time in s for which two bodies at a distance in m
// stay apart.
func (d *Deck) apartFor(a, b *body, free float64) float64 {
	speed := a.v.sub(b.v).norm() + (turning(a)+turning(b))*reach
	return d.clear(free, speed)
}

// clear returns a lower bound of the time in s in which a distance closes at no more than
// a speed, allowing for the change of that speed by contacts at rest and gravity.
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
		d.recheck(i)
	}
}

// separate moves two overlapping bodies apart at their deepest overlap, the lighter one
// farther.
func (d *Deck) separate(a, b *body, places []touch) {
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
			b.overhangs = b.overhangs || past || gutter
			hangs = hangs || past || gutter || p.gap < -overEdge
			if gutter {
				p.gap += gutterDepth
			}
			if past || b.overhangs && p.gap < -overEdge {
				p.gap = math.Inf(1)
			}
			lowest = min(lowest, p.gap)
		}
		b.overhangs = b.overhangs && hangs
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

// above lists a point of a body near a plane, and its contact if it touches, with its slot
// among the points on the deck.
func (d *Deck) above(i, slot int, n vector, p planePoint, restitution, friction float64) {
	if p.gap < touching {
		d.add(i, fixed, n, p.point, restitution, friction)
		d.contacts[len(d.contacts)-1].slot = int8(slot)
	}
	d.low = append(d.low, lowPoint{i, n, p.point.sub(d.bodies[i].x), p.gap})
}

// recheck makes the distances of a body due for a check, except those checked in this
// step.
func (d *Deck) recheck(i int) {
	for j := range d.bodies {
		if k := pairOf[i][j]; j != i && !math.IsInf(d.due[k], 1) {
			d.due[k] = 0
		}
	}
	if !math.IsInf(d.floorDue[i], 1) {
		d.floorDue[i] = 0
	}
}

// length returns the length of the next step in s.
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

// nearFor returns the longest step in s for pairs that are near.
func (d *Deck) nearFor(near []neighbours) float64 {
	dt := math.Inf(1)
	for i := range near {
		n := &near[i]
		a, b := &d.bodies[n.a], &d.bodies[n.b]
		v := a.velocity(n.point.sub(a.x)).sub(b.velocity(n.point.sub(b.x)))
		normal := v.dot(n.n)
		turnA, turnB := turning(a), turning(b)
		// The normal turns with the curvature of the surfaces and with the axes.
		across := math.Sqrt(max(0, v.dot(v)-normal*normal))
		bend := across*(across/n.radius+turnA+turnB) + d.bend(a) + d.bend(b)
		dt = min(dt, until(n.gap, -normal, bend))
		// Another place of two pins may become the nearest: where they turn fast, and along
		// the hollow of a neck, where the gap may close as fast as they pass and turn.
		if turns := turnA + turnB; turns > 0 {
			dt = min(dt, max(quickStep, (n.gap+2*overlap)/(turns*reach/2)))
			dt = min(dt, max(passingStep, (n.gap+2*overlap)/(math.Sqrt(v.dot(v))+turns*reach/2)))
		}
	}
	return dt
}

// lowFor returns the longest step in s for points above planes.
func (d *Deck) lowFor(low []lowPoint) float64 {
	dt := math.Inf(1)
	for i := range low {
		p := &low[i]
		a := &d.bodies[p.a]
		dt = min(dt, until(p.gap, -a.velocity(p.r).dot(p.n), d.bend(a)))
	}
	return dt
}

// aboveFor returns a lower bound of the time in s for which a body stays off deck and side
// boards.
func (d *Deck) aboveFor(i int) float64 {
	b := &d.bodies[i]
	turn := turning(b) * reach
	return min(d.clear(d.height[i], turn-b.v.z), d.clear(sideBoard-reach-math.Abs(b.x.y), math.Abs(b.v.y)))
}

// bend returns an upper bound of the acceleration in m/s² of a body's points relative to
// another, from its turning and gravity.
func (d *Deck) bend(b *body) float64 {
	if b.asleep {
		return 0
	}
	if b.radius > 0 {
		return d.settings.Gravity
	}
	return d.settings.Gravity + 0.5*reach*b.w.dot(b.w)
}

// turning returns the rate in rad/s at which the axis of a pin turns.
func turning(b *body) float64 {
	if b.radius > 0 || b.asleep {
		return 0
	}
	along := b.w.dot(b.u)
	return math.Sqrt(max(0, b.w.dot(b.w)-along*along))
}

// until returns the time in s in which a gap is almost used up that closes at a speed
// with at most an acceleration: gap = speed·t + acceleration·t²/2.
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
