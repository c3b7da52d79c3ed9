package ball

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// norm and unit do what gonum's do without math.Hypot, whose last digit depends on the
// machine.
func norm(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

func unit(v r3.Vec) r3.Vec { return r3.Scale(1/norm(v), v) }

// arc is the angle in rad between unit vectors, exact near 0 and π too.
func arc(a, b r3.Vec) float64 { return math.Atan2(norm(r3.Cross(a, b)), r3.Dot(a, b)) }
