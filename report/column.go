package report

import (
	"cmp"
	"iter"
	"slices"
)

// Column is a quantity of a T, with the function that returns it.
type Column[T any] struct {
	Quantity
	of func(T) Cell
}

// Of returns the column's value.
func (c Column[T]) Of(v T) Cell { return c.of(v) }

// Number returns a column of a quantity in SI; NaN means that it does not exist.
func Number[T any](key, label, meaning string, u Unit, of func(T) float64) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Unit: u, Shown: u, Kind: NumberKind}, func(t T) Cell { return number(u.In(of(t))) }}
}

// Interval returns a column of an interval in SI, in JSON an array. NaN means that an end does not exist.
func Interval[T any](key, label, meaning string, u Unit, of func(T) (low, high float64)) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Unit: u, Shown: u, Kind: IntervalKind}, func(t T) Cell {
		low, high := of(t)
		return Cell{Number: u.In(low), Second: u.In(high)}
	}}
}

// Estimate returns a column of a quantity in SI with its standard error, in JSON an object.
func Estimate[T any](key, label, meaning string, u Unit, of func(T) (value, standardError float64)) Column[T] {
	c := Interval(key, label, meaning, u, of)
	c.Kind = EstimateKind
	return c
}

// Count returns a column of a whole number.
func Count[T any](key, label, meaning string, of func(T) int) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: CountKind}, func(t T) Cell { return Cell{Number: float64(of(t))} }}
}

// Truth returns a column that is true or false.
func Truth[T any](key, label, meaning string, of func(T) bool) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: TruthKind}, func(t T) Cell { return Cell{Truth: of(t)} }}
}

// Text returns a column of a word or a name.
func Text[T any](key, label, meaning string, of func(T) string) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: TextKind}, func(t T) Cell { return Cell{Text: of(t)} }}
}

// Word returns a column of a text that does not exist if it is empty.
func Word[T any](key, label, meaning string, of func(T) string) Column[T] {
	return Column[T]{Quantity{Key: key, Label: label, Meaning: meaning, Kind: TextKind}, func(t T) Cell {
		w := of(t)
		return Cell{Text: w, Absent: w == ""}
	}}
}

// Value returns a column for JSON alone, with any value that a [Member] accepts.
func Value[T any](key, meaning string, of func(T) any) Column[T] {
	return Column[T]{Quantity{Key: key, Meaning: meaning, Kind: ValueKind}, func(t T) Cell { return Cell{Value: of(t)} }}
}

// ShownIn returns the column with another unit in tables for people.
func (c Column[T]) ShownIn(u Unit) Column[T] {
	c.Shown = u
	return c
}

// FlushRight returns the column with its text set flush right in tables, as numbers are.
func (c Column[T]) FlushRight() Column[T] {
	c.Right = true
	return c
}

// Show formats the value for people.
func (c Column[T]) Show(v T) string { return c.show(c.of(v)) }

// ShowChange formats the difference b − a for people, with one decimal more than values; empty if the column
// is not a number.
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

// Columns are quantities of a T.
type Columns[T any] []Column[T]

// Members returns the columns' members of the JSON object of a T.
func (cs Columns[T]) Members(v T) (o Object) {
	for _, c := range cs {
		o = c.toObject(o, c.of(v))
	}
	return o
}

// inRows returns the columns of rows: both ends of intervals, without columns for JSON alone.
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

// Rows are rows of cells of any type, for writers of CSV and other files.
type Rows struct {
	Keys  []string
	Kinds []Kind
	Each  func(take func([]Cell) error) error // calls take with the cells of each row
}

// RowsOf returns a row for each T.
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

// TableOf returns a table with a row for each T.
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

// Via returns the column of a T for a column of a U that the T has.
func Via[T, U any](c Column[U], get func(T) (U, bool)) Column[T] {
	return Column[T]{c.Quantity, func(t T) Cell {
		u, has := get(t)
		if !has {
			return Cell{Absent: true}
		}
		return c.of(u)
	}}
}

// AllVia applies [Via] to several columns.
func AllVia[T, U any](columns Columns[U], get func(T) (U, bool)) Columns[T] {
	list := make(Columns[T], len(columns))
	for i, c := range columns {
		list[i] = Via(c, get)
	}
	return list
}

// Keys returns the keys of the columns.
func (cs Columns[T]) Keys() []string {
	keys := make([]string, len(cs))
	for i, c := range cs {
		keys[i] = c.Key
	}
	return keys
}

// Find returns the column with a key.
func (cs Columns[T]) Find(key string) (Column[T], bool) {
	for _, c := range cs {
		if c.Key == key {
			return c, true
		}
	}
	return Column[T]{}, false
}

// Pick returns the columns with keys. It panics if there is no such column.
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

// Renamed returns the columns with other keys, by a map from the present keys.
func (cs Columns[T]) Renamed(keys map[string]string) Columns[T] {
	list := slices.Clone(cs)
	for i, c := range list {
		list[i].Key = cmp.Or(keys[c.Key], c.Key)
	}
	return list
}

// difference returns the cell of the difference of two numbers.
func (c Column[T]) difference(a, b T) Cell {
	x, y := c.of(a), c.of(b)
	if x.Absent || y.Absent {
		return Cell{Absent: true}
	}
	return Cell{Number: y.Number - x.Number}
}

// Difference returns the column, of a U that has two Ts, of the difference b − a of a number.
func Difference[T, U any](c Column[T], both func(U) (a, b T)) Column[U] {
	d := Via(c.Change(), func(u U) (T, bool) { a, _ := both(u); return a, true })
	d.of = func(u U) Cell {
		a, b := both(u)
		return c.difference(a, b)
	}
	return d
}

// Change returns the column shown as a difference in tables: with its sign and one decimal more than values,
// so that the difference of two values that look equal does not vanish.
func (c Column[T]) Change() Column[T] {
	c.Shown, c.Signed = c.Shown.Finer(), true
	return c
}

// Document returns a document with a table with a row for each T.
func (cs Columns[T]) Document(title string, rows iter.Seq[T]) Document {
	g := TableOf(cs, rows)
	g.Tone = HeadingFirst
	doc := Document{Title: title}
	doc.Table(g)
	return doc
}

// List describes the columns of rows, for users who choose among them.
func (cs Columns[T]) List() string {
	g := Grid{Left: []bool{true, true, true}, Rows: [][]string{{"column", "unit", "meaning"}}}
	for _, c := range cs.inRows() {
		g.Rows = append(g.Rows, []string{c.Key, c.Unit.Name, c.Meaning})
	}
	return g.String()
}
