package scenario

import "slices"

// Filled returns the document with the lanes, bowlers or balls of another document where
// it has none of its own.
func (d *Document) Filled(from *Document) *Document {
	root := d.root.clone()
	for _, e := range from.root.clone().entries {
		if kind := partOf(e.key.text); kind != "" && d.root.entry(kind) == nil && d.root.entry(plurals[kind]) == nil {
			root.entries = append(root.entries, e)
		}
	}
	return d.with(root)
}

// HasParts reports whether the document has any lane, bowler or ball.
func (d *Document) HasParts() bool {
	return slices.ContainsFunc(d.root.entries, func(e entry) bool { return partOf(e.key.text) != "" })
}

// Finish returns the finish of a ball, by index, as written in the document with values
// set; "" if it has none.
func (d *Document) Finish(sets []string, ball int) string {
	root, p := d.root.clone(), d.problems.clone()
	for _, s := range sets {
		p.set(root, s)
	}
	if parts := partNodes(root, "ball"); ball < len(parts) {
		if finish := parts[ball].entry("finish"); finish != nil {
			return finish.text
		}
	}
	return ""
}

// IsPattern reports whether a file is an oil pattern: tape readings, or YAML with the key
// kind and no parts of a scenario.
func IsPattern(name string, data []byte) bool {
	if csvEnding(name) {
		return true
	}
	d, err := Open(name, data, nil)
	return err == nil && d.root.kind == mapping && d.root.entry("kind") != nil && !d.HasParts()
}

// WithPattern returns the document with the pattern of a file on all of its lanes. The
// error is the file's [Errors].
func (d *Document) WithPattern(name string, data []byte) (*Document, error) {
	pattern, err := ReadPattern(name, data)
	if err != nil {
		return nil, err
	}
	root := d.root.clone()
	for _, l := range partNodes(root, "lane") {
		text, err := written(pattern.inputs())
		if err != nil {
			return nil, err
		}
		l.put("oil", text)
	}
	return d.with(root), nil
}
