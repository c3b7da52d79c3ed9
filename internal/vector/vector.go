// Package vector has the lengths and angles of vectors with the same bits on every machine.
package vector

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Norm returns the length of a vector. Unlike gonum's it does not use math.Hypot, whose
// last digit depends on the machine.
func Norm(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

// Unit is the vector of length 1 in the same direction.
func Unit(v r3.Vec) r3.Vec { return r3.Scale(1/Norm(v), v) }

// Angle is the angle in rad between unit vectors, exact near 0 and π too.
func Angle(a, b r3.Vec) float64 { return math.Atan2(Norm(r3.Cross(a, b)), r3.Dot(a, b)) }
