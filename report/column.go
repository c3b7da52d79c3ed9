package report

import (
	"iter"
	"math"
	"strconv"
	"strings"
)

// Kind is what the cells of a column hold.
type Kind string

// The kinds of columns.
const (
	NumberKind Kind = "number"
	CountKind  Kind = "count" // a whole number
	TruthKind  Kind = "truth"
	TextKind   Kind = "text"
)

// Cell is one value of a row. A cell that is absent has no value: what does not
// exist for a shot.
type Cell struct {
	Absent bool
	Number float64 // of a number or a count, in the column's unit
	Truth  bool
	Text   string
}

// Exact prints a cell for machines: what does not exist is empty.
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
	}
	return c.Number
}

// Column is a quantity of a T: what it is, its unit, and how it is got. Its key
// names it in JSON and CSV and wherever columns are chosen.
type Column[T any] struct {
	Key     string
	Label   string // in tables for people, without the unit
	Meaning string // a sentence without its full stop
	Unit    Unit
	Kind    Kind
	Shown   Unit // in tables for people

	of func(T) Cell

	// Array and Object name what holds the value in JSON, where that is not the
	// object of the T itself. Of an object the key of a column is that of the object
	// and the member, joined by "_".
	Array, Object string

	Signed bool // tables show the sign of a difference
	Right  bool // tables set the text flush right
}

// Of returns the column's value.
func (c Column[T]) Of(v T) Cell { return c.of(v) }

// Number is a quantity in SI; NaN does not exist.
func Number[T any](key, label, meaning string, u Unit, of func(T) float64) Column[T] {
	return Column[T]{Key: key, Label: label, Meaning: meaning, Unit: u, Shown: u, Kind: NumberKind, of: func(t T) Cell {
		v := u.In(of(t))
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return Cell{Absent: true}
		case v == 0:
			v = 0 // without the sign that a zero can have
		}
		return Cell{Number: v}
	}}
}

// Count is a whole number of things.
func Count[T any](key, label, meaning string, of func(T) int) Column[T] {
	return Column[T]{Key: key, Label: label, Meaning: meaning, Kind: CountKind, of: func(t T) Cell { return Cell{Number: float64(of(t))} }}
}

// Truth is whether something holds.
func Truth[T any](key, label, meaning string, of func(T) bool) Column[T] {
	return Column[T]{Key: key, Label: label, Meaning: meaning, Kind: TruthKind, of: func(t T) Cell { return Cell{Truth: of(t)} }}
}

// Text is a word or a name.
func Text[T any](key, label, meaning string, of func(T) string) Column[T] {
	return Column[T]{Key: key, Label: label, Meaning: meaning, Kind: TextKind, of: func(t T) Cell { return Cell{Text: of(t)} }}
}

// Word is a text that does not exist where it is empty.
func Word[T any](key, label, meaning string, of func(T) string) Column[T] {
	return Column[T]{Key: key, Label: label, Meaning: meaning, Kind: TextKind, of: func(t T) Cell {
		w := of(t)
		return Cell{Text: w, Absent: w == ""}
	}}
}

// ShownIn has tables for people show another unit.
func (c Column[T]) ShownIn(u Unit) Column[T] {
	c.Shown = u
	return c
}

// Head is the column's label with the unit in which people read it.
func (c Column[T]) Head() string {
	if symbol := c.Shown.Suffix(); symbol != "" {
		return c.Label + ", " + symbol
	}
	return c.Label
}

// Show prints the value for people.
func (c Column[T]) Show(v T) string { return c.show(c.of(v)) }

func (c Column[T]) show(cell Cell) string {
	switch {
	case cell.Absent:
		return Absent
	case c.Kind == TruthKind:
		return YesNo(cell.Truth)
	case c.Kind == TextKind:
		return cell.Text
	case c.Kind == CountKind:
		return Fixed(cell.Number, 0)
	}
	v := cell.Number * c.Unit.Size / c.Shown.Size
	if c.Signed {
		return Signed(v, c.Shown.Decimals)
	}
	return Fixed(v, c.Shown.Decimals)
}

// ShowChange prints for people how much more b has than a, with a decimal more than
// values: empty for what is no number.
func (c Column[T]) ShowChange(a, b T) string {
	if c.Kind != NumberKind && c.Kind != CountKind {
		return ""
	}
	c = c.Change()
	if c.Kind == CountKind {
		c.Shown, c.Kind = Ratio.Digits(0), NumberKind
		c.Unit = c.Shown
	}
	return c.show(c.difference(a, b))
}

// Columns are the quantities of a T.
type Columns[T any] []Column[T]

// Members are the columns' members of the JSON object of a T.
func (cs Columns[T]) Members(v T) Object {
	var o Object
	at := map[string]int{} // of arrays and objects
	for _, c := range cs {
		value := c.of(v).value(c.Kind)
		holder := c.Array + c.Object
		if holder == "" {
			o = append(o, Member{c.Key, value})
			continue
		}
		k, known := at[holder]
		if !known {
			k = len(o)
			at[holder] = k
			o = append(o, Member{Key: holder})
		}
		if c.Array != "" {
			list, _ := o[k].Value.(List)
			o[k].Value = append(list, value)
		} else {
			inner, _ := o[k].Value.(Object)
			o[k].Value = append(inner, Member{strings.TrimPrefix(c.Key, holder+"_"), value})
		}
	}
	return o
}

