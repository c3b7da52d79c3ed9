package scenario

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
	"lanesim/pins"
)

// value is a node read as its field's shape.
type value struct {
	path   string
	at     place
	given  bool // not a default
	bad    bool // has a problem, already reported; do not use it
	word   string
	number float64 // SI
	text   string  // as written
	leave  pins.Leave
	form   *form
	fields map[string]*value
	items  []*value
}

// absent is the value of fields that are neither given nor have a default.
var absent = &value{bad: true}

// field returns the value of a key, or absent, which is bad, if neither the file nor
// a default gives it.
func (v *value) field(key string) *value {
	if f := v.fields[key]; f != nil {
		return f
	}
	return absent
}

// has reports whether the key was written or has a default.
func (v *value) has(key string) bool { return v.fields[key] != nil }

// good reports whether all of the keys have usable values.
func (v *value) good(keys ...string) bool {
	return !v.bad && !slices.ContainsFunc(keys, func(k string) bool { return !v.field(k).sound() })
}

// any reports whether a condition holds for the value or for one in it.
func (v *value) any(holds func(*value) bool) bool {
	if holds(v) {
		return true
	}
	for _, f := range v.fields {
		if f.any(holds) {
			return true
		}
	}
	return slices.ContainsFunc(v.items, func(i *value) bool { return i.any(holds) })
}

// sound reports whether the value and all values in it are usable.
func (v *value) sound() bool { return !v.any(func(v *value) bool { return v.bad }) }

// decoder reads nodes by shapes.
type decoder struct {
	*problems
	warnings []string
	listed   bool // reads texts of the lists of fields, which are known to be right
}

func (d *decoder) fail(v *value, message, hint string) {
	v.bad = true
	d.add(v.at, v.path, message, hint)
}

// missing reports that a mapping lacks a key.
func (d *decoder) missing(v *value, key, reason string) {
	d.add(v.at, join(v.path, key), "is missing: "+reason, "")
}

// remark warns about a value.
func (d *decoder) remark(v *value, format string, values ...any) {
	d.warnings = append(d.warnings, v.path+": "+fmt.Sprintf(format, values...))
}

// decode reads a node. The result is never nil.
func (d *decoder) decode(n *node, s *shape, path string) *value {
	v := &value{path: path, at: n.at, given: true}
	if m, remark := s.spelt.node(n); m != nil && !s.has(n.text) {
		if n = m; remark != "" {
			d.remark(v, "%s", remark)
		}
	}
	switch {
	case n.kind == refused:
		v.bad = true
	case n.kind == nothing:
		d.fail(v, "has no value: give "+s.expected(), "")
	case n.kind == scalar && s.scalar():
		d.scalar(v, n.text, s)
	case n.kind == sequence && s.items != nil:
		d.list(v, n, s)
	case n.kind == mapping && len(s.forms) > 0:
		d.mapping(v, n, s)
	default:
		d.fail(v, n.describe()+" does not fit: give "+s.expected(), "")
	}
	return v
}

// node turns a text on one line into a mapping, nil if it does not have this spelling.
// A nil spelling accepts no text.
func (s *spelling) node(n *node) (*node, string) {
	if s == nil || n.kind != scalar {
		return nil, ""
	}
	keys, remark := s.parts(n.text)
	if keys == nil {
		return nil, ""
	}
	m := &node{kind: mapping, at: n.at}
	for _, k := range keys {
		m.entries = append(m.entries, entry{textNode(k[0], n.at), textNode(k[1], n.at)})
	}
	return m, remark
}

// scalar reports whether the shape allows a scalar.
func (s *shape) scalar() bool {
	return len(s.words) > 0 || s.toggle || s.number != nil || s.text || s.leave || s.side
}

// spellings of on and off; true, false, yes and no are those of YAML 1.1.
var spellings = map[string]string{"on": "on", "off": "off", "true": "on", "false": "off", "yes": "on", "no": "off"}

