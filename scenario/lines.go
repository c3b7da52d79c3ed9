package scenario

import (
	"maps"
	"slices"
)

// linesKey lists lines for every bowler.
const linesKey = "lines"

// launchKeys are the ways to give the launch; in a line of the list they replace the
// bowler's own.
var launchKeys = []string{"angle", "target", "aim"}

var namedLineShape = &shape{what: "a line", forms: []form{{title: "a line", choices: []choice{
	{keys: laydownKeys}, {keys: append([]string{lineKey}, launchKeys...)}},
	fields: append([]field{
		{key: "name", meaning: "Name of the line, shown in results after the bowler's", shape: freeText, required: true},
	}, lineFields...)}}}

// lineFields are the fields of a bowler's line.
var lineFields = changed(bowlerFields, []string{"laydown", "angle", "target", "aim", lineKey, moveKey}, func(f *field) {
	f.note = "the bowler's own"
	if f.key == moveKey {
		f.note = "the bowler's own with the bowler's own line, else none"
	}
})

// lines returns the lines of the list, or nil alone, which changes nothing.
func (r *reader) lines(v *value) []*value {
	list := v.field(linesKey).items
	if len(list) == 0 {
		return []*value{nil}
	}
	if r.sweeps {
		r.fail(v.field(linesKey), "a sweep does not take a list of lines: vary the bowler's laydown and angle, or give several bowlers", "")
	}
	return list
}

// replaced returns the keys of a bowler's line that a line of the list replaces, from the
// keys of both, and whether the bowler then aims at the pocket.
//
// A laydown alone keeps the bowler's launch angle, target or aim; a bowler with a line by
// feet or breakpoint then aims at the pocket. A replaced line loses the bowler's move.
func replaced(own, line func(key string) bool) (gone []string, aims bool) {
	launch := slices.ContainsFunc(launchKeys, line)
	switch {
	case line(lineKey):
		gone = append([]string{"laydown", lineKey, moveKey}, launchKeys...)
	case launch:
		gone = append([]string{lineKey, moveKey}, launchKeys...)
	case line("laydown"):
		gone, aims = []string{moveKey}, own(lineKey)
		if aims {
			gone = append(gone, lineKey)
		}
	}
	return gone, aims
}

// onLine returns a bowler with the line replaced by a line of the list.
func (v *value) onLine(line *value) *value {
	if line == nil || v.fields == nil || line.fields == nil {
		return v
	}
	b := *v
	b.fields = maps.Clone(v.fields)
	gone, aims := replaced(v.has, line.has)
	for _, key := range gone {
		delete(b.fields, key)
	}
	if aims {
		b.fields["aim"] = &value{path: line.path, at: line.at, word: builtinLine}
	}
	for _, f := range lineFields {
		if line.has(f.key) {
			b.fields[f.key] = line.field(f.key)
		}
	}
	return &b
}

// bowlerNames names the bowlers, each with the line if there is a list of them.
func (r *reader) bowlerNames(s *Scenario, bowlers, lines []*value) []string {
	lineNames := []string{""}
	if lines[0] != nil {
		lineNames = r.names("line", lines, func(int) string { return "" })
	}
	var names []string
	for i, person := range r.names("bowler", bowlers, func(i int) string { return bowlers[i].field(likeKey).word }) {
		for k, line := range lineNames {
			b := &s.Bowlers[i*len(lineNames)+k]
			if b.Name = person; line != "" {
				b.Name, b.Person, b.Line = person+", "+line, person, line
			}
			names = append(names, b.Name)
		}
	}
	return names
}
