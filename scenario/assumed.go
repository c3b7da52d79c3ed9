package scenario

import (
	"fmt"
	"strings"

	"lanesim/studies"
)

// measuredKey is the key under which a lane or a ball says what is measured.
const measuredKey = "measured"

// measured resolves which values of a lane or a ball are measured. They stand in
// it or in one of its parts, and have to be given.
func (r *reader) measured(v, part *value) map[string]bool {
	marked := map[string]bool{}
	if !v.has(measuredKey) {
		return marked
	}
	for _, item := range v.field(measuredKey).items {
		switch {
		case item.bad:
		case marked[item.word]:
			r.fail(item, item.word+" is marked twice", "")
		case v.field(item.word).given || part.field(item.word).given:
			marked[item.word] = true
		default:
			r.fail(item, item.word+" is marked as measured, but its value is not given", "")
		}
	}
	return marked
}

// withMeasured writes the names of what is measured, if anything is.
func (o object) withMeasured(names []string, marked ...bool) object {
	var list []string
	for i, m := range marked {
		if m {
			list = append(list, names[i])
		}
	}
	if list == nil {
		return o
	}
	return o.with(measuredKey, list)
}

// assumedValues lists the assumed values and their ranges.
func (r *page) assumedValues() {
	fmt.Fprintf(r, "## Assumed values and their ranges\n\n"+
		"Conclusions are tried with sets of these values: the points 1, 2 … of the Halton sequence with the bases 2, 3, 5, 7, 11, 13, 17 and 19, in the order of "+
		"the table. Values that a lane or a ball names under `measured` are kept; where lanes or balls differ in a value, the first takes the set's and the others keep "+
		"their ratio to it. The ranges are *assumed*, too.\n\n| value | meaning | from | to | even in |\n| --- | --- | --- | --- | --- |\n")
	for _, a := range studies.AssumedValues() {
		even := "the logarithm"
		if a.Uniform {
			even = "the value"
		}
		n := assumedField(a.Key).shape.number
		fmt.Fprintf(r, "| `%s` | %s | %s | %s | %s |\n", a.Key, a.Meaning, n.dimension.format(a.Low, n.unit), n.dimension.format(a.High, n.unit), even)
	}
	r.WriteString("\n")
}

// assumedField returns the field that a path of keys names.
func assumedField(path string) *field {
	s, f := scenarioShape, (*field)(nil)
	for key := range strings.SplitSeq(path, ".") {
		f = s.field(key)
		s = f.shape
	}
	return f
}
