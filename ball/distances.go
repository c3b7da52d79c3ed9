package ball

import (
	"fmt"
	"math"

	"lanesim/internal/portable"
	"lanesim/units"
)

// DistanceLayout is the same layout given by three distances.
type DistanceLayout struct {
	PinToPAP, PSAToPAP, PinToVAL float64 // m along the surface

	// Below is set if the pin lies below the line through the PAP perpendicular
	// to the VAL, that is, if the VAL angle exceeds 90°.
	Below bool
}

// LayoutError says which rule of spherical triangles a distance layout
// breaks.
type LayoutError struct {
	Field string // "pin_to_pap", "psa_to_pap" or "pin_to_val"
	Rule  string
}

func (e *LayoutError) Error() string { return e.Field + ": " + e.Rule }

const (
	// pinOnAxis is the sine of the arc from pin to axis below which the two
	// are taken to coincide, half a micrometre on the ball: cos α comes from
	// a cosine divided by this sine, so the rounding of distances, 2e-16 of
	// the radius, would move an angle by 4e-11 and, at the ends of its
	// range, by 1e-5.
	pinOnAxis = 5e-6

	// roundedArc is how far in rad an arc may exceed its range without an
	// error: a few roundings of arcs up to π.
	roundedArc = 4e-15

	// steep is the change of an angle over that of the distance that gives it
	// above which [DistanceLayout.Caution] warns. At the end of a range, where
	// this factor has no bound, the rounding of a distance moves the angle by
	// its square root, some 2e-8.
	steep = 1000
)

// Layout converts the distances to angles, by
// cos(PSA–PAP) = sin d cos α and sin(pin–VAL) = sin d sin β, in forms that
// lose no digits where the cosine or sine is near 1 (p and v are the arcs from
// the PSA to the PAP and from the pin to the VAL, δ = 90° − d):
//
//	tan²(α/2) = sin((p+δ)/2) sin((p−δ)/2) / (cos((p+δ)/2) cos((p−δ)/2))
//	tan β = ± sin v / √(sin(d+v) sin(d−v))
//
// A [*LayoutError] says which distance is impossible on a sphere of this
// radius in m, or that a pin on the axis leaves the angles undefined. Where the
// angles depend on the last digits, [DistanceLayout.Caution] warns.
func (d DistanceLayout) Layout(radius float64) (Layout, error) {
	quarter := math.Pi / 2 * radius
	for _, c := range []struct {
		field    string
		value, n float64
	}{{"pin_to_pap", d.PinToPAP, 2}, {"psa_to_pap", d.PSAToPAP, 2}, {"pin_to_val", d.PinToVAL, 1}} {
		if !(c.value >= 0 && c.value <= c.n*quarter) {
			return Layout{}, &LayoutError{c.field, fmt.Sprintf("must lie between 0 and %s of the circumference (%.4g in)",
				map[float64]string{1: "a quarter", 2: "half"}[c.n], c.n*quarter/units.Inch)}
		}
	}
	arcD, p, v := d.PinToPAP/radius, d.PSAToPAP/radius, d.PinToVAL/radius
	if math.Sin(arcD) < pinOnAxis {
		return Layout{}, &LayoutError{"pin_to_pap", "with the pin on the axis or opposite to it the distances leave drilling and VAL angles undefined; give the angles"}
	}
	delta := math.Abs(math.Pi/2 - arcD)
	if p < delta-roundedArc || p > math.Pi-delta+roundedArc {
		return Layout{}, &LayoutError{"psa_to_pap", fmt.Sprintf("the PSA lies 90° from the pin, so with this pin-to-PAP distance it is %.4g to %.4g in from the PAP",
			delta*radius/units.Inch, (math.Pi-delta)*radius/units.Inch)}
	}
	if v > math.Pi/2-delta+roundedArc {
		return Layout{}, &LayoutError{"pin_to_val", fmt.Sprintf("the pin can be no farther from the VAL than %.4g in with this pin-to-PAP distance",
			(math.Pi/2-delta)*radius/units.Inch)}
	}
	sinPlus, cosPlus := math.Sincos((p + delta) / 2)
	sinMinus, cosMinus := math.Sincos((p - delta) / 2)
	along := math.Sqrt(max(math.Sin(arcD+v)*math.Sin(arcD-v), 0))
	if d.Below {
		along = -along
	}
	return Layout{
		DrillingAngle: 2 * math.Atan2(math.Sqrt(max(sinPlus*sinMinus, 0)), math.Sqrt(max(cosPlus*cosMinus, 0))),
		PinToPAP:      d.PinToPAP,
		VALAngle:      math.Atan2(math.Sin(v), along),
	}, nil
}

// Caution returns a warning if an angle depends on the last digits of a distance,
// else "". At the end of its range a distance hardly changes with its angle, so
// it gives the angle to only half its digits. The criterion is
// dα/dp = sin p / (sin d sin α) and dβ/dv = cos v / (sin d cos β). The radius
// is in m. For impossible distances, an error of Layout, it returns "".
func (d DistanceLayout) Caution(radius float64) string {
	l, err := d.Layout(radius)
	if err != nil {
		return ""
	}
	sinD := math.Sin(d.PinToPAP / radius)
	switch sinP, cosV := math.Sin(d.PSAToPAP/radius), math.Cos(d.PinToVAL/radius); {
	case sinD*steep < 1:
		return "the pin is so near to the axis, or to the point opposite to it, that the distances hardly determine drilling and VAL angles"
	case sinP > steep*sinD*math.Sin(l.DrillingAngle):
		return "the PSA is as near to or as far from the PAP as it can be, where the distance hardly changes with the drilling angle and gives only half of its digits"
	case cosV > steep*sinD*math.Abs(math.Cos(l.VALAngle)):
		return "the pin is as far from the VAL as it can be, where the distance hardly changes with the VAL angle and gives only half of its digits"
	}
	return ""
}

// Distances converts the angles to distances. VAL angles below 0 or drilling
// angles beyond 180° have no distance form of their own: they lose their sign.
func (l Layout) Distances(radius float64) DistanceLayout {
	sinD, cosD := math.Sincos(l.PinToPAP / radius)
	sinA, cosA := math.Sincos(l.DrillingAngle)
	sinB, cosB := math.Sincos(l.VALAngle)
	return DistanceLayout{
		PinToPAP: l.PinToPAP,
		PSAToPAP: math.Atan2(portable.Hypot(cosD, sinD*sinA), sinD*cosA) * radius,
		PinToVAL: math.Atan2(math.Abs(sinD*sinB), portable.Hypot(cosD, sinD*cosB)) * radius,
		Below:    sinD*cosB < 0,
	}
}
