// Package units has the units in which people write what lanesim computes in SI:
// multiply a number by its unit to get metres, kilograms, radians and seconds, and
// divide by it to get the number back. 18*units.MPH is a speed in m/s.
//
// Inch, foot, mile, pound and ounce are exact (1959 international yard and pound
// agreement); the width of a board is in package lane. Invalid fields are reported
// as a [FieldError].
package units

import "math"

// Lengths, in m.
const (
	Inch       = 0.0254
	Foot       = 12 * Inch
	Millimetre = 1e-3
	Micrometre = 1e-6
	Microinch  = 1e-6 * Inch
)

// OilUnit is the film thickness in m of one unit of lane oil: 0.0167 cm³ spread over
// one square foot, about 0.1798 µm. The figure is common practice, from memory.
const OilUnit = 0.0167e-6 / (Foot * Foot)

// Weights, in kg.
const (
	Pound = 0.45359237
	Ounce = Pound / 16
)

// Volumes, in m³.
const (
	Millilitre = 1e-6
	Microlitre = 1e-9
)

// Angles in rad, speeds in m/s and rates of revolution in rad/s.
const (
	Degree = math.Pi / 180
	MPH    = 0.44704 // 1609.344 m in 3600 s
	RPM    = math.Pi / 30
)
