package compare

import (
	"math/bits"
	"reflect"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/studies"
)

// Input is a group of the inputs of a shot.
type Input string

// The groups of inputs.
const (
	// LayoutInput is the layout, which places pin and PSA, and the grip.
	LayoutInput Input = "layout"

	// MassInput is weight, size, RGs and the mass centre.
	MassInput Input = "mass_properties"

	// CoverInput is the cover: its friction, dry and on a film, and the soak-in time in use.
	CoverInput Input = "cover"

	// SurfaceInput is roughness and its wear, the rest of the film memory, and the radius of the contact.
	SurfaceInput Input = "surface"

	// ReleaseInput is the bowler's hand, axis, speed and spin, without the phase, over which comparisons
	// average.
	ReleaseInput Input = "release"

	// LineInput is the laydown and the launch angle.
	LineInput Input = "line"

	// LaneInput is the lane with its oil, friction and tilt.
	LaneInput Input = "lane"
)

// Inputs lists the groups in the order in which they are reported.
func Inputs() []Input {
	return []Input{LayoutInput, MassInput, CoverInput, SurfaceInput, ReleaseInput, LineInput, LaneInput}
}

// replace replaces an input of d by that of another delivery.
func (i Input) replace(d *studies.Undrilled, from studies.Undrilled) {
	switch i {
	case LayoutInput:
		d.Specification.Layout, d.Grip = from.Specification.Layout, from.Grip
	case MassInput:
		b, f := &d.Specification, from.Specification
		b.Weight, b.Diameter, b.RG = f.Weight, f.Diameter, f.RG
		b.Differential, b.IntermediateDifferential = f.Differential, f.IntermediateDifferential
		b.Offset, b.Static = f.Offset, f.Static
	case CoverInput:
		d.Specification.Cover, d.Specification.Memory.SoakIn = from.Specification.Cover, from.Specification.Memory.SoakIn
	case SurfaceInput:
		b, f := &d.Specification, from.Specification
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

// plain returns a delivery without what has no influence on a comparison: names, which values are measured,
// the phase, and the layout of a ball that needs none. A ball without layout gets pin and PSA of an empty
// layout. The soak-in time in use is set in both places that have one.
func plain(d studies.Undrilled) studies.Undrilled {
	d.Ball, d.Repeatability = ball.Ball{}, studies.Repeatability{}
	d.Lane.Measured, d.Specification.Measured = lane.Measured{}, ball.Measured{}
	d.Lane.Name, d.Specification.Name, d.Grip.Kind = "", "", ball.CustomGrip
	d.Release.Phase = 0
	d.Specification.Memory.SoakIn = d.Specification.SoakIn()
	if d.Specification.Cover == (ball.Cover{}) {
		d.Specification.Cover = ball.Reactive
	}
	d.Specification.Cover.Name, d.Specification.Cover.SoakIn = "", d.Specification.Memory.SoakIn
	if d.Specification.Layout == nil {
		d.Specification.Layout = &ball.Layout{}
	}
	return d
}

// same reports whether all inputs of two shots are equal.
func same(a, b studies.Undrilled) bool { return reflect.DeepEqual(a, b) }

// differ lists the inputs in which two plain deliveries differ.
func differ(a, b studies.Undrilled) []Input {
	var list []Input
	for _, i := range Inputs() {
		mixed := a
		if i.replace(&mixed, b); !same(mixed, a) {
			list = append(list, i)
		}
	}
	return list
}

// plan has the mixed shots of a pair.
type plan struct {
	differ []Input

	// mixes are the shots with some inputs of b: bit j of the index stands for differ[j]. The first is a, the
	// last b.
	mixes []*phasedShot

	// swappedA is a with equal moments and with the layout and the RGs of b's ball; swappedB is the opposite.
	swappedA, swappedB *phasedShot
}

// plan adds the mixed shots of a pair to the list.
func (b *shotList) plan(first, second studies.Undrilled, shotsA, shotsB variants) plan {
	a, z := plain(first), plain(second)
	p := plan{differ: differ(a, z)}
	if len(p.differ) == 0 {
		return p
	}
	p.mixes = make([]*phasedShot, 1<<len(p.differ))
	last := len(p.mixes) - 1
	p.mixes[0], p.mixes[last] = shotsA.full, shotsB.full
	for m := 1; m < last; m++ {
		mixed := a
		for rest := uint(m); rest != 0; rest &= rest - 1 {
			p.differ[bits.TrailingZeros(rest)].replace(&mixed, z)
		}
		p.mixes[m] = b.add(&phasedShot{Undrilled: mixed})
	}
	p.swappedA = b.swapped(a, z, shotsA.centred, shotsB.centred)
	p.swappedB = b.swapped(z, a, shotsB.centred, shotsA.centred)
	return p
}

// swapped returns the shot of a with equal moments and the layout and the RGs of b's ball. It may be shotA or
// shotB.
func (b *shotList) swapped(a, z studies.Undrilled, shotA, shotB *phasedShot) *phasedShot {
	mixed := a
	LayoutInput.replace(&mixed, z)
	mixed.Specification.RG, mixed.Specification.Differential = z.Specification.RG, z.Specification.Differential
	mixed.Specification.IntermediateDifferential = z.Specification.IntermediateDifferential
	switch {
	case same(mixed, a):
		return shotA
	case same(mixed, z):
		return shotB
	}
	return b.add(&phasedShot{Undrilled: mixed, equal: true})
}
