package main

import (
	"encoding/json"
	"math"

	"lanesim/physics"
)

// model is the number of the format and of the physics behind it.
const model = 1

// number is printed with the fewest digits that read back to the same float64,
// and as null where it is not a finite one.
type number float64

func (n number) finite() bool { return !math.IsNaN(float64(n)) && !math.IsInf(float64(n), 0) }

// MarshalJSON prints the number.
func (n number) MarshalJSON() ([]byte, error) {
	if !n.finite() {
		return []byte("null"), nil
	}
	if n == 0 {
		n = 0 // without the sign that a zero can have
	}
	return json.Marshal(float64(n))
}

// optional converts a number that may not exist.
func optional(v *float64, convert func(float64) float64) *number {
	if v == nil {
		return nil
	}
	n := number(convert(*v))
	return &n
}

func same(v float64) float64 { return v }

// value returns a number that exists.
func value(v float64) *float64 { return &v }

// ofState returns a number of a state that may not exist.
func ofState(s *physics.State, of func(physics.State) float64) *float64 {
	if s == nil {
		return nil
	}
	return value(of(*s))
}

func stateFeet(s physics.State) float64  { return feet(s.Distance) }
func stateBoard(s physics.State) float64 { return s.Board }
