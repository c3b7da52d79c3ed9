package compare

import (
	"math/bits"
	"reflect"

	"lanesim/ball"
	"lanesim/lane"
)

// Input names a group of what a shot follows from.
type Input string

// The groups of inputs.
const (
	// LayoutInput is where pin and PSA lie, and the grip that is drilled.
	LayoutInput Input = "layout"

	// MassInput is weight, size, RGs and the mass centre.
	MassInput Input = "mass_properties"

	// CoverInput is what the outside is made of: its friction, dry and on a film,
	// and the soak-in time that holds.
	CoverInput Input = "cover"

	// SurfaceInput is roughness and its wear, the rest of the film memory, radius
	// of the contact.
	SurfaceInput Input = "surface"

	// ReleaseInput is the bowler's hand, axis, speed and spin. The phase is none
	// of it: comparisons average over it.
	ReleaseInput Input = "release"

	// LineInput is where the ball is put down and at what angle.
	LineInput Input = "line"

	// LaneInput is the lane with its oil, friction and tilt.
	LaneInput Input = "lane"
)

// Inputs lists the groups in the order in which they are reported.
func Inputs() []Input {
	return []Input{LayoutInput, MassInput, CoverInput, SurfaceInput, ReleaseInput, LineInput, LaneInput}
}

// take puts an input of another delivery in place of d's.
func (i Input) take(d *Delivery, from Delivery) {
	switch i {
	case LayoutInput:
		d.Ball.Layout, d.Grip = from.Ball.Layout, from.Grip
	case MassInput:
		b, f := &d.Ball, from.Ball
		b.Weight, b.Diameter, b.RG = f.Weight, f.Diameter, f.RG
		b.Differential, b.IntermediateDifferential = f.Differential, f.IntermediateDifferential
		b.Offset, b.Static = f.Offset, f.Static
	case CoverInput:
		d.Ball.Cover, d.Ball.Memory.SoakIn = from.Ball.Cover, from.Ball.Memory.SoakIn
	case SurfaceInput:
		b, f := &d.Ball, from.Ball
		f.Memory.SoakIn = b.Memory.SoakIn
		b.Roughness, b.GamesSinceFinish, b.FinishWear = f.Roughness, f.GamesSinceFinish, f.FinishWear
		b.ContactRadius, b.Memory = f.ContactRadius, f.Memory
	case ReleaseInput:
		r := from.Release
		r.Laydown, r.LaydownDistance, r.Angle = d.Release.Laydown, d.Release.LaydownDistance, d.Release.Angle
		d.Release, d.PAP = r, from.PAP
	case LineInput:
		r := from.Release
		d.Release.Laydown, d.Release.LaydownDistance, d.Release.Angle = r.Laydown, r.LaydownDistance, r.Angle
	case LaneInput:
		d.Lane = from.Lane
	}
}

// plain returns the delivery without what has no influence on a comparison: names,
// what is measured, the phase, and whether a ball that needs no layout has one
// written down. Pin and PSA of a ball without are where an empty layout puts them.
// The soak-in time that holds stands in both places where it can.
func (d Delivery) plain() Delivery {
	d.Lane.Measured, d.Ball.Measured = lane.Measured{}, ball.Measured{}
	d.Lane.Name, d.Ball.Name, d.Grip.Kind = "", "", ball.CustomGrip
	d.Release.Phase = 0
	d.Ball.Memory.SoakIn = d.Ball.SoakIn()
	if d.Ball.Cover == (ball.Cover{}) {
		d.Ball.Cover = ball.Reactive
	}
	d.Ball.Cover.Name, d.Ball.Cover.SoakIn = "", d.Ball.Memory.SoakIn
	if d.Ball.Layout == nil {
		d.Ball.Layout = &ball.Layout{}
	}
	return d
}

// same reports whether all that two shots follow from is equal.
func same(a, b Delivery) bool { return reflect.DeepEqual(a, b) }

// differ lists the inputs in which two plain deliveries differ.
func differ(a, b Delivery) []Input {
	var list []Input
	for _, i := range Inputs() {
		mixed := a
		if i.take(&mixed, b); !same(mixed, a) {
			list = append(list, i)
		}
	}
	return list
}

// plan holds the mixed shots of a pair.
type plan struct {
	differ []Input

	// mixes are the shots by which of the inputs that differ come from b: bit
	// j stands for differ[j]. The first is a, the last b.
	mixes []*toss

	// swappedA is a with equal moments and with the layout and the RGs of b's
	// ball; swappedB the other way round.
	swappedA, swappedB *toss
}

// plan puts the mixed shots of a pair on the bench.
func (b *bench) plan(first, second Delivery, shotsA, shotsB variants) plan {
	a, z := first.plain(), second.plain()
	p := plan{differ: differ(a, z)}
	if len(p.differ) == 0 {
		return p
	}
	p.mixes = make([]*toss, 1<<len(p.differ))
	last := len(p.mixes) - 1
	p.mixes[0], p.mixes[last] = shotsA.full, shotsB.full
	for m := 1; m < last; m++ {
		mixed := a
		for rest := uint(m); rest != 0; rest &= rest - 1 {
			p.differ[bits.TrailingZeros(rest)].take(&mixed, z)
		}
		mixed.Ball.Name, mixed.Lane.Name = "a mixed ball", "the lane"
		p.mixes[m] = b.add(&toss{Delivery: mixed})
	}
	p.swappedA = b.swapped(a, z, shotsA.centred, shotsB.centred)
	p.swappedB = b.swapped(z, a, shotsB.centred, shotsA.centred)
	return p
}

// swapped returns the shot of a with equal moments and the layout and the RGs
// of b's ball, which may be one of the two that there are.
func (b *bench) swapped(a, z Delivery, shotA, shotB *toss) *toss {
	mixed := a
	LayoutInput.take(&mixed, z)
	mixed.Ball.RG, mixed.Ball.Differential = z.Ball.RG, z.Ball.Differential
	mixed.Ball.IntermediateDifferential = z.Ball.IntermediateDifferential
	switch {
	case same(mixed, a):
		return shotA
	case same(mixed, z):
		return shotB
	}
	mixed.Ball.Name, mixed.Lane.Name = "a mixed ball", "the lane"
	return b.add(&toss{Delivery: mixed, equal: true})
}
