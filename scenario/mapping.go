package scenario

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lanesim/internal/input"
)

// mapping reads a mapping: it chooses a form, reads the keys and fills in defaults.
func (d *decoder) mapping(v *value, n *node, s *shape) {
	v.fields = map[string]*value{}
	v.form = d.form(v, n, s)
	if v.form == nil {
		v.bad = true
		d.unknown(v, n, s, nil)
		return
	}
	missed := d.unknown(v, n, s, v.form)
	d.exclude(v, n)
	for i := range v.form.fields {
		f := &v.form.fields[i]
		path := join(v.path, f.key)
		if given := n.entry(f.key); given != nil {
			v.fields[f.key] = d.decode(given, f.shape, path)
			d.warn(v.fields[f.key], f)
			continue
		}
		switch {
		case slices.Contains(missed, f.key):
			v.fields[f.key] = absent // and no default in its place
		case v.form.excluded(f.key, n):
		case f.fallback != "":
			v.fields[f.key] = d.fallback(f, path)
			d.warn(v.fields[f.key], f)
		case f.required:
			v.fields[f.key] = absent
			d.missing(v, f.key, "give "+f.shape.expected())
		}
	}
}

// join appends a key to a path.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// form chooses the form of a mapping, nil after a problem.
func (d *decoder) form(v *value, n *node, s *shape) *form {
	if len(s.forms) == 1 {
		return &s.forms[0]
	}
	if s.selector != "" {
		f := s.field(s.selector)
		var selected *value
		switch given := n.entry(s.selector); {
		case given != nil:
			selected = d.decode(given, f.shape, join(v.path, s.selector))
		case f.fallback != "":
			selected = d.fallback(f, "")
		case misspelt(n, []string{s.selector}):
			return nil
		default:
			d.missing(v, s.selector, "give "+f.shape.expected())
			return nil
		}
		if i := slices.IndexFunc(s.forms, func(f form) bool { return f.word == selected.word }); i >= 0 {
			return &s.forms[i]
		}
		return nil
	}
	// The form with the most of the keys given.
	best, most := 0, 0
	for i := range s.forms {
		count := 0
		for _, e := range n.entries {
			if s.forms[i].field(e.key.text) != nil {
				count++
			}
		}
		if count > most {
			best, most = i, count
		}
	}
	if most == 0 && !s.usualFirst {
		titles := input.Each(s.forms, func(f form) string { return f.title + " (" + strings.Join(f.keys(), ", ") + ")" })
		d.fail(v, "has none of its keys: give "+either(titles), "")
		return nil
	}
	return &s.forms[best]
}

// unknown reports keys that the form does not have and returns the keys that were
// probably meant. Without a form it checks against the keys of all forms.
func (d *decoder) unknown(v *value, n *node, s *shape, chosen *form) []string {
	var meant []string
	for _, e := range n.entries {
		key := e.key.text
		if chosen != nil && chosen.field(key) != nil || chosen == nil && s.field(key) != nil {
			continue
		}
		path := join(v.path, key)
		if s.field(key) != nil {
			var titles []string
			for i := range s.forms {
				if s.forms[i].field(key) != nil {
					titles = append(titles, s.forms[i].title)
				}
			}
			d.add(e.key.at, path, "does not belong to "+chosen.title+" but to "+either(titles), "")
			continue
		}
		keys := s.keys()
		if chosen != nil {
			keys = chosen.keys()
		}
		if near := input.Nearest(key, keys); near != "" {
			meant = append(meant, near)
		}
		hint := cmp.Or(input.DidYouMean(key, keys), input.DidYouMean(key, s.keys()), "the keys here are "+strings.Join(keys, ", "))
		d.add(e.key.at, path, "unknown key "+strconv.Quote(key), hint)
	}
	return meant
}

// exclude reports keys that exclude each other, and groups of which none is given.
func (d *decoder) exclude(v *value, n *node) {
	for _, c := range v.form.choices {
		first := ""
		for _, e := range n.entries {
			switch {
			case !slices.Contains(c.keys, e.key.text):
			case first == "":
				first = e.key.text
			default:
				d.add(e.key.at, join(v.path, e.key.text), strconv.Quote(first)+" is there already: give one of "+either(c.keys), "")
			}
		}
		if first == "" && c.missing != "" && !misspelt(n, c.keys) {
			d.add(n.at, v.path, c.missing, "")
		}
	}
}

// misspelt reports whether a mapping has a key that was probably meant to be one of the
// keys.
func misspelt(n *node, keys []string) bool {
	return slices.ContainsFunc(n.entries, func(e entry) bool { return input.Nearest(e.key.text, keys) != "" })
}

// excluded reports whether the mapping has a key of the same group, so that this key has
// no default.
func (f *form) excluded(key string, n *node) bool {
	return slices.ContainsFunc(f.choices, func(c choice) bool {
		return slices.Contains(c.keys, key) && slices.ContainsFunc(c.keys, func(k string) bool { return n.entry(k) != nil })
	})
}

// fallbacks caches parsed defaults by their text.
var fallbacks sync.Map // of string to *node

// fallback reads a field's default, which is written as in a file.
func (d *decoder) fallback(f *field, path string) *value {
	var own problems
	parsed, known := fallbacks.Load(f.fallback)
	if !known {
		parsed = own.parse(f.fallback, place{own.source("", f.fallback), 1, 1})
		fallbacks.Store(f.fallback, parsed)
	}
	n := parsed.(*node)
	inner := decoder{problems: &own, listed: true}
	v := inner.decode(n, f.shape, path)
	if err := own.err(); err != nil {
		panic("scenario: default of " + f.key + ": " + err.Error())
	}
	v.any(func(v *value) bool {
		v.given = false
		return false
	})
	return v
}
