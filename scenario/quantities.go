package scenario

import (
	"encoding/json"

	"lanesim/report"
)

// quantities are numbers of one mapping, in SI, with the keys of their fields. Reading,
// writing and defaults use the same list.
type quantities []struct {
	key string
	of  *float64
}

// read sets the numbers from a mapping; those that are absent are 0.
func (q quantities) read(v *value) {
	for _, number := range q {
		*number.of = v.field(number.key).number
	}
}

// write adds the numbers to an object, as a mapping of the shape.
func (q quantities) write(o report.Object, s *shape) report.Object {
	for _, number := range q {
		o = o.With(number.key, s.field(number.key).shape.number.write(*number.of))
	}
	return o
}

// usual makes the numbers the defaults of the fields that are not required.
func (q quantities) usual(fields ...field) []field {
	for i := range fields {
		for _, number := range q {
			if f := &fields[i]; f.key == number.key && !f.required {
				f.fallback = f.shape.number.format(*number.of)
			}
		}
	}
	return fields
}

// allAssumed marks the defaults of all fields as assumed.
func allAssumed(fields []field) []field {
	for i := range fields {
		fields[i].assumed = true
	}
	return fields
}

// format writes a number in its unit.
func (n *number) format(v float64) string { return n.dimension.format(v, n.unit) }

// write returns the number for JSON: a text if it has a unit.
func (n *number) write(v float64) any {
	if n.dimension == nil {
		return bareNumber(v)
	}
	return n.format(v)
}

// bareNumber writes a number without a unit.
func bareNumber(v float64) json.Number { return json.Number(formatBare(v)) }

// In the units of the trade.
func inches(v float64) string  { return length.format(v, "in") }
func feet(v float64) string    { return length.format(v, "ft") }
func degrees(v float64) string { return angle.format(v, "deg") }
