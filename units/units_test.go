package units_test

import (
	"math"
	"testing"

	"lanesim/units"
)

// The international yard and pound agreement of 1959, and what follows.
func TestUnitsAgreeWithTheirDefinitions(t *testing.T) {
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"a yard", 3 * units.Foot, 0.9144},
		{"a mile in an hour", 1760 * 0.9144 / 3600, units.MPH},
		{"a pound", 16 * units.Ounce, 0.45359237},
		{"a microinch", units.Microinch, units.Inch / 1e6},
		{"a turn", 360 * units.Degree, 2 * math.Pi},
		{"60 turns in a minute", 60 * units.RPM, 2 * math.Pi},
		{"a unit of oil on a square foot", units.OilUnit * units.Foot * units.Foot, 0.0167 * units.Millilitre},
		{"a millilitre", 1000 * units.Microlitre, units.Millilitre},
		{"a micrometre", 1000 * units.Micrometre, units.Millimetre},
	} {
		if math.Abs(c.got-c.want) > 1e-15*math.Abs(c.want) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
}
