package scenario

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"lanesim/report"
	"lanesim/studies/sweep"
)

// read resolves the values of a parameter and reports whether it could.
func (q *Parameter) read(d *decoder, n *node, vary *source) bool {
	switch n.kind {
	case refused:
		return false
	case nothing:
		d.add(n.at, q.Path, "has no value: give a list of values or {from, to, steps}", "")
		return false
	case sequence:
		return q.readList(d, n, vary)
	case mapping:
		return q.readRange(d, n, vary)
	}
	d.add(n.at, q.Path, n.describe()+" does not vary: give a list of values or {from, to, steps}", "")
	return false
}

// readList resolves a list of values: numbers if all of them are.
func (q *Parameter) readList(d *decoder, n *node, vary *source) bool {
	if len(n.items) == 0 {
		d.add(n.at, q.Path, "is an empty list: give values", "")
		return false
	}
	bad := false
	for _, item := range n.items {
		if item.kind == nothing || item.kind == refused {
			d.add(item.at, q.Path, "has no value", "")
			bad = true
		}
	}
	if bad {
		return false
	}
	q.Levels = len(n.items)
	q.Numeric = q.shape.number != nil && !slices.ContainsFunc(n.items, func(i *node) bool {
		return i.kind != scalar || q.shape.has(i.text)
	})
	for _, item := range n.items {
		item = item.moved(vary)
		if !q.Numeric {
			q.values = append(q.values, levelValue{Text: item.brief(), node: item})
			continue
		}
		x, unit, ok := q.number(d, item)
		if !ok {
			bad = true
			continue
		}
		if len(q.values) == 0 {
			q.Unit = unit
		}
		q.values = append(q.values, q.level(q.convert(x, unit), item.at))
	}
	return !bad
}

// moved returns a copy of the tree with its places in another source.
func (n *node) moved(to *source) *node {
	c := n.clone()
	c.each(func(n *node) { n.at.source = to })
	return c
}

// number reads a number of the parameter: its value in the unit that is written,
// and that unit.
func (q *Parameter) number(d *decoder, n *node) (*big.Rat, string, bool) {
	if v := d.decode(n, &shape{number: q.shape.number}, q.Path); v.bad {
		return nil, "", false
	}
	x, rest, err := scanNumber(n.text)
	if err != nil {
		return nil, "", false // decoding has reported it
	}
	if dimension := q.shape.number.dimension; dimension != nil {
		rest = dimension.unit(rest).name
	}
	return x, rest, true
}

// convert converts a number in a unit to the parameter's unit.
func (q *Parameter) convert(x *big.Rat, unit string) *big.Rat {
	if unit == q.Unit {
		return x
	}
	d := q.shape.number.dimension
	x = new(big.Rat).Mul(x, d.unit(unit).value())
	return x.Quo(x, d.unit(q.Unit).value())
}

// level returns a number in the parameter's unit as a value: the nearest float64, set by its
// shortest decimal.
func (q *Parameter) level(x *big.Rat, at place) levelValue {
	f, _ := x.Float64()
	text := strconv.FormatFloat(f, 'g', -1, 64)
	written := text
	if q.Unit != "" {
		written += " " + q.Unit
	}
	return levelValue{Number: f, Text: text, node: textNode(written, at)}
}

// readRange resolves a range.
func (q *Parameter) readRange(d *decoder, n *node, vary *source) bool {
	if q.shape.number == nil {
		d.add(n.at, q.Path, "is not a number, so it has no range: give a list of values", "")
		return false
	}
	v := d.decode(n, rangeShape(&shape{number: q.shape.number}), q.Path)
	if !v.good("from", "to") || v.has("steps") && !v.good("steps") {
		return false
	}
	from, unit, ok := q.number(d, n.entry("from"))
	to, toUnit, also := q.number(d, n.entry("to"))
	if !ok || !also {
		return false
	}
	q.Unit, q.Numeric, q.isRange = unit, true, true
	q.from, q.by = from, new(big.Rat).Sub(q.convert(to, toUnit), from)
	q.Levels, q.last = int(v.field("steps").number), v.field("to").text
	if q.by.Sign() == 0 {
		d.add(n.at, q.Path, "from and to are the same: nothing varies", "")
		return false
	}
	for i, key := range []string{"from", "to"} {
		at := n.entry(key).at
		x := new(big.Rat).Mul(q.by, big.NewRat(int64(i), 1))
		q.values = append(q.values, q.level(x.Add(x, from), place{vary, at.line, at.column}))
	}
	if q.shape.number.integer && (q.Levels == 0 || !new(big.Rat).Quo(q.by, big.NewRat(int64(q.Levels-1), 1)).IsInt()) {
		d.add(n.at, q.Path, "must be a whole number: give steps that lead to whole numbers, or a list", "")
		return false
	}
	return true
}

// at returns the parameter's value at a coordinate. Every number of a range has the place of
// its first.
func (q *Parameter) at(c sweep.Coordinate) levelValue {
	if !q.isRange {
		return q.values[c.Level]
	}
	share := new(big.Rat)
	if q.Levels > 0 {
		share.SetFrac64(int64(c.Level), int64(q.Levels-1))
	} else {
		share.SetFloat64(c.Share)
	}
	share.Mul(share, q.by)
	return q.level(share.Add(share, q.from), q.values[0].node.at)
}

// Value returns the parameter's value at a coordinate as a cell.
func (q *Parameter) Value(c sweep.Coordinate) report.Cell {
	v := q.at(c)
	return report.Cell{Number: v.Number, Text: v.Text}
}

// brief writes a value on one line: a word or number unchanged, other values by their name or
// as JSON.
func (n *node) brief() string {
	if n.kind == scalar {
		return strings.TrimSpace(n.text)
	}
	for _, key := range []string{"name", likeKey} {
		if name := n.entry(key); name != nil && name.kind == scalar {
			return strings.TrimSpace(name.text)
		}
	}
	text, err := report.JSON(n.plain())
	if err != nil {
		panic(fmt.Sprint("scenario: ", err)) // texts can always be written
	}
	return string(text)
}

// plain returns a tree as texts, lists and objects.
func (n *node) plain() any {
	switch n.kind {
	case mapping:
		o := report.Object{}
		for _, e := range n.entries {
			o = o.With(e.key.text, e.value.plain())
		}
		return o
	case sequence:
		list := report.List{}
		for _, i := range n.items {
			list = append(list, i.plain())
		}
		return list
	}
	return n.text
}
