package ball

import (
	"math"

	"lanesim/internal/check"
	"lanesim/units"
)

// mostFriction is the largest coefficient of friction of a cover.
const mostFriction = 2

// Limits of a ball as scenarios describe it, far beyond any for bowling: with all of them
// a shot is computed in less than a second.
const (
	LeastWeight, MostWeight             = 1 * units.Pound, 1000 * units.Pound
	LeastDiameter, MostDiameter         = 4 * units.Inch, 12 * units.Inch
	MostOffset                          = 1e-2            // m
	MostStaticWeight                    = units.Pound / 2 // kg
	MostContactRadius                   = 1 * units.Inch
	LeastContactWidth, MostContactWidth = 1e-3, 1 * units.Inch // m
)

// LeastRG is the least radius of gyration of such a ball, over its radius. Real balls
// have 0.57 and more. The smaller it is, the faster friction turns a ball.
const LeastRG = 0.2

const (
	positive = "must be positive and finite"
	aShare   = "must lie between 0 and 1"
)

func isPositive(v float64) bool { return v > 0 && !math.IsInf(v, 1) }

// within reports whether v lies between 0 and most, both included.
func within(v, most float64) bool { return v >= 0 && v <= most }

// tilted is how far from right angles and unit length the axes of a ball may be.
const tilted = 1e-6

// OffsetLength is the distance in m of the mass centre from the sphere's.
func (b Ball) OffsetLength() float64 {
	return math.Sqrt(b.Offset[0]*b.Offset[0] + b.Offset[1]*b.Offset[1] + b.Offset[2]*b.Offset[2])
}

// Validate returns nil if a shot can be computed with the ball, or all its faults
// joined, each a [*units.FieldError].
func (b Ball) Validate() error {
	v := check.Of("ball")
	v.That(isPositive(b.Radius), "Radius", b.Radius, positive)
	v.That(isPositive(b.Mass), "Mass", b.Mass, positive)
	most := b.Mass * b.Radius * b.Radius * (1 + RoundedValue)
	sum := b.Moments[0] + b.Moments[1] + b.Moments[2]
	for i, field := range [3]string{"Moments[0]", "Moments[1]", "Moments[2]"} {
		m := b.Moments[i]
		switch {
		case !isPositive(m):
			v.That(false, field, m, positive)
		case m > most:
			v.That(false, field, m, "is more than the mass would have if all of it lay at the surface")
		case 2*m > sum*(1+RoundedValue):
			v.That(false, field, m, "is more than the sum of the other two")
		}
	}
	offset := b.OffsetLength()
	v.That(offset < b.Radius, "Offset", offset, "must lie within the ball")
	axes := [3]float64{dot(b.PAP, b.PAP), dot(b.Fingers, b.Fingers), dot(b.PAP, b.Fingers)}
	v.That(math.Abs(axes[0]-1) < tilted, "PAP", math.Sqrt(axes[0]), "must have length 1")
	v.That(math.Abs(axes[1]-1) < tilted, "Fingers", math.Sqrt(axes[1]), "must have length 1")
	v.That(math.Abs(axes[2]) < tilted, "Fingers", axes[2], "must be perpendicular to PAP (the scalar product of the two is 0)")
	v.That(b.Roughness >= 0 && !math.IsInf(b.Roughness, 1), "Roughness", b.Roughness, "must be 0 or more and finite")
	v.That(within(b.ContactRadius, b.Radius), "ContactRadius", b.ContactRadius, "must lie between 0 and the ball's radius")
	b.Cover.validate(&v)
	b.Memory.validate(&v, b.Radius)
	return v.Err()
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (c Cover) validate(v *check.Fields) {
	if c == (Cover{}) {
		return
	}
	const rule = "must lie between 0 and 2"
	v.That(within(c.Dry, mostFriction), "Cover.Dry", c.Dry, rule)
	v.That(within(c.Film, mostFriction), "Cover.Film", c.Film, rule)
	v.That(c.SoakIn > 0, "Cover.SoakIn", c.SoakIn, "must be above 0; +Inf for never")
}

// validate checks only what is used: a memory that is off, or exchanges nothing,
// needs neither width nor time.
func (m FilmMemory) validate(v *check.Fields, radius float64) {
	if m.Off {
		return
	}
	v.That(within(m.PickUp, 1), "Memory.PickUp", m.PickUp, aShare)
	v.That(within(m.GiveBack, 1), "Memory.GiveBack", m.GiveBack, aShare)
	if m.PickUp == 0 && m.GiveBack == 0 {
		return
	}
	v.That(m.ContactWidth > 0 && m.ContactWidth <= radius, "Memory.ContactWidth", m.ContactWidth, "must be above 0 and at most the ball's radius")
	v.That(m.SoakIn > 0, "Memory.SoakIn", m.SoakIn, "must be above 0; +Inf for never")
}

// RoundedValue is the relative rounding allowed for from the conversion of units:
// well above the 1e-16 of each, and far below any measurement.
const RoundedValue = 1e-12
