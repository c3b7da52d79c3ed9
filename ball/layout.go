package ball

import (
	"math"

	"lanesim/internal/portable"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
)

// Layout places pin and PSA relative to the bowler's axis.
type Layout struct {
	// DrillingAngle is the angle in rad at the pin between the arcs to the
	// PAP and to the PSA.
	DrillingAngle float64

	// PinToPAP is the distance in m along the surface from the pin to the
	// PAP; a quarter of the ball's circumference is 90°.
	PinToPAP float64

	// VALAngle is the angle in rad at the PAP between the vertical axis
	// line (VAL) toward the fingers and the arc to the pin.
	VALAngle float64
}

// PAP is the positive axis point measured on the ball from the centre of the
// grip, in m along the surface: over along the midline toward the bowler's
// own axis side, then up toward the fingers (negative for down).
type PAP struct {
	Over, Up float64
}

// DefaultPAP is the common PAP of about 5 in over and ½ in up (common
// practice).
func DefaultPAP() PAP { return PAP{Over: 5 * units.Inch, Up: 0.5 * units.Inch} }

// Frame holds a laid-out ball's directions as unit vectors from the centre,
// in grip axes: X outward through the centre of the grip, Y along the midline
// toward the right as one looks at the grip with the fingers up, Z toward the
// fingers. A left-hander's PAP then has a negative Y.
type Frame struct {
	Grip, PAP r3.Vec

	// Fingers and TowardGrip are unit tangents at the PAP: along the VAL
	// toward the fingers, and perpendicular to it toward the grip.
	Fingers, TowardGrip r3.Vec

	Pin, Intermediate, PSA r3.Vec
}

// Frame computes where pin and PSA lie on a ball of the given radius in m.
//
// With F the foot of the PAP on the midline,
//
//	F = cos H g + sin H m;  PAP = cos V F + sin V u
//	t_up = −sin V F + cos V u;  t_g = sin H g − cos H m
//	pin = cos d PAP + sin d (cos β t_up + sin β t_g)
//	t = sin d PAP − cos d (cos β t_up + sin β t_g)
//	PSA = cos α t + sin α (t × pin)       (left-hander: pin × t)
//
// where g points out of the grip's centre, m along the midline toward the PAP
// and u toward the fingers; H and V are the PAP's coordinates, d the arc from
// pin to PAP, β the VAL angle and α the drilling angle.
func (l Layout) Frame(p PAP, hand Hand, radius float64) Frame {
	g, u := r3.Vec{X: 1}, r3.Vec{Z: 1}
	m := r3.Vec{Y: hand.side()}
	sinH, cosH := math.Sincos(p.Over / radius)
	sinV, cosV := math.Sincos(p.Up / radius)
	foot := r3.Add(r3.Scale(cosH, g), r3.Scale(sinH, m))
	f := Frame{
		Grip:       g,
		PAP:        r3.Add(r3.Scale(cosV, foot), r3.Scale(sinV, u)),
		Fingers:    r3.Add(r3.Scale(-sinV, foot), r3.Scale(cosV, u)),
		TowardGrip: r3.Sub(r3.Scale(sinH, g), r3.Scale(cosH, m)),
	}
	sinD, cosD := math.Sincos(l.PinToPAP / radius)
	sinB, cosB := math.Sincos(l.VALAngle)
	toPin := r3.Add(r3.Scale(cosB, f.Fingers), r3.Scale(sinB, f.TowardGrip))
	f.Pin = r3.Add(r3.Scale(cosD, f.PAP), r3.Scale(sinD, toPin))
	t := r3.Sub(r3.Scale(sinD, f.PAP), r3.Scale(cosD, toPin))
	sinA, cosA := math.Sincos(l.DrillingAngle)
	f.PSA = r3.Add(r3.Scale(cosA, t), r3.Scale(hand.side()*sinA, r3.Cross(t, f.Pin)))
	f.Intermediate = r3.Cross(f.PSA, f.Pin)
	return f
}

// Body returns the components of v, given in grip axes, along the body axes
// pin, intermediate and PSA.
func (f Frame) Body(v r3.Vec) [3]float64 {
	return [3]float64{r3.Dot(v, f.Pin), r3.Dot(v, f.Intermediate), r3.Dot(v, f.PSA)}
}

// grip returns in grip axes the vector with the components v along the body
// axes.
func (f Frame) grip(v [3]float64) r3.Vec {
	return r3.Add(r3.Scale(v[0], f.Pin), r3.Add(r3.Scale(v[1], f.Intermediate), r3.Scale(v[2], f.PSA)))
}

// Layout returns the layout of the frame's pin and PSA, with both angles within
// ±180°; it is the inverse of [Layout.Frame]. If the pin is on the axis or opposite
// to it, only the sum or difference of the angles is determined: then the VAL angle
// is 0 and ok is false.
func (f Frame) Layout(hand Hand, radius float64) (l Layout, ok bool) {
	up, over := r3.Dot(f.Pin, f.Fingers), r3.Dot(f.Pin, f.TowardGrip)
	sinD, cosD := portable.Hypot(up, over), r3.Dot(f.Pin, f.PAP)
	d := math.Atan2(sinD, cosD)
	toPin := f.Fingers
	if ok = sinD > pinOnAxis; ok {
		l.VALAngle = math.Atan2(over, up)
		toPin = r3.Scale(1/sinD, r3.Add(r3.Scale(up, f.Fingers), r3.Scale(over, f.TowardGrip)))
	}
	t := r3.Sub(r3.Scale(sinD, f.PAP), r3.Scale(cosD, toPin))
	l.PinToPAP = d * radius
	l.DrillingAngle = math.Atan2(hand.side()*r3.Dot(f.PSA, r3.Cross(t, f.Pin)), r3.Dot(f.PSA, t))
	return l, ok
}
