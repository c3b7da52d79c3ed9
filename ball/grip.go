package ball

import (
	"fmt"

	"lanesim/units"
)

// GripKind names a usual grip.
type GripKind string

// The usual grips. A CustomGrip is given hole by hole.
const (
	Fingertip    GripKind = "fingertip"
	Conventional GripKind = "conventional"
	Thumbless    GripKind = "thumbless"
	Undrilled    GripKind = "undrilled"
	CustomGrip   GripKind = ""
)

// GripKinds lists the usual grips.
func GripKinds() []GripKind {
	return []GripKind{Fingertip, Conventional, Thumbless, Undrilled}
}

// Grip says which gripping holes a ball gets. All lengths are in m.
type Grip struct {
	Kind GripKind

	// MiddleSpan and RingSpan are the cut spans: the distances along the surface
	// from the edge of the thumb hole to the edge of that finger's hole, both as
	// drilled; without a thumb hole they have no meaning. [Grip.Fitted] adds the
	// inserts. Bridge is the distance along the surface between the edges of the
	// finger holes.
	MiddleSpan, RingSpan, Bridge float64

	// Middle, Ring and Thumb are the holes, nil where there is none. The
	// finger holes are both there or both absent, and no thumb hole is
	// drilled without them.
	Middle, Ring, Thumb *Hole

	// ShellDensity is the density in kg/m³ of what the holes remove.
	ShellDensity float64
}

// Hole is a gripping hole: a cylinder with a flat bottom.
type Hole struct {
	Diameter float64 // m

	// Depth in m is measured along the hole's axis, from the surface of the
	// sphere at the middle of the mouth to the bottom.
	Depth float64

	// Forward and Lateral are the pitch: the distance in m by which the hole's
	// axis misses the centre of the ball. Forward is toward the other end of the
	// grip along its centre line (toward the thumb for a finger, toward the
	// fingers for the thumb), negative for reverse pitch. Lateral is toward
	// the side of the positive axis point: to the right for a right-hander.
	Forward, Lateral float64

	// Insert lines the hole; nil for a plain hole.
	Insert *Insert

	// Oval and Bevel are notes for the driller.
	Oval, Bevel string
}

// Insert is a ring that lines a hole from the surface down: a finger insert,
// or a thumb's slug or sleeve.
type Insert struct {
	// Outer and Inner are its diameters in m. Outer 0 fills the hole.
	Outer, Inner float64

	Length  float64 // m, from the surface along the hole's axis
	Density float64 // kg/m³
}

// Defaults of a grip. The sizes lie within the ranges of common practice; their
// exact values are assumed, and so are the densities.
const (
	// DefaultShellDensity is that of a cover and shell, 1.15 g/cm³.
	DefaultShellDensity = 1150.0
	// DefaultInsertDensity is that of a soft plastic, 1.15 g/cm³.
	DefaultInsertDensity = 1150.0

	fingerDiameter      = 31.0 / 32 * units.Inch // holes for inserts
	plainFingerDiameter = 15.0 / 16 * units.Inch
	thumbDiameter       = 1 * units.Inch
	fingerDepth         = 2 * units.Inch
	thumbDepth          = 2.75 * units.Inch
	fingertipSpan       = 4.5 * units.Inch
	conventionalSpan    = 3.5 * units.Inch
	defaultBridge       = 0.25 * units.Inch

	// fingersApart is the lateral pitch of each finger hole away from the other, the most
	// in common use: it leaves a wall of 9/64 in between holes of this width and depth. Holes
	// pitched 3/8 in and 2 1/4 in deep would meet.
	fingersApart = 0.5 * units.Inch
)

// DefaultFingerInsert returns the usual finger insert (sizes assumed).
func DefaultFingerInsert() Insert {
	return Insert{Inner: 0.75 * units.Inch, Length: 1.25 * units.Inch, Density: DefaultInsertDensity}
}

// DefaultThumbInsert returns the slug or sleeve of a thumb hole drilled 1¼ in
// wide, as deep as the hole is by default (sizes from common practice).
func DefaultThumbInsert() Insert {
	return Insert{Inner: 1 * units.Inch, Length: thumbDepth, Density: DefaultInsertDensity}
}

// NewGrip returns a usual grip. It is an error if there is none of that name.
func NewGrip(kind GripKind) (Grip, error) {
	g := Grip{Kind: kind, ShellDensity: DefaultShellDensity}
	switch kind {
	case Undrilled:
		return g, nil
	case Fingertip, Conventional, Thumbless:
	default:
		return Grip{}, fmt.Errorf("ball: there is no grip named %q", string(kind))
	}
	g.Bridge = defaultBridge
	g.Middle = &Hole{Diameter: fingerDiameter, Depth: fingerDepth, Lateral: -fingersApart}
	g.Ring = &Hole{Diameter: fingerDiameter, Depth: fingerDepth, Lateral: fingersApart}
	if kind == Conventional {
		g.Middle.Diameter, g.Ring.Diameter = plainFingerDiameter, plainFingerDiameter
	} else {
		middle, ring := DefaultFingerInsert(), DefaultFingerInsert()
		g.Middle.Insert, g.Ring.Insert = &middle, &ring
	}
	if kind == Thumbless {
		return g, nil
	}
	g.Thumb = &Hole{Diameter: thumbDiameter, Depth: thumbDepth}
	g.MiddleSpan, g.RingSpan = fingertipSpan, fingertipSpan
	if kind == Conventional {
		g.MiddleSpan, g.RingSpan = conventionalSpan, conventionalSpan
	}
	return g, nil
}

// DefaultGrip returns the fingertip grip.
func DefaultGrip() Grip {
	g, err := NewGrip(Fingertip)
	if err != nil {
		panic(err) // the name is one of the list
	}
	return g
}

// Lining is the thickness in m of the hole's insert; 0 for a plain hole and for a
// solid slug, whose own hole is unknown.
func (h Hole) Lining() float64 {
	if h.Insert == nil || h.Insert.Inner == 0 {
		return 0
	}
	return (h.Diameter - h.Insert.Inner) / 2
}

// Fitted returns the spans in m that fit the hand, from the inner edge of the
// thumb's insert to those of the fingers' inserts: the cut spans plus the
// thickness of both inserts. Without a thumb hole they are 0.
func (g Grip) Fitted() (middle, ring float64) {
	if g.Thumb == nil {
		return 0, 0
	}
	return g.MiddleSpan + g.Thumb.Lining() + g.Middle.Lining(), g.RingSpan + g.Thumb.Lining() + g.Ring.Lining()
}

// outer returns the insert's outer diameter in a hole.
func (i Insert) outer(h Hole) float64 {
	if i.Outer == 0 {
		return h.Diameter
	}
	return i.Outer
}

// HoleCount is the number of gripping holes.
func (g Grip) HoleCount() int { return len(g.named()) }

type namedHole struct {
	name string
	Hole
}

// named lists the holes of the grip with their names.
func (g Grip) named() []namedHole {
	var list []namedHole
	for _, h := range []struct {
		name string
		hole *Hole
	}{{"middle", g.Middle}, {"ring", g.Ring}, {"thumb", g.Thumb}} {
		if h.hole != nil {
			list = append(list, namedHole{h.name, *h.hole})
		}
	}
	return list
}
