package ball

import (
	"math"

	"lanesim/internal/portable"

	"gonum.org/v1/gonum/spatial/r3"
)

// SurfacePoint is a point on the ball measured from the centre of the grip, in m
// along the surface and in the same coordinates as a [PAP]: over along the
// midline toward the bowler's own axis side, then up toward the fingers. A
// point on the other side of the grip has a negative Over.
type SurfacePoint struct {
	Over, Up float64
}

// Direction returns the unit vector from the ball's centre to the point:
//
//	p = cos V (cos H g + sin H m) + sin V u
//
// with H = Over/radius and V = Up/radius, g (X) outward through the centre of
// the grip, m (Y) along the midline toward the bowler's own axis side and u (Z)
// toward the fingers. For a left-hander these axes are a mirror image.
func (p SurfacePoint) Direction(radius float64) r3.Vec {
	sinH, cosH := math.Sincos(p.Over / radius)
	sinV, cosV := math.Sincos(p.Up / radius)
	return r3.Vec{X: cosV * cosH, Y: cosV * sinH, Z: sinV}
}

// SurfacePointOf returns the point in the direction v, the inverse of
// [SurfacePoint.Direction]. Over lies within half a circumference either way.
func SurfacePointOf(v r3.Vec, radius float64) SurfacePoint {
	return SurfacePoint{
		Over: radius * math.Atan2(v.Y, v.X),
		Up:   radius * math.Atan2(v.Z, portable.Hypot(v.X, v.Y)),
	}
}
