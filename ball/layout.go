package ball

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Layout says where pin and PSA lie against the bowler's axis.
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
func DefaultPAP() PAP { return PAP{Over: 5 * Inch, Up: 0.5 * Inch} }

// Frame holds a laid-out ball's directions as unit vectors from the centre,
// in grip axes: X outward through the centre of the grip, Y along the midline
// toward the right as one looks at the grip with the fingers up, Z toward the
// fingers. A left-hander's PAP then has a negative Y.
type Frame struct {
	Grip, PAP r3.Vec

	// Fingers and TowardGrip are unit tangents at the PAP: along the VAL
	// toward the fingers, and square to it toward the grip.
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
	m, side := r3.Vec{Y: 1}, 1.0
	if hand == Left {
		m, side = r3.Vec{Y: -1}, -1.0
	}
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
	f.PSA = r3.Add(r3.Scale(cosA, t), r3.Scale(side*sinA, r3.Cross(t, f.Pin)))
	f.Intermediate = r3.Cross(f.PSA, f.Pin)
	return f
}

// Body returns the components of v, given in grip axes, along the body axes
// pin, intermediate and PSA.
func (f Frame) Body(v r3.Vec) [3]float64 {
	return [3]float64{r3.Dot(v, f.Pin), r3.Dot(v, f.Intermediate), r3.Dot(v, f.PSA)}
}

// DistanceLayout is the same layout told by three distances.
type DistanceLayout struct {
	PinToPAP, PSAToPAP, PinToVAL float64 // m along the surface

	// Below is set if the pin lies below the line square to the VAL
	// through the PAP, that is, if the VAL angle exceeds 90°.
	Below bool
}

// LayoutError says which rule of spherical triangles a distance layout
// breaks.
type LayoutError struct {
	Field string // "pin_to_pap", "psa_to_pap" or "pin_to_val"
	Rule  string
}

func (e *LayoutError) Error() string { return e.Field + ": " + e.Rule }

// Layout converts the distances to angles, by
// cos(PSA–PAP) = sin d cos α and sin(pin–VAL) = sin d sin β.
//
// A [*LayoutError] says which distance is impossible on a sphere of this
// radius, or that a pin on the axis leaves the angles undefined.
func (d DistanceLayout) Layout(radius float64) (Layout, error) {
	quarter := math.Pi / 2 * radius
	for _, c := range []struct {
		field    string
		value, n float64
	}{{"pin_to_pap", d.PinToPAP, 2}, {"psa_to_pap", d.PSAToPAP, 2}, {"pin_to_val", d.PinToVAL, 1}} {
		if !(c.value >= 0 && c.value <= c.n*quarter) {
			return Layout{}, &LayoutError{c.field, fmt.Sprintf("must lie between 0 and %s of the circumference (%.4g in)",
				map[float64]string{1: "a quarter", 2: "half"}[c.n], c.n*quarter/Inch)}
		}
	}
	sinD := math.Sin(d.PinToPAP / radius)
	if sinD < degenerate {
		return Layout{}, &LayoutError{"pin_to_pap", "with the pin on the axis the distances leave drilling and VAL angles undefined; give the angles"}
	}
	cosA := math.Cos(d.PSAToPAP/radius) / sinD
	if math.Abs(cosA) > 1+degenerate {
		least := math.Acos(sinD) * radius
		return Layout{}, &LayoutError{"psa_to_pap", fmt.Sprintf("the PSA lies 90° from the pin, so with this pin-to-PAP distance it is %.4g to %.4g in from the PAP",
			least/Inch, (2*quarter-least)/Inch)}
	}
	sinB := math.Sin(d.PinToVAL/radius) / sinD
	if sinB > 1+degenerate {
		return Layout{}, &LayoutError{"pin_to_val", fmt.Sprintf("the pin can be no farther from the VAL than %.4g in with this pin-to-PAP distance",
			math.Asin(sinD)*radius/Inch)}
	}
	beta := math.Asin(min(sinB, 1))
	if d.Below {
		beta = math.Pi - beta
	}
	return Layout{
		DrillingAngle: math.Acos(max(-1, min(cosA, 1))),
		PinToPAP:      d.PinToPAP,
		VALAngle:      beta,
	}, nil
}

// degenerate is the sine of an arc below which pin and axis are taken to
// coincide: rounding of distances near 0.1 m (relative 1e-16) moves an arc's
// cosine by less than this.
const degenerate = 1e-12

// Distances converts the angles to distances. VAL angles below 0 or drilling
// angles beyond 180° have no distance form of their own: they lose their sign.
func (l Layout) Distances(radius float64) DistanceLayout {
	sinD := math.Sin(l.PinToPAP / radius)
	sinB, cosB := math.Sincos(l.VALAngle)
	return DistanceLayout{
		PinToPAP: l.PinToPAP,
		PSAToPAP: math.Acos(sinD*math.Cos(l.DrillingAngle)) * radius,
		PinToVAL: math.Asin(math.Abs(sinD*sinB)) * radius,
		Below:    cosB < 0,
	}
}
