package ball

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/internal/vector"
	"lanesim/units"
)

// Measures are the numbers of a layout that are measured on the ball.
// Distances are in m along the surface.
type Measures struct {
	Layout    Layout
	Distances DistanceLayout

	PinToGrip, PSAToGrip float64 // to the centre of the grip

	// PSAToThumb is the distance to the middle of the thumb hole, not given
	// without one.
	PSAToThumb units.Optional
}

// measures computes the measures of the frame's pin and PSA.
func (f Frame) measures(hand Hand, radius float64, holes []DrilledHole) Measures {
	layout, _ := f.Layout(hand, radius)
	m := Measures{
		Layout:    layout,
		Distances: layout.Distances(radius),
		PinToGrip: vector.Angle(f.Pin, f.Grip) * radius,
		PSAToGrip: vector.Angle(f.PSA, f.Grip) * radius,
	}
	for _, h := range holes {
		if h.Name == "thumb" {
			m.PSAToThumb = units.Given(vector.Angle(f.PSA, h.Mouth) * radius)
		}
	}
	return m
}

// OnVAL returns the point of the vertical axis line at an angle in rad from
// the PAP, positive toward the fingers.
func (f Frame) OnVAL(angle float64) r3.Vec {
	sin, cos := math.Sincos(angle)
	return r3.Add(r3.Scale(cos, f.PAP), r3.Scale(sin, f.Fingers))
}

// OnMidline returns the point of the midline at an angle in rad from the
// centre of the grip, positive to the right.
func (f Frame) OnMidline(angle float64) r3.Vec {
	sin, cos := math.Sincos(angle)
	return r3.Vec{X: cos, Y: sin}
}

// OnCentreLine returns the point of the grip's centre line at an angle in rad
// from the centre of the grip, positive toward the fingers.
func (f Frame) OnCentreLine(angle float64) r3.Vec {
	sin, cos := math.Sincos(angle)
	return r3.Vec{X: cos, Z: sin}
}