func (d *decoder) scalar(v *value, text string, s *shape) {
	v.text = text
	if word, ok := spellings[strings.ToLower(text)]; ok && s.toggle {
		v.word = word
		return
	}
	if word := s.aliases[text]; word != "" {
		d.remark(v, "%q is read as %s.", text, word)
		text = word
	}
	if slices.Contains(s.words, text) {
		v.word = text
		return
	}
	switch {
	case s.leave:
		var err error
		if v.leave, err = pins.ParseLeave(text); err != nil {
			d.fail(v, strings.TrimPrefix(err.Error(), "pins: "), "")
		}
	case s.side:
		d.side(v, text, s)
	case s.text:
		v.text = strings.TrimSpace(text)
		if strings.ContainsFunc(v.text, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			d.fail(v, "holds a line break or another control character", "")
		}
	case s.number != nil && d.listed:
		v.number = s.number.must(text)
	case s.number != nil:
		var err error
		v.number, err = s.number.parse(text)
		if err == nil {
			err = s.number.check(text, v.number)
		}
		if err == nil {
			return
		}
		message, hint := err.Error(), ""
		if q := (*quantityError)(nil); errors.As(err, &q) {
			message, hint = q.message, q.hint
		}
		if _, _, none := scanNumber(text); errors.Is(none, errNoNumber) && len(s.words) > 0 {
			message, hint = fmt.Sprintf("%q is not %s", text, s.expected()), ""
		}
		d.fail(v, message, cmp.Or(hint, input.DidYouMean(text, s.words)))
	default:
		candidates := s.words
		if s.toggle {
			candidates = append([]string{"on", "off"}, candidates...)
		}
		d.fail(v, fmt.Sprintf("%q is not %s", text, s.expected()), input.DidYouMean(text, candidates))
	}
}

// check checks a number against its hard limits.
func (n *number) check(text string, v float64) error {
	text = strings.TrimSpace(text)
	if n.integer && v != math.Trunc(v) {
		return fmt.Errorf("%s is not a whole number", text)
	}
	least, most := n.least, n.most
	switch {
	case least.open && v <= n.must(least.text):
		return fmt.Errorf("%s is not above %s", text, least.text)
	case least.text != "" && v < n.must(least.text):
		return fmt.Errorf("%s is below %s, the least allowed", text, least.text)
	case most.text != "" && v > n.must(most.text):
		return fmt.Errorf("%s is above %s, the most allowed", text, most.text)
	}
	return nil
}

func (d *decoder) list(v *value, n *node, s *shape) {
	switch count := len(n.items); {
	case count < s.least && s.least == s.most || s.most > 0 && count > s.most:
		d.fail(v, fmt.Sprintf("has %s, not %d", plural(count, "value"), s.most), "")
	case count < s.least:
		d.fail(v, "is an empty list", "")
	}
	for i, item := range n.items {
		v.items = append(v.items, d.decode(item, s.items, v.path+"["+strconv.Itoa(i)+"]"))
	}
}

// plural writes a number of things.
func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// warn warns about a value outside the limits listed, and about a default that matters.
func (d *decoder) warn(v *value, f *field) {
	if v.bad {
		return
	}
	switch {
	case f.warned && !v.given:
		d.warnings = append(d.warnings, fmt.Sprintf("%s is not given: %s is used.", v.path, f.fallback))
	case f.listed != nil && v.given && f.shape.number != nil:
		n, l := f.shape.number, f.listed
		if l.least != "" && v.number < n.must(l.least) || l.most != "" && v.number > n.must(l.most) {
			d.remark(v, "%s is outside the limits listed (%s).", strings.TrimSpace(v.text), l)
		}
	}
}

// String describes the limits in words.
func (l *listed) String() string {
	switch {
	case l.least == "":
		return "at most " + l.most
	case l.most == "":
		return "at least " + l.least
	}
	return l.least + " to " + l.most
}
