package pins

import (
	"math"
	"math/rand/v2"
)

const (
	ballIndex = Count
	mostTime  = 4.0 // s, after which a rack is over

	slow = 0.2 // m/s: a rack is over when nothing is faster
)

// Deck computes racks, one after the other. It may be used by one goroutine at a time;
// after the first racks it allocates only paths.
type Deck struct {
	solver
	settings Settings
	draws    draws

	time     float64
	due      [pairs]float64     // s, when the distance of a pair must be checked again
	floorDue [Count + 1]float64 // s, when a body must be checked against deck and side boards again
	height   [Count + 1]float64 // m, of a body above the deck's plane at its last check
	near     []neighbours
	low      []lowPoint

	result   Result
	nextPath float64
	gravity  vector
	sleeping bool // pins may fall asleep again
}

// NewDeck returns a deck with the settings. The error is that of [Settings.Validate].
func NewDeck(s Settings) (*Deck, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	d := &Deck{settings: s.WithDefaults(), draws: draws{rand.NewChaCha8([32]byte{})}, sleeping: true}
	d.gravity = vector{0, 0, -d.settings.Gravity}
	d.contacts = make([]contact, 0, 64)
	d.near = make([]neighbours, 0, 55)
	d.low = make([]lowPoint, 0, 64)
	return d, nil
}

// Roll computes a delivery at the standing pins, [All] for a full rack. How the pins
// differ follows from seed and number alone, so different balls can be rolled at the
// same rack. The delivery must be valid.
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
	d.due, d.floorDue = [pairs]float64{}, [Count + 1]float64{}
	d.result = Result{}
	for i := range d.result.First {
		d.result.First[i].By = Untouched
	}
	d.result.Exit = math.NaN()
}

// step advances to the next contact, by at most the largest step.
func (d *Deck) step() {
	d.contacts, d.near, d.low = d.contacts[:0], d.near[:0], d.low[:0]
	d.meet(0)
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
		if !b.asleep && !b.gone {
			b.v = b.v.add(fall)
		}
	}
	d.rest(dt)
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

// strike resolves a blow and records first touches.
func (d *Deck) strike() {
	d.blow(d.settings.Rebound == ReboundReturned)
	for i := range d.contacts {
		c := &d.contacts[i]
		d.recheck(int(c.a))
		if c.b == fixed {
			continue
		}
		d.recheck(int(c.b))
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

// touched records the first touch of a pin.
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
