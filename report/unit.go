package report

import (
	"strings"

	"lanesim/units"
)

// Unit is a unit in which a quantity is written, with the digits that mean something
// in it to a person.
type Unit struct {
	Name     string  // as it stands in keys and heads of columns; "" if there is none
	Size     float64 // the SI value of one
	Decimals int     // that tables show, negative for those of [Figure]; files keep all digits
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
	Figures      = Unit{"", 1, -1}         // of a number of which no more is known
	Hundredth    = Unit{"%", 1e-2, 1}      // of shares, each with its sign
	Point        = Unit{"points", 1e-2, 1} // of differences of shares
)

// In converts an SI value into the unit.
func (u Unit) In(v float64) float64 { return v / u.Size }

// Symbol is the unit's name for people.
func (u Unit) Symbol() string { return strings.Replace(u.Name, "um", "µm", 1) }

// Suffix is what stands after a number for people, empty for boards, what has no unit and
// shares, each of which has its sign.
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

// Finer returns the unit with a decimal more. Values are shown with the unit's own decimals
// everywhere but for a mean beside its standard deviation and for differences, which are
// shown with one more.
func (u Unit) Finer() Unit { return u.Digits(u.Decimals + 1) }

// Show prints an SI value in the unit for people, without the unit's name but with the sign
// of a share.
func (u Unit) Show(v float64) string {
	switch {
	case u.Decimals < 0:
		return Figure(u.In(v))
	case u.Name == Hundredth.Name:
		return Percent(v, u.Decimals)
	}
	return Fixed(u.In(v), u.Decimals)
}
