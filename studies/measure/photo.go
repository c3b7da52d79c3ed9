package measure

import (
	"math"

	"lanesim/internal/portable"
	"lanesim/units"
)

// View is the view of a photo.
type View string

// The views.
const (
	// FromAbove looks straight down. The angle is between the direction of travel in the picture and the line
	// from the ball's centre to the PAP: 90° is pure forward roll, 180° pure side roll with the PAP behind.
	FromAbove View = "above"

	// FromBehind looks along the direction of travel from behind the ball, raised by Elevation. The angle is
	// that of the line from the ball's centre to the PAP below the horizontal of the picture, on the bowler's
	// off side (a right-hander's left); negative if it rises.
	FromBehind View = "behind"
)

// Photo is the angle of the spin axis in a picture of the ball at release, with the PAP marked. The camera is
// many diameters from the ball.
type Photo struct {
	View  View
	Angle Reading // rad

	// Elevation is the angle in rad by which the camera's line of sight descends to the ball: 0 at the ball's
	// height, 90° above it. It is not used from above.
	Elevation Reading
}

// AxisRotation returns the axis rotation in rad.
//
// The spin axis of a right-hander points along (−cos β sin α, cos β cos α,
// sin β): down-lane, left and up, with axis rotation α and tilt β. A left-hander
// reads the mirror image.
//
// From above the tilt has no influence, and α = angle − 90°.
//
// From behind, at the elevation e, the picture has the axes left and (sin e, 0,
// cos e), so that the axis falls by the angle γ with
//
//	tan γ = (cos β sin α sin e − sin β cos e) / (cos β cos α)
//
// so that F = sin e sin α − tan γ cos α − tan β cos e = 0. There is one solution with the PAP on the off side
// if the elevation exceeds the tilt, e > |β|; for a lower camera there are two or none. The variance is the
// sum of (F_q σ_q / F_α)² over angle, tilt and elevation, with F_q the derivatives of F. It grows as the
// elevation approaches the tilt. A camera beside the line of travel adds its angle from that line to the
// result.
//
// The error is a [*ReadingError].
func (p Photo) AxisRotation(tilt Reading) (Quantity, error) {
	fail := func(format string, values ...any) (Quantity, error) {
		return Quantity{}, readingError("photo", format, values...)
	}
	for _, r := range []Reading{p.Angle, p.Elevation, tilt} {
		if math.IsNaN(r.Value) || !(r.Error >= 0) || math.IsInf(r.Error, 0) {
			return fail("an angle of %g ± %g rad is no reading", r.Value, r.Error)
		}
	}
	degrees := p.Angle.Value / units.Degree
	switch p.View {
	case FromAbove:
		if !(degrees >= -90 && degrees <= 270) {
			return fail("an angle of %.4g° from above lies beyond −90° to 270°", degrees)
		}
		return Quantity{p.Angle.Value - math.Pi/2, p.Angle.Error}, nil
	case FromBehind:
	default:
		return fail("%q is no view: take %s or %s", string(p.View), FromAbove, FromBehind)
	}
	e, beta := p.Elevation.Value, tilt.Value
	if !(math.Abs(degrees) < 90) {
		return fail("an angle of %.4g° from behind lies beyond ±90°, both excluded", degrees)
	}
	if !(e > math.Abs(beta) && e <= math.Pi/2) {
		return fail("from behind, the camera's elevation of %.4g° must exceed the axis tilt of %.4g° and be at most 90°", e/units.Degree, beta/units.Degree)
	}
	sinE, cosE := math.Sincos(e)
	tanG, tanB := math.Tan(p.Angle.Value), math.Tan(beta)
	// sin(α − δ) = tan β cos e / √(sin²e + tan²γ) with tan δ = tan γ / sin e. With
	// e > |β| the right side is less than cos δ, so that |α| < 90°.
	alpha := math.Atan2(tanG, sinE) + math.Asin(tanB*cosE/portable.Hypot(sinE, tanG))
	sinA, cosA := math.Sincos(alpha)
	byAlpha := sinE*cosA + tanG*sinA
	byGamma := -(1 + tanG*tanG) * cosA
	byBeta := -(1 + tanB*tanB) * cosE
	byE := cosE*sinA + tanB*sinE
	variance := 0.0
	for _, d := range []float64{byGamma * p.Angle.Error, byBeta * tilt.Error, byE * p.Elevation.Error} {
		variance += (d / byAlpha) * (d / byAlpha)
	}
	return Quantity{alpha, math.Sqrt(variance)}, nil
}
