package physics_test

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// referenceSample is one point of the contact's trail over the ball.
type referenceSample struct {
	Time, Revolutions float64
	Contact           r3.Vec  // unit vector in body axes
	Film              float64 // m, left on the ball
}

// referenceTrack is the trail so far.
type referenceTrack struct {
	samples []referenceSample
	first   int     // samples before it are more than 1½ turns old
	longest float64 // longest chord between neighbours
	last    int     // where the last search ended
}

func (k *referenceTrack) add(t float64, s *referenceVector, c referenceContact) {
	if n := len(k.samples); n > 0 && k.samples[n-1].Revolutions == s[revolutions] && k.samples[n-1].Film == c.Left {
		return // no turn, no trail; but the film may jump
	}
	if n := len(k.samples); n > 0 {
		k.longest = max(k.longest, r3.Norm(r3.Sub(c.ContactOnBall, k.samples[n-1].Contact)))
	}
	k.samples = append(k.samples, referenceSample{t, s[revolutions], c.ContactOnBall, c.Left})
	for k.first+1 < len(k.samples) && k.samples[k.first+1].Revolutions < s[revolutions]-1.5 {
		k.first++
	}
}

// nearest finds the point of the trail nearest to the contact between ½ and
// 1½ turns ago: its angle from the contact in rad, the time at which it was
// laid, the film left there, and whether the trail begins there. There is none
// in the first half turn.
//
// Every piece of the trail is searched, but pieces that cannot be nearer than
// the best so far are passed over; the search begins where the last one ended.
func (k *referenceTrack) nearest(turns float64, contact r3.Vec) (angle, time, film float64, begins, ok bool) {
	oldest, youngest := turns-1.5, turns-0.5
	best := math.Inf(1)
	var at int
	var share float64
	consider := func(i int) {
		a, b := &k.samples[i], &k.samples[i+1]
		span := b.Revolutions - a.Revolutions
		if span == 0 {
			return
		}
		from, to := max(0, (oldest-a.Revolutions)/span), min(1, (youngest-a.Revolutions)/span)
		if from > to {
			return
		}
		ab, ac := r3.Sub(b.Contact, a.Contact), r3.Sub(contact, a.Contact)
		u := max(from, min(to, r3.Dot(ab, ac)/r3.Norm2(ab)))
		if d := math.Sqrt(r3.Norm2(r3.Sub(ac, r3.Scale(u, ab)))); d < best {
			best, at, share, ok = d, i, u, true
		}
	}
	if k.last+1 < len(k.samples) {
		consider(k.last)
	}
	for i := k.first; i+1 < len(k.samples) && k.samples[i].Revolutions <= youngest; i++ {
		far := math.Sqrt(r3.Norm2(r3.Sub(contact, k.samples[i].Contact))) - best
		if far > k.longest {
			i += int(far/k.longest) - 1
			continue
		}
		consider(i)
	}
	if !ok {
		return 0, 0, 0, false, false
	}
	k.last = at
	a, b := &k.samples[at], &k.samples[at+1]
	p := r3.Unit(r3.Add(a.Contact, r3.Scale(share, r3.Sub(b.Contact, a.Contact))))
	return 2 * math.Asin(min(1, r3.Norm(r3.Sub(contact, p))/2)),
		a.Time + share*(b.Time-a.Time), a.Film + share*(b.Film-a.Film), at == 0 && share == 0, true
}

// film finds what oil meets in the gap and adds the rates at which it changes
// hands. turning is |ω_h| in rad/s.
func (r *reference) film(t float64, s *referenceVector, mode referenceMode, turning float64, c *referenceContact, k *referenceVector) {
	memory := r.ball.Memory
	if mode.Oiled && r.lane.Oil != nil {
		c.Lane = r.lane.Oil.Extended(s[posX], s[posY])
	}
	old, kept, overlap, gone := 0.0, 1.0, 0.0, 1.0
	if !memory.Off {
		angle, laid, film, begins, ok := r.track.nearest(s[revolutions], c.ContactOnBall)
		if ok {
			old, kept = film, math.Exp(-(t-laid)/memory.SoakIn)
		}
		if share := angle * r.ball.Radius / memory.ContactWidth; share < 1 {
			overlap = math.Pow(1-share*share, 3)
		}
		if begins {
			gone = overlap // before the trail's beginning the ball is clean
		}
	}
	c.Ball = overlap * old * kept
	c.Left = c.Ball
	swept := max(r.ball.Radius*turning, c.Speed/5)
	if swept == 0 {
		return
	}
	c.Left = min(c.Ball+(memory.PickUp*c.Lane*c.Speed-memory.GiveBack*c.Ball*swept)/swept, c.Lane+c.Ball)
	area := memory.ContactWidth * swept
	k[oilLane] = -area * (c.Left - c.Ball)
	k[oilTrack] = area * (c.Left - gone*old)
	k[oilRings] = area * (gone - overlap) * old * kept
	k[oilSoaked] = area * gone * old * (1 - kept)
}
