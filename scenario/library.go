package scenario

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
)

// The keys by which a lane, ball or bowler is taken from another file.
const (
	fromKey = "from"
	asKey   = "as"
)

// withLibrary returns the shape with one more form: a part of another file, except for the
// fields given here.
func withLibrary(s *shape) *shape {
	fields := []field{
		{key: fromKey, meaning: "File that has it, a scenario or a part of one, relative to this file; fields given here replace those of that file", shape: freeText, required: true},
		{key: asKey, meaning: "Name shown in results, instead of the name in that file", shape: freeText, note: "the name in that file"},
	}
	fields = append(fields, changed(s.forms[0].fields, s.forms[0].keys(), func(f *field) {
		if f.required, f.assumed, f.fallback, f.note = false, false, "", "that of the file"; f.key == "name" {
			f.required, f.meaning = true, "Name in that file"
		}
	})...)
	var choices []choice
	for _, c := range s.forms[0].choices {
		choices = append(choices, choice{keys: c.keys})
	}
	s.usualFirst = true
	s.forms = append(s.forms, form{title: s.what + " from a file", fields: fields, choices: choices, library: true})
	return s
}

// fillLibraries adds what is taken from other files. Each value keeps its place in its own
// file.
func (r *reader) fillLibraries(root *node) {
	for _, kind := range partKinds {
		for i, n := range partNodes(root, kind) {
			if n.kind == mapping && n.entry(fromKey) != nil {
				at := kind
				if root.entry(kind) == nil {
					at = fmt.Sprintf("%s[%d]", plurals[kind], i)
				}
				r.take(n, kind, at)
			}
		}
	}
}

// partKinds are the parts of which there can be several.
var partKinds = []string{"lane", "ball", "bowler"}

// partOf returns the kind of part of a key, single or plural; "" for other keys.
func partOf(key string) string {
	if i := slices.IndexFunc(partKinds, func(kind string) bool { return key == kind || key == plurals[kind] }); i >= 0 {
		return partKinds[i]
	}
	return ""
}

// partNodes returns the lanes, balls or bowlers of a file.
func partNodes(root *node, kind string) []*node {
	if single := root.entry(kind); single != nil {
		return []*node{single}
	}
	if list := root.entry(plurals[kind]); list != nil {
		return list.items
	}
	return nil
}

// take fills in a part from another file, and marks it as refused after a problem. part is
// its path in its own file.
func (r *reader) take(n *node, kind, part string) {
	from, name := n.entry(fromKey), n.entry("name")
	fail := func(at *node, key, message, hint string) {
		r.add(at.at, join(part, key), message, hint)
		n.kind = refused
	}
	if from.kind != scalar || strings.TrimSpace(from.text) == "" {
		fail(from, fromKey, from.describe()+" does not fit: give the name of a file", "")
		return
	}
	file := strings.TrimSpace(from.text)
	root, err := r.library(file)
	if err != nil {
		fail(from, fromKey, err.Error(), "")
		return
	}
	if root == nil {
		n.kind = refused // reading it has reported why
		return
	}
	var names []string
	var found *node
	for _, item := range partNodes(root, kind) {
		if own := item.entry("name"); own != nil && own.kind == scalar {
			names = append(names, strings.TrimSpace(own.text))
			if name != nil && strings.TrimSpace(own.text) == strings.TrimSpace(name.text) {
				found = item
			}
		}
	}
	available := fmt.Sprintf("%s has no %s with a name", file, kind)
	if len(names) > 0 {
		available = "there is " + strings.Join(names, ", ")
	}
	switch {
	case name == nil:
		fail(n, "name", "is missing: say which "+kind+" of "+file+" is meant", available)
	case found == nil:
		fail(name, "name", "no "+kind+" in "+file+" has the name "+strconv.Quote(name.text), cmp.Or(input.DidYouMean(name.text, names), available))
	case found.entry(fromKey) != nil:
		fail(found.entry(fromKey), fromKey, "is itself taken from another file: name that file directly", "")
	default:
		n.fillFrom(found.clone(), scenarioShape.field(kind).shape, path.Dir(file))
	}
}

// fillFrom adds the entries of a part of another file that this one does not have, in any
// form. Pattern files there are relative to their own file, in the given folder.
func (n *node) fillFrom(other *node, s *shape, folder string) {
	own := &node{entries: slices.Clone(n.entries)}
	for _, e := range other.entries {
		if n.entry(e.key.text) != nil || s.forms[0].excluded(e.key.text, own) {
			continue
		}
		if v := e.value; e.key.text == "oil" && v.kind == scalar && patternEnding(v.text) && !path.IsAbs(v.text) {
			v.text = path.Join(folder, v.text)
		}
		n.entries = append(n.entries, e)
	}
	as := n.entry(asKey)
	n.remove(fromKey)
	if n.remove(asKey); as != nil {
		n.remove("name")
		n.entries = append(n.entries, entry{textNode("name", as.at), as})
	}
}

// library reads a file once; the tree is nil after a problem in it.
func (r *reader) library(name string) (*node, error) {
	file := r.beside(name)
	if root, known := r.libraries[file]; known {
		return root, nil
	}
	_, data, err := r.opened(name, "")
	if err != nil {
		return nil, err
	}
	root := r.tree(file, data)
	if root != nil && root.kind != mapping {
		r.add(root.at, "", root.describe()+" does not fit: give balls, bowlers or lanes as in a scenario", "")
		root = nil
	}
	if r.libraries == nil {
		r.libraries = map[string]*node{}
	}
	r.libraries[file] = root
	return root, nil
}
