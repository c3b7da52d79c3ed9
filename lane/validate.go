package lane

import (
	"errors"
	"fmt"
	"math"
)

// FieldError says that a field of a lane has a value that no lane can have.
type FieldError struct {
	Field string // "Friction.Film"
	Value any
	Rule  string // "must lie between 0 and 2"
}

func (e *FieldError) Error() string {
	return fmt.Sprintf("lane: %s is %v: it %s", e.Field, e.Value, e.Rule)
}

// MostFriction is the largest coefficient of friction, MostRollingResistance that of rolling
// resistance: that of a tyre in sand is not much more.
const (
	MostFriction          = 2
	MostRollingResistance = 0.1
)

var resistanceRule = fmt.Sprintf("must lie between 0 and %g", MostRollingResistance)

// validation collects what is wrong.
type validation struct{ list []error }

func (v *validation) that(ok bool, field string, value float64, rule string) {
	if !ok {
		v.list = append(v.list, &FieldError{field, value, rule})
	}
}

// Validate reports whether there can be such a lane: nil, or all that is wrong,
// each as a [*FieldError], joined. Of the friction the settings of the selected
// law count.
func (l Lane) Validate() error {
	var v validation
	v.that(l.Length > 0, "Length", l.Length, "must be above 0; +Inf for an endless lane")
	v.that(math.Abs(l.Tilt) <= Width, "Tilt", l.Tilt, "must be at most the lane's width, to either side")
	v.that(l.Roughness >= 0 && !math.IsInf(l.Roughness, 1), "Roughness", l.Roughness, "must be 0 or more and finite")
	v.that(l.RollingResistance >= 0 && l.RollingResistance <= MostRollingResistance, "RollingResistance", l.RollingResistance, resistanceRule)
	l.Friction.validate(&v)
	if err := l.Oil.Validate(); err != nil {
		v.list = append(v.list, err)
	}
	return errors.Join(v.list...)
}

// Validate reports whether the settings of the selected law can be, as
// [Lane.Validate] does.
func (f Friction) Validate() error {
	var v validation
	f.validate(&v)
	return errors.Join(v.list...)
}

func (f Friction) validate(v *validation) {
	mu := func(field string, value float64) {
		v.that(value >= 0 && value <= MostFriction, field, value, "must lie between 0 and 2")
	}
	switch f.Law {
	case Mixed:
		mu("Friction.Film", f.Film)
		mu("Friction.Dry", f.Dry)
		v.that(f.Entrained >= 0 && f.Entrained <= 1, "Friction.Entrained", f.Entrained, "must lie between 0 and 1")
	case Constant:
		mu("Friction.Mu", f.Mu)
	case Zones:
		v.that(len(f.Zones) > 0, "Friction.Zones", 0, "must have a zone")
		before := 0.0
		for i, z := range f.Zones {
			if !(z.Mu >= 0 && z.Mu <= MostFriction) {
				mu(fmt.Sprintf("Friction.Zones[%d].Mu", i), z.Mu)
			}
			if i < len(f.Zones)-1 && !(z.To > before) {
				v.that(false, fmt.Sprintf("Friction.Zones[%d].To", i), z.To, "must be beyond the zone before")
			}
			before = z.To
		}
	default:
		v.list = append(v.list, &FieldError{"Friction.Law", fmt.Sprintf("%q", f.Law), "must be mixed, constant or zones"})
	}
}

// Validate reports whether the map is one that [NewOilMap] could have made: nil,
// or a [*FieldError]. A nil map is in order: there is no oil.
func (o *OilMap) Validate() error {
	if o == nil {
		return nil
	}
	wrong := func(field string, value float64, rule string) error {
		return &FieldError{"Oil." + field, value, rule}
	}
	switch n := len(o.Distances) * o.Columns; {
	case len(o.Distances) == 0:
		return wrong("Distances", 0, "must have a distance")
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
