package scenario

import (
	"math/big"
	"strings"
)

// Parameter is a field of the scenario that varies.
type Parameter struct {
	Path string // as in the file
	Unit string // of numbers with a unit, else ""

	// Column names the parameter's column: the path, followed by the unit.
	Column string

	// Numeric is set if all values are numbers; else they are texts.
	Numeric bool

	// Levels is the number of values; 0 for all numbers between two ends.
	Levels int

	segments []segment
	place    place
	shape    *shape
	values   []levelValue // of a list; of a range the ends
	last     string       // of a range, as written

	isRange  bool
	from, by *big.Rat // of a range, in its unit: by leads from one end to the other
}

// levelValue is a value of a parameter.
type levelValue struct {
	Number float64 // in the parameter's unit, as it is printed
	Text   string  // as it is printed; with the unit it can be set

	node *node // as it is set
}

// readVary resolves what varies.
func (s *Sweep) readVary(d *decoder, n *node) {
	switch {
	case n == nil || n.kind == nothing || n.kind == refused:
		return
	case n.kind != mapping:
		d.add(n.at, "vary", n.describe()+" does not fit: give a mapping of paths to values, for example  bowler.speed: [17 mph, 18 mph]", "")
		return
	case len(n.entries) == 0:
		d.add(n.at, "vary", "is empty: there is nothing to vary", "")
	}
	var trial *node // with the first values set, one after the other
	if s.root != nil {
		trial = s.root.clone()
	}
	taken := map[string]string{}
	for _, e := range n.entries {
		at := place{s.vary, e.key.at.line, e.key.at.column}
		q := Parameter{Path: strings.TrimSpace(e.key.text), place: at}
		var problem string
		if q.segments, _, problem = split(e.key.text, at); problem != "" {
			d.add(e.key.at, q.Path, problem, "")
			continue
		}
		if trial != nil && !q.fits(d, trial, e.value, s.vary) {
			continue
		}
		if q.shape = shapeAt(q.segments); q.shape == nil {
			if trial != nil {
				d.add(e.key.at, q.Path, "there is no such field", "")
			}
			continue
		}
		if !q.read(d, e.value, s.vary) {
			// No further problems of this field are reported.
			q.values, q.isRange, q.Numeric, q.Levels = []levelValue{{node: &node{kind: refused, at: at}}}, false, false, 1
		}
		q.Column = columnName(q.Path, q.Unit)
		if other, twice := taken[q.Column]; twice {
			d.add(e.key.at, q.Path, "already varies, as "+other, "")
			continue
		}
		taken[q.Column] = q.Path
		s.Parameters = append(s.Parameters, q)
	}
}

// fits reports whether the path leads to a field that can be set.
func (q *Parameter) fits(d *decoder, trial, values *node, vary *source) bool {
	first := textNode("?", q.place)
	if values.kind == sequence && len(values.items) > 0 {
		first = values.items[0].moved(vary)
	}
	before := len(d.problems.list)
	set := setter{d.problems, first, ""}
	set.into(trial, scenarioShape, q.segments)
	nameBowlers(trial)
	return len(d.problems.list) == before
}

// columnName appends a unit to a path, as in names of columns.
func columnName(path, unit string) string {
	switch unit {
	case "":
		return path
	case "m/s":
		return path + "_mps"
	}
	return path + "_" + strings.ReplaceAll(unit, "/", "_")
}

// shapeAt returns the shape of the field that a path leads to, nil if there is
// none.
func shapeAt(path []segment) *shape {
	s := scenarioShape
	for i := 0; i < len(path); i++ {
		key := path[i]
		_, index := key.index(1 << 30)
		switch {
		case s == scenarioShape && i == 0 && len(path) > 1 && partOf(key.text) != "":
			s = scenarioShape.field(partOf(key.text)).shape
			// An index or a name chooses one of several.
			if next := path[1]; next.quoted || s.field(next.text) == nil {
				i++
			}
		case s.items != nil && index:
			s = s.items
		case s.field(key.text) != nil:
			s = s.field(key.text).shape
		default:
			return nil
		}
	}
	return s
}
