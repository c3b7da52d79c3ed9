package report

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Kind is the type of the cells of a column.
type Kind string

// The kinds of columns.
const (
	NumberKind Kind = "number"
	CountKind  Kind = "count" // a whole number
	TruthKind  Kind = "truth"
	TextKind   Kind = "text"

	IntervalKind Kind = "interval" // two numbers, separate columns in rows
	EstimateKind Kind = "estimate" // a number and its standard error; not in rows
	ValueKind    Kind = "value"    // only in JSON
)

// Cell is one value of a row. It is absent if the quantity does not exist, as for a shot without that event.
type Cell struct {
	Absent bool
	Number float64 // number or count, in the column's unit
	Second float64 // high end of an interval that begins at Number, or the standard error of Number
	Truth  bool
	Text   string
	Value  any // of a column for JSON alone
}

// Exact formats a cell for machines; empty if it is absent.
func (c Cell) Exact(kind Kind) string {
	switch {
	case c.Absent:
		return ""
	case kind == TruthKind:
		return strconv.FormatBool(c.Truth)
	case kind == TextKind:
		return c.Text
	}
	return Exact(c.Number)
}

func (c Cell) value(kind Kind) any {
	switch {
	case c.Absent:
		return nil
	case kind == TruthKind:
		return c.Truth
	case kind == TextKind:
		return c.Text
	case kind == IntervalKind:
		return []float64{c.Number, c.Second}
	case kind == EstimateKind:
		return ObjectOf("value", c.Number, "standard_error", c.Second)
	case kind == ValueKind:
		return c.Value
	}
	return c.Number
}

// number returns the cell of a number in the column's unit.
func number(v float64) Cell {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return Cell{Absent: true}
	case v == 0:
		v = 0 // without the sign that a zero can have
	}
	return Cell{Number: v}
}

// end returns the cell of the low (0) or the high end (1) of an interval.
func (c Cell) end(i int) Cell {
	if c.Absent {
		return c
	}
	return number([]float64{c.Number, c.Second}[i])
}

// Quantity describes a column. Its key is the name in JSON, CSV and lists of columns.
type Quantity struct {
	Key     string
	Label   string // name in tables for people, without the unit
	Meaning string // sentence without a full stop
	Unit    Unit
	Kind    Kind
	Shown   Unit // unit in tables for people

	// Array and Object name the array or object that contains the value in JSON, if it is not the object of
	// the T itself. The key of a member of such an object is the object's and the member's, joined by "_".
	Array, Object string

	Signed bool // show the sign of a difference in tables
	Right  bool // set the text flush right in tables
}

// Head returns the label with the unit for people; an interval has no unit since it follows a number with the
// unit.
func (q Quantity) Head() string {
	if symbol := q.Shown.Suffix(); symbol != "" && q.Kind != IntervalKind {
		return q.Label + ", " + symbol
	}
	return q.Label
}

// show formats a cell for people.
func (q Quantity) show(c Cell) string {
	switch {
	case c.Absent || q.Kind == IntervalKind && math.IsNaN(c.Number+c.Second) || q.Kind == EstimateKind && math.IsNaN(c.Number):
		return Absent
	case q.Kind == TruthKind:
		return YesNo(c.Truth)
	case q.Kind == TextKind:
		return c.Text
	case q.Kind == CountKind:
		return Fixed(c.Number, 0)
	case q.Kind == IntervalKind:
		return q.number(c.Number) + " to " + q.number(c.Second)
	case q.Kind == EstimateKind:
		return q.number(c.Number) + " ± " + q.number(c.Second)
	}
	return q.number(c.Number)
}

func (q Quantity) number(v float64) string {
	switch v *= q.Unit.Size; {
	case q.Shown.Name == Point.Name:
		return Points(v)
	case q.Signed:
		return Signed(q.Shown.In(v), q.Shown.Decimals)
	}
	return q.Shown.Show(v)
}

// toObject adds a cell to an object.
func (q Quantity) toObject(o Object, c Cell) Object {
	value, holder := c.value(q.Kind), q.Array+q.Object
	if holder == "" {
		return append(o, Member{q.Key, value})
	}
	k := slices.IndexFunc(o, func(m Member) bool { return m.Key == holder })
	if k < 0 {
		k, o = len(o), append(o, Member{Key: holder})
	}
	if q.Array != "" {
		list, _ := o[k].Value.(List)
		o[k].Value = append(list, value)
	} else {
		inner, _ := o[k].Value.(Object)
		o[k].Value = append(inner, Member{strings.TrimPrefix(q.Key, holder+"_"), value})
	}
	return o
}
