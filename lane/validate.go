package lane

import (
	"fmt"
	"math"

	"lanesim/internal/check"
	"lanesim/units"
)

// MostFriction is the largest coefficient of friction, MostRollingResistance the largest of
// rolling resistance, near that of a tyre in sand.
const (
	MostFriction          = 2
	MostRollingResistance = 0.1
)

var resistanceRule = fmt.Sprintf("must lie between 0 and %g", MostRollingResistance)

// Validate returns nil if a shot can be computed on the lane, or all its faults
// joined, each a [*units.FieldError]. Of the friction only the settings of the
// selected law are checked.
func (l Lane) Validate() error {
	v := check.Of("lane")
	v.That(l.Length > 0, "Length", l.Length, "must be above 0; +Inf for an endless lane")
	v.That(math.Abs(l.Tilt) <= Width, "Tilt", l.Tilt, "must be at most the lane's width, to either side")
	v.That(l.Roughness >= 0 && !math.IsInf(l.Roughness, 1), "Roughness", l.Roughness, "must be 0 or more and finite")
	v.That(l.RollingResistance >= 0 && l.RollingResistance <= MostRollingResistance, "RollingResistance", l.RollingResistance, resistanceRule)
	l.Friction.validate(&v)
	v.Add(l.Oil.Validate())
	return v.Err()
}

// Validate checks the settings of the selected law, as [Lane.Validate] does.
func (f Friction) Validate() error {
	v := check.Of("lane")
	f.validate(&v)
	return v.Err()
}

func (f Friction) validate(v *check.Fields) {
	mu := func(field string, value float64) {
		v.That(value >= 0 && value <= MostFriction, field, value, "must lie between 0 and 2")
	}
	switch f.Law {
	case Mixed:
		mu("Friction.Film", f.Film)
		mu("Friction.Dry", f.Dry)
		v.That(f.Entrained >= 0 && f.Entrained <= 1, "Friction.Entrained", f.Entrained, "must lie between 0 and 1")
	case Constant:
		mu("Friction.Mu", f.Mu)
	case Zones:
		v.That(len(f.Zones) > 0, "Friction.Zones", 0, "must have at least one zone")
		before := 0.0
		for i, z := range f.Zones {
			if !(z.Mu >= 0 && z.Mu <= MostFriction) {
				mu(fmt.Sprintf("Friction.Zones[%d].Mu", i), z.Mu)
			}
			if i < len(f.Zones)-1 && !(z.To > before) {
				v.That(false, fmt.Sprintf("Friction.Zones[%d].To", i), z.To, "must be beyond the zone before")
			}
			before = z.To
		}
	default:
		v.Refuse("Friction.Law", fmt.Sprintf("%q", f.Law), "must be mixed, constant or zones")
	}
}

// Validate returns nil if [NewOilMap] could have made the map, else a
// [*units.FieldError]. A nil map is valid: there is no oil.
func (o *OilMap) Validate() error {
	if o == nil {
		return nil
	}
	wrong := func(field string, value float64, rule string) error {
		return &units.FieldError{Package: "lane", Field: "Oil." + field, Value: value, Rule: rule}
	}
	switch n := len(o.Distances) * o.Columns; {
	case len(o.Distances) == 0:
		return wrong("Distances", 0, "must have at least one distance")
	case o.Columns < 1:
		return wrong("Columns", float64(o.Columns), "must be 1 or more")
	case !(o.Spacing > 0) || math.IsInf(o.Spacing, 1):
		return wrong("Spacing", o.Spacing, "must be positive and finite")
	case math.IsNaN(o.Right) || math.IsInf(o.Right, 0):
		return wrong("Right", o.Right, "must be finite")
	case len(o.Film) != n:
		return wrong("Film", float64(len(o.Film)), fmt.Sprintf("must have %d values, distances times columns", n))
	}
	for i, d := range o.Distances {
		if !(d >= 0) || math.IsInf(d, 1) || i > 0 && d <= o.Distances[i-1] {
			return wrong(fmt.Sprintf("Distances[%d]", i), d, "must increase, from 0 or more")
		}
	}
	for i, f := range o.Film {
		if !(f >= 0) || math.IsInf(f, 1) {
			return wrong(fmt.Sprintf("Film[%d] (distance %d, column %d)", i, i/o.Columns, i%o.Columns), f, "must be 0 or more and finite")
		}
	}
	return nil
}
