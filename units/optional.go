package units

import "math"

// Optional is a number that may be left out, as its zero value is.
type Optional struct {
	Value float64
	Given bool
}

// Given is a number that is not left out.
func Given(v float64) Optional { return Optional{v, true} }

// OrNaN is the number, NaN if it is left out.
func (o Optional) OrNaN() float64 {
	if !o.Given {
		return math.NaN()
	}
	return o.Value
}
