package pins

import (
	"math"

	"lanesim/lane"
)

const (
	stillSpeed = 0.02 // m/s, and ten times as much in rad/s, below which a pin may fall asleep
	stillTime  = 0.05 // s for which a lying pin must be still
	beyond     = 2.0  // m before the head pin at which a pin no longer counts
)

// settle removes bodies that have left the deck, puts to sleep pins that stand or lie
// still, and records the paths.
func (d *Deck) settle(dt float64) {
	r := &d.result
	recorded := d.settings.PathSpacing > 0 && d.time >= d.nextPath
	if recorded {
		d.nextPath += d.settings.PathSpacing
	}
	for i := range Count {
		b := &d.bodies[i]
		if b.gone || b.asleep {
			continue
		}
		if recorded {
			r.Pins[i] = append(r.Pins[i], PinPoint{d.time, b.x.x, b.x.y, b.x.z, [3]float64{b.u.x, b.u.y, b.u.z}})
		}
		if b.x.z < 0 || b.x.x > curtain || b.x.x < -beyond {
			b.gone = true
			continue
		}
		speed2 := b.v.dot(b.v)
		r.Fastest = max(r.Fastest, speed2)
		if !d.sleeping || !b.resting || speed2 > stillSpeed*stillSpeed || b.w.dot(b.w) > 100*stillSpeed*stillSpeed {
			b.still = 0
			continue
		}
		b.still += dt
		// Only upright within half a degree, or lying: never while it balances on an edge.
		upright, lying := b.u.z > 0.99996, math.Abs(b.u.z) < 0.5
		if b.still > stillTime && (upright || lying) {
			b.asleep, b.v, b.w = true, vector{}, vector{}
		}
	}
	b := &d.bodies[ballIndex]
	if b.gone {
		return
	}
	if recorded {
		r.Path = append(r.Path, PathPoint{d.time, b.x.x, b.x.y, b.x.z})
	}
	if b.x.x > DeckEnd || math.Abs(b.x.y) > edge || b.x.x < -beyond {
		d.ballLeaves()
	}
}

// ballLeaves records where the ball leaves the deck and removes it.
func (d *Deck) ballLeaves() {
	b := &d.bodies[ballIndex]
	y := b.x.y
	if b.x.x > DeckEnd {
		y -= (b.x.x - DeckEnd) * b.v.y / b.v.x
	}
	d.result.Exit = lane.Board(y)
	d.result.ExitHeading = math.Atan2(b.v.y, b.v.x)
	d.result.ExitTime = d.time
	b.gone = true
}

// over reports whether the rack has ended.
func (d *Deck) over() bool {
	if d.time >= mostTime {
		d.result.TimeUp = true
		return true
	}
	ball := &d.bodies[ballIndex]
	moving := !ball.gone && ball.v.dot(ball.v) > slow*slow
	up := false
	for i := range Count {
		b := &d.bodies[i]
		if b.gone {
			continue
		}
		stands := b.u.z >= uprightCosine
		up = up || stands
		if b.asleep {
			continue
		}
		if b.v.dot(b.v) > slow*slow || b.w.dot(b.w)*0.01 > slow*slow || stands && !d.stays(b) {
			moving = true
		}
	}
	return !moving || !up && ball.gone
}

// stays reports whether a standing pin has too little energy to tip over: less than it
// takes to raise its mass centre to where it balances on its edge.
func (d *Deck) stays(b *body) bool {
	high := b.centre - edgeTube
	balance := edgeTube + math.Sqrt(high*high+rimLine*rimLine)
	return b.energy() < b.mass*d.settings.Gravity*(balance-b.x.z) && b.u.z > 0.98
}

// finish completes the result and returns it.
func (d *Deck) finish() Result {
	r := &d.result
	for i := range Count {
		if b := &d.bodies[i]; !b.gone && b.u.z >= uprightCosine {
			r.Standing = r.Standing.With(i + 1)
		}
	}
	if b := &d.bodies[ballIndex]; !b.gone {
		d.ballLeaves()
		r.BallStayed = true
	}
	r.Fastest = math.Sqrt(r.Fastest)
	r.Time = d.time
	return *r
}
