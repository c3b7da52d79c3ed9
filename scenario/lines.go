package scenario

import "maps"

// linesKey lists lines for every bowler.
const linesKey = "lines"

// launchKeys are the ways to say where a bowler aims and starts; what a line of the
// list says of them is said instead of the bowler's own.
var launchKeys = []string{"angle", "target", "aim"}

var namedLineShape = &shape{what: "a line", forms: []form{{title: "a line", choices: []choice{
	{keys: laydownKeys}, {keys: append([]string{lineKey}, launchKeys...)}},
	fields: append([]field{
		{key: "name", meaning: "Name of the line, shown in results after the bowler's", shape: freeText, required: true},
	}, lineFields()...)}}}

// lineFields are the fields of a bowler that say where the ball starts and goes.
func lineFields() []field {
	var list []field
	for _, f := range bowlerFields {
		switch f.key {
		case "laydown", "angle", "target", "aim", lineKey, moveKey:
			f.note = "the bowler's own"
			if f.key == moveKey {
				f.note = "that of the bowler's own line, none for another"
			}
			list = append(list, f)
		}
	}
	return list
}

// lines returns the lines of the list, or one that changes nothing.
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

// onLine returns a bowler with what a line of the list says in place of the own.
//
// A laydown alone leaves the launch angle, target or aim; a bowler whose line was by
// feet or breakpoint aims at the pocket then. A line of its own is not moved as the
// bowler's was.
func (v *value) onLine(line *value) *value {
	if line == nil || v.fields == nil || line.fields == nil {
		return v
	}
	b := *v
	b.fields = maps.Clone(v.fields)
	drop := func(keys ...string) {
		for _, k := range keys {
			delete(b.fields, k)
		}
	}
	launch := line.has("angle") || line.has("target") || line.has("aim")
	switch {
	case line.has(lineKey):
		drop("laydown", lineKey)
		drop(launchKeys...)
	case launch:
		drop(lineKey)
		drop(launchKeys...)
	case line.has("laydown") && b.has(lineKey):
		drop(lineKey)
		b.fields["aim"] = &value{path: line.path, at: line.at, word: builtinLine}
	}
	if launch || line.has(lineKey) || line.has("laydown") {
		drop(moveKey)
	}
	for _, f := range lineFields() {
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
