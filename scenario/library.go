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

// withLibrary returns the shape with one form more: as in another file, but for what is
// written.
func withLibrary(s *shape) *shape {
	fields := []field{
		{key: fromKey, meaning: "File that has it, a scenario or a part of one, relative to this file; what is written here takes the place of what stands there", shape: freeText, required: true},
		{key: asKey, meaning: "Name shown in results, instead of the name in that file", shape: freeText, note: "the name in that file"},
	}
	fields = append(fields, changed(s.forms[0].fields, s.forms[0].keys(), func(f *field) {
		if f.required, f.assumed, f.fallback, f.note = false, false, "", "as that file says"; f.key == "name" {
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

// fillLibraries puts in what is taken from other files. Places remain those of the
// files in which things are written.
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

// partOf returns the kind of part that a key stands for, alone or as a list; "" for others.
func partOf(key string) string {
	if i := slices.IndexFunc(partKinds, func(kind string) bool { return key == kind || key == plurals[kind] }); i >= 0 {
		return partKinds[i]
	}
	return ""
}

// partNodes returns the lanes, balls or bowlers of a file.
func partNodes(root *node, kind string) []*node {
	if one := root.entry(kind); one != nil {
		return []*node{one}
	}
	if list := root.entry(plurals[kind]); list != nil {
		return list.items
	}
	return nil
}

// take fills in a part as another file has it, and refuses it after a problem. Part is its
// path in its own file.
func (r *reader) take(n *node, kind, part string) {
	from, name := n.entry(fromKey), n.entry("name")
	fail := func(at *node, key, message, hint string) {
		r.add(at.at, join(part, key), message, hint)
		n.kind = refused
	}
	if from.kind != scalar || strings.TrimSpace(from.text) == "" {
		fail(from, fromKey, from.describe()+" does not fit: the name of a file is wanted", "")
		return
	}
	file := strings.TrimSpace(from.text)
	root, err := r.library(file)
	if err != nil {
		fail(from, fromKey, err.Error(), "")
		return
	}
	if root == nil {
		n.kind = refused // reading it has said why
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
	there := fmt.Sprintf("%s has no %s with a name", file, kind)
	if len(names) > 0 {
		there = "there is " + strings.Join(names, ", ")
	}
	switch {
	case name == nil:
		fail(n, "name", "is missing: say which "+kind+" of "+file+" is meant", there)
	case found == nil:
		fail(name, "name", "no "+kind+" in "+file+" has the name "+strconv.Quote(name.text), cmp.Or(input.DidYouMean(name.text, names), there))
	case found.entry(fromKey) != nil:
		fail(found.entry(fromKey), fromKey, "is taken from a third file: name that one where it is used", "")
	default:
		n.fillFrom(found.clone(), scenarioShape.field(kind).shape, path.Dir(file))
	}
}

// fillFrom adds what a part of another file has and this one does not say, nor says in
// another form. Pattern files are named relative to their own file, in that folder.
func (n *node) fillFrom(other *node, s *shape, folder string) {
	own := slices.Clone(n.entries)
	instead := func(key string) bool {
		return slices.ContainsFunc(s.forms[0].choices, func(c choice) bool {
			return slices.Contains(c.keys, key) && slices.ContainsFunc(own, func(e entry) bool { return slices.Contains(c.keys, e.key.text) })
		})
	}
	for _, e := range other.entries {
		if n.entry(e.key.text) != nil || instead(e.key.text) {
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
		r.add(root.at, "", root.describe()+" does not fit: balls, bowlers or lanes are wanted, as in a scenario", "")
		root = nil
	}
	if r.libraries == nil {
		r.libraries = map[string]*node{}
	}
	r.libraries[file] = root
	return root, nil
}
