package units

import "math"

// Optional is a number that may be left out. The zero value is left out.
type Optional struct {
	Value float64
	Given bool
}

// Given returns the number v as one that is given.
func Given(v float64) Optional { return Optional{v, true} }

// OrNaN is the number, NaN if it is left out.
func (o Optional) OrNaN() float64 {
	if !o.Given {
		return math.NaN()
	}
	return o.Value
}