// Rows are rows of cells, whatever they are of, for those who write them.
type Rows struct {
	Keys  []string
	Kinds []Kind
	Each  func(take func([]Cell) error) error // hands over the cells of each row
}

// RowsOf makes a row of each T.
func RowsOf[T any](columns Columns[T], list iter.Seq[T]) Rows {
	r := Rows{Keys: columns.Keys()}
	for _, c := range columns {
		r.Kinds = append(r.Kinds, c.Kind)
	}
	r.Each = func(take func([]Cell) error) error {
		cells := make([]Cell, len(columns))
		for v := range list {
			for i, c := range columns {
				cells[i] = c.of(v)
			}
			if err := take(cells); err != nil {
				return err
			}
		}
		return nil
	}
	return r
}

// TableOf has a row for each T.
func TableOf[T any](columns Columns[T], rows iter.Seq[T]) Grid {
	g := Grid{Rows: [][]string{nil}}
	for _, c := range columns {
		g.Rows[0] = append(g.Rows[0], c.Head())
		g.Left = append(g.Left, c.Kind == TextKind && !c.Right)
	}
	for v := range rows {
		var row []string
		for _, c := range columns {
			row = append(row, c.Show(v))
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// Interval is the two ends of an interval, of which NaN does not exist.
func Interval[T any](key, meaning string, of func(T) [2]float64) Columns[T] {
	var list Columns[T]
	for i, end := range []string{"low", "high"} {
		c := Number(key+"_"+end, "", meaning+", "+end+" end", Ratio, func(t T) float64 { return of(t)[i] })
		c.Array = key
		list = append(list, c)
	}
	return list
}

// Via makes a quantity of a U that a T has one of a T.
func Via[T, U any](c Column[U], get func(T) (U, bool)) Column[T] {
	of := c.of
	return Column[T]{
		Key: c.Key, Label: c.Label, Meaning: c.Meaning, Unit: c.Unit, Kind: c.Kind, Shown: c.Shown, Array: c.Array, Object: c.Object, Signed: c.Signed, Right: c.Right,
		of: func(t T) Cell {
			u, has := get(t)
			if !has {
				return Cell{Absent: true}
			}
			return of(u)
		},
	}
}

// AllVia makes quantities of a U that a T has those of a T.
func AllVia[T, U any](columns Columns[U], get func(T) (U, bool)) Columns[T] {
	list := make(Columns[T], len(columns))
	for i, c := range columns {
		list[i] = Via(c, get)
	}
	return list
}

// Keys lists the keys of columns.
func (cs Columns[T]) Keys() []string {
	keys := make([]string, len(cs))
	for i, c := range cs {
		keys[i] = c.Key
	}
	return keys
}

// Find returns the column of a key.
func (cs Columns[T]) Find(key string) (Column[T], bool) {
	for _, c := range cs {
		if c.Key == key {
			return c, true
		}
	}
	return Column[T]{}, false
}

// Pick returns the columns of keys, which must be there.
func (cs Columns[T]) Pick(keys ...string) Columns[T] {
	picked := make(Columns[T], len(keys))
	for i, key := range keys {
		c, found := cs.Find(key)
		if !found {
			panic("there is no column " + key)
		}
		picked[i] = c
	}
	return picked
}

// difference is that of two values of a number.
func (c Column[T]) difference(a, b T) Cell {
	x, y := c.of(a), c.of(b)
	if x.Absent || y.Absent {
		return Cell{Absent: true}
	}
	return Cell{Number: y.Number - x.Number}
}

// Difference is the difference b − a of a number of two Ts as a column of a U that has
// both.
func Difference[T, U any](c Column[T], both func(U) (a, b T)) Column[U] {
	d := Via(c.Change(), func(u U) (T, bool) { a, _ := both(u); return a, true })
	d.of = func(u U) Cell {
		a, b := both(u)
		return c.difference(a, b)
	}
	return d
}

// Change has tables show the column's number as a difference: with its sign, and with a
// decimal more than values, since the difference of two that look alike should not vanish.
func (c Column[T]) Change() Column[T] {
	c.Shown, c.Signed = c.Shown.Finer(), true
	return c
}

// TableDocument shows a row for each T.
func TableDocument[T any](title string, columns Columns[T], rows iter.Seq[T]) Document {
	g := TableOf(columns, rows)
	g.Tone = HeadingFirst
	doc := Document{Title: title}
	doc.Table(g)
	return doc
}

// ColumnList says which columns there are.
func ColumnList[T any](columns Columns[T]) string {
	g := Grid{Left: []bool{true, true, true}, Rows: [][]string{{"column", "unit", "meaning"}}}
	for _, c := range columns {
		g.Rows = append(g.Rows, []string{c.Key, c.Unit.Name, c.Meaning})
	}
	return g.String()
}
