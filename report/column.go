package report

import (
	"cmp"
	"iter"
	"slices"
)

// Column is a quantity of a T, and how it is got.
type Column[T any] struct {
	Quantity
	of func(T) Cell
}

// Of returns the column's value.
func (c Column[T]) Of(v T) Cell { return c.of(v) }

// Number is a quantity in SI; NaN does not exist.
func Number[T any](key, label, meaning string, u Unit, of func(T) float64) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Unit: u, Shown: u, Kind: NumberKind}, func(t T) Cell { return number(u.In(of(t))) }}
}

// Interval is from one quantity in SI to another: in JSON an array. What is NaN does not
// exist.
func Interval[T any](key, label, meaning string, u Unit, of func(T) (low, high float64)) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Unit: u, Shown: u, Kind: IntervalKind}, func(t T) Cell {
		low, high := of(t)
		return Cell{Number: u.In(low), Second: u.In(high)}
	}}
}

// Estimate is a quantity in SI with its standard error: in JSON an object.
func Estimate[T any](key, label, meaning string, u Unit, of func(T) (value, standardError float64)) Column[T] {
	c := Interval(key, label, meaning, u, of)
	c.Kind = EstimateKind
	return c
}

// Count is a whole number of things.
func Count[T any](key, label, meaning string, of func(T) int) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: CountKind}, func(t T) Cell { return Cell{Number: float64(of(t))} }}
}

// Truth is whether something holds.
func Truth[T any](key, label, meaning string, of func(T) bool) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: TruthKind}, func(t T) Cell { return Cell{Truth: of(t)} }}
}

// Text is a word or a name.
func Text[T any](key, label, meaning string, of func(T) string) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: TextKind}, func(t T) Cell { return Cell{Text: of(t)} }}
}

// Word is a text that does not exist where it is empty.
func Word[T any](key, label, meaning string, of func(T) string) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: TextKind}, func(t T) Cell {
		w := of(t)
		return Cell{Text: w, Absent: w == ""}
	}}
}

// Value is what only JSON has: whatever a [Member] takes.
func Value[T any](key, meaning string, of func(T) any) Column[T] {
	return Column[T]{Quantity{Key: key, Meaning: meaning, Kind: ValueKind}, func(t T) Cell { return Cell{Value: of(t)} }}
}

// ShownIn has tables for people show another unit.
func (c Column[T]) ShownIn(u Unit) Column[T] {
	c.Shown = u
	return c
}

// FlushRight has tables set the column's text as if it were a number.
func (c Column[T]) FlushRight() Column[T] {
	c.Right = true
	return c
}

// Show prints the value for people.
func (c Column[T]) Show(v T) string { return c.show(c.of(v)) }

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
func (cs Columns[T]) Members(v T) (o Object) {
	for _, c := range cs {
		o = c.toObject(o, c.of(v))
	}
	return o
}

// inRows are the columns of rows: both ends of an interval, and not what only JSON has.
func (cs Columns[T]) inRows() (list Columns[T]) {
	for _, c := range cs {
		switch c.Kind {
		case ValueKind, EstimateKind:
		case IntervalKind:
			for i, end := range []string{"low", "high"} {
				one := Column[T]{c.Quantity, func(t T) Cell { return c.of(t).end(i) }}
				one.Key, one.Meaning, one.Kind = c.Key+"_"+end, c.Meaning+", "+end+" end", NumberKind
				list = append(list, one)
			}
		default:
			list = append(list, c)
		}
	}
	return list
}

// Rows are rows of cells, whatever they are of, for those who write them.
type Rows struct {
	Keys  []string
	Kinds []Kind
	Each  func(take func([]Cell) error) error // hands over the cells of each row
}

// RowsOf makes a row of each T.
func RowsOf[T any](columns Columns[T], list iter.Seq[T]) Rows {
	columns = columns.inRows()
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

// Via makes a quantity of a U that a T has one of a T.
func Via[T, U any](c Column[U], get func(T) (U, bool)) Column[T] {
	return Column[T]{c.Quantity, func(t T) Cell {
		u, has := get(t)
		if !has {
			return Cell{Absent: true}
		}
		return c.of(u)
	}}
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

// Renamed gives columns other keys, by those that they have.
func (cs Columns[T]) Renamed(keys map[string]string) Columns[T] {
	list := slices.Clone(cs)
	for i, c := range list {
		list[i].Key = cmp.Or(keys[c.Key], c.Key)
	}
	return list
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

// Document shows a row for each T.
func (cs Columns[T]) Document(title string, rows iter.Seq[T]) Document {
	g := TableOf(cs, rows)
	g.Tone = HeadingFirst
	doc := Document{Title: title}
	doc.Table(g)
	return doc
}

// List says which columns of rows there are.
func (cs Columns[T]) List() string {
	g := Grid{Left: []bool{true, true, true}, Rows: [][]string{{"column", "unit", "meaning"}}}
	for _, c := range cs.inRows() {
		g.Rows = append(g.Rows, []string{c.Key, c.Unit.Name, c.Meaning})
	}
	return g.String()
}
