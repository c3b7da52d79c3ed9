package report

import (
	"strings"

	"lanesim/units"
)

// Unit is a unit in which a quantity is written, with the decimals that are meaningful to people.
type Unit struct {
	Name     string  // in keys and headings of columns; "" for none
	Size     float64 // SI value of one unit
	Decimals int     // in tables, negative for [Figure]; files keep all digits
}

// The units of results.
var (
	Foot       = Unit{"ft", units.Foot, 1}
	Inch       = Unit{"in", units.Inch, 2}
	Metre      = Unit{"m", 1, 3}
	Millimetre = Unit{"mm", units.Millimetre, 1}
	Micrometre = Unit{"um", units.Micrometre, 2}
	Board      = Unit{"boards", 1, 1}
	Degree     = Unit{"deg", units.Degree, 1}
	// LaunchDegree is the unit of launch angles: a tenth of a degree there is more than a
	// board at the pins.
	LaunchDegree = Unit{"deg", units.Degree, 2}
	MPH          = Unit{"mph", units.MPH, 1}
	MPS          = Unit{"m/s", 1, 2}
	RPM          = Unit{"rpm", units.RPM, 0}
	RadPerS      = Unit{"rad/s", 1, 2}
	Second       = Unit{"s", 1, 2}
	Joule        = Unit{"J", 1, 1}
	Newton       = Unit{"N", 1, 1}
	Millilitre   = Unit{"mL", units.Millilitre, 1}
	Microlitre   = Unit{"µL", units.Microlitre, 1}
	Pound        = Unit{"lb", units.Pound, 2}
	Kilogram     = Unit{"kg", 1, 3}
	Ounce        = Unit{"oz", units.Ounce, 2}
	Gram         = Unit{"g", 1e-3, 1}
	Revolution   = Unit{"", 1, 1}
	Ratio        = Unit{"", 1, 3}
	Figures      = Unit{"", 1, -1}         // a number shown by [Figure]
	Hundredth    = Unit{"%", 1e-2, 1}      // shares, each with the percent sign
	Point        = Unit{"points", 1e-2, 1} // differences of shares
)

// In converts an SI value into the unit.
func (u Unit) In(v float64) float64 { return v / u.Size }

// Symbol returns the unit's name for people.
func (u Unit) Symbol() string { return strings.Replace(u.Name, "um", "µm", 1) }

// Suffix returns the text after a number for people: empty for boards, for no unit and for shares, which have
// their own sign.
func (u Unit) Suffix() string {
	if u.Name == Board.Name || u.Name == Hundredth.Name {
		return ""
	}
	return u.Symbol()
}

// Digits returns the unit with another number of decimals.
func (u Unit) Digits(decimals int) Unit {
	u.Decimals = decimals
	return u
}

// Finer returns the unit with one more decimal, as for differences and for a mean with its standard
// deviation. All other values have the unit's own decimals.
func (u Unit) Finer() Unit { return u.Digits(u.Decimals + 1) }

// Show formats an SI value in the unit for people, without the unit's name but with the percent sign of a
// share.
func (u Unit) Show(v float64) string {
	switch {
	case u.Decimals < 0:
		return Figure(u.In(v))
	case u.Name == Hundredth.Name:
		return Percent(v, u.Decimals)
	}
	return Fixed(u.In(v), u.Decimals)
}
