package ball

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/units"
)

// Box is what a shop reads off the box of an undrilled ball and off the marks
// on it. Its gross weight is the specification's.
type Box struct {
	Colour, Serial string // free text

	// TopWeight is the imbalance in kg toward the marked centre of gravity: the
	// weight that would have the same moment if it sat on the surface at the
	// mark. It is not given if it is unknown.
	TopWeight units.Optional

	// PinOut is the distance in m along the surface from the pin to the marked
	// centre of gravity, not given if it is unknown. CGAngle is the angle in rad at
	// the pin from the arc to the PSA to the arc to the mark, positive away from
	// the PAP; 0 puts the mark on the line from pin to PSA. On a ball without
	// asymmetry that line is the one through the mark.
	PinOut  units.Optional
	CGAngle float64

	// CG is the place of the mark measured from the centre of the grip, as a
	// PAP is; it replaces PinOut and CGAngle.
	CG *PAP

	// Wanted are the finished weights aimed at, nil for none.
	Wanted *WantedWeights
}

// WantedWeights are the static weights in kg aimed at; one that is not given is free.
type WantedWeights struct{ Side, FingerThumb, Top units.Optional }

// MarkedCG returns the direction, in grip axes, of the marked centre of gravity
// on a laid-out ball. ok is false without a box that gives it or, for a mark
// given from the pin, without a layout.
func (s Specification) MarkedCG(f Frame, hand Hand) (direction r3.Vec, ok bool) {
	radius := s.Diameter / 2
	switch b := s.Box; {
	case b == nil:
		return r3.Vec{}, false
	case b.CG != nil:
		return Layout{}.Frame(*b.CG, hand, radius).PAP, true
	case b.PinOut.Given && s.Layout != nil:
		sin, cos := math.Sincos(b.PinOut.Value / radius)
		sinAngle, cosAngle := math.Sincos(b.CGAngle)
		toMark := r3.Add(r3.Scale(cosAngle, f.PSA), r3.Scale(hand.side()*sinAngle, f.Intermediate))
		return r3.Add(r3.Scale(cos, f.Pin), r3.Scale(sin, toMark)), true
	}
	return r3.Vec{}, false
}

// undrilledCentre returns the mass centre of the undrilled ball in grip axes, from
// the box. ok is false if the box does not give it or if an offset or static
// weights are given instead.
func (s Specification) undrilledCentre(f Frame, hand Hand) (centre r3.Vec, ok bool) {
	if s.balanceGiven() || s.Box == nil || !s.Box.TopWeight.Given {
		return r3.Vec{}, false
	}
	if s.Box.TopWeight.Value == 0 {
		return r3.Vec{}, true
	}
	n, ok := s.MarkedCG(f, hand)
	return r3.Scale(s.Box.TopWeight.Value*s.Diameter/2/s.Weight, n), ok
}

// balanceGiven reports whether an offset or static weights are given.
func (s Specification) balanceGiven() bool { return s.Static != nil || s.Offset != [3]float64{} }

// HoleWeight is the mass that a hole removes and that its insert puts back.
type HoleWeight struct {
	Name             string
	Removed, PutBack float64 // kg

	// Change is the change of the static weights: the sum of mass times
	// position, over the ball's radius.
	Change StaticWeights
}

// static returns first moments, in grip axes, as static weights.
func static(first r3.Vec, radius float64) StaticWeights {
	return StaticWeights{Side: first.Y / radius, FingerThumb: first.Z / radius, Top: first.X / radius}
}

// Plus returns the sum of static weights.
func (w StaticWeights) Plus(o StaticWeights) StaticWeights {
	return StaticWeights{w.Side + o.Side, w.FingerThumb + o.FingerThumb, w.Top + o.Top}
}
