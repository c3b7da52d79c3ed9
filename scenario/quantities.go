package scenario

import (
	"encoding/json"

	"lanesim/report"
)

// quantities are numbers of one mapping, in SI, by the keys of their fields: reading,
// writing and defaults go by the same list.
type quantities []struct {
	key string
	of  *float64
}

// read takes the numbers from a mapping; what is not there is 0.
func (q quantities) read(v *value) {
	for _, one := range q {
		*one.of = v.field(one.key).number
	}
}

// write adds the numbers to what is written of a mapping of the shape.
func (q quantities) write(o report.Object, s *shape) report.Object {
	for _, one := range q {
		o = o.With(one.key, s.field(one.key).shape.number.write(*one.of))
	}
	return o
}

// usual makes the numbers the defaults of the fields that need no value.
func (q quantities) usual(fields ...field) []field {
	for i := range fields {
		for _, one := range q {
			if f := &fields[i]; f.key == one.key && !f.required {
				f.fallback = f.shape.number.format(*one.of)
			}
		}
	}
	return fields
}

// allAssumed says that the defaults of all fields are assumed.
func allAssumed(fields []field) []field {
	for i := range fields {
		fields[i].assumed = true
	}
	return fields
}

// format writes a number of the kind in its unit.
func (n *number) format(v float64) string { return n.dimension.format(v, n.unit) }

// write is the number as JSON has it: a text where it has a unit.
func (n *number) write(v float64) any {
	if n.dimension == nil {
		return bareNumber(v)
	}
	return n.format(v)
}

// bareNumber writes a number without a unit.
func bareNumber(v float64) json.Number { return json.Number(formatBare(v)) }

// In the units in which the trade speaks.
func inches(v float64) string  { return length.format(v, "in") }
func feet(v float64) string    { return length.format(v, "ft") }
func degrees(v float64) string { return angle.format(v, "deg") }
