package scenario

import (
	"slices"
	"strings"
	"sync"

	"lanesim/ball/rules"
	"lanesim/internal/input"
)

// The fields of a scenario are listed once, as data: reading, defaults, error
// messages, the JSON Schema and the reference all use these lists.

// field is one key of a mapping.
type field struct {
	key     string
	meaning string // a sentence without its full stop
	shape   *shape

	// fallback is the default of the key, as it would be written. A key without one
	// is required or may be absent.
	fallback string
	required bool
	note     string // shown in place of a default

	assumed bool    // the default is assumed, not measured or agreed on
	warned  bool    // leaving the key out gives a warning
	listed  *listed // limits of the rule book
}

// listed are limits of the rule book: a value outside them is allowed but gives a warning.
type listed struct{ least, most string }

// limitsNote is the source of the limits listed.
var limitsNote = "The limits listed are those of " + rules.Listed().Edition + ". " + rules.Listed().Caution

// shape says which values a field may have. A scalar can be one of the words,
// a number or free text; a list has items; a mapping has one of the forms.
type shape struct {
	what  string // for messages: "a layout"
	words []string
	// written has the mappings of words that can be set in part.
	written map[string]string
	aliases map[string]string // other spellings of the words
	toggle  bool              // on and off in any of their spellings
	number  *number
	text    bool
	leave   bool // pins by number
	side    bool // boards to the left or right

	// spelt reads a mapping that is written on one line; nil if it cannot be.
	spelt *spelling

	items       *shape
	least, most int // number of items; most 0 is any number

	// forms are the possible forms of a mapping. The word under the selector key
	// chooses one; without a selector the keys given do. If they are keys of no form,
	// usualFirst chooses the first.
	selector   string
	forms      []form
	usualFirst bool
}

// spelling is a way to write a mapping on one line, as the trade does.
type spelling struct {
	pattern string // of the schema
	example string

	// parts returns keys and values, nil if the text does not have this spelling, and
	// a remark on how it was read.
	parts func(text string) (keys [][2]string, remark string)
}

// form is one way to write a mapping.
type form struct {
	word    string // under the selector
	title   string // "the mixed law"
	fields  []field
	choices []choice
	library bool // a part of another file
}

// choice is a group of keys that exclude each other.
type choice struct {
	keys    []string
	missing string // the message if there is none; "" if none is needed
}

// number says which numbers a field may have.
type number struct {
	dimension   *dimension // nil for a bare number
	unit        string     // suggested in messages, and used for writing
	least, most bound      // most itself is allowed
	integer     bool
}

// bound is a hard limit, as written; without text there is none.
type bound struct {
	text string
	open bool // the limit itself is excluded
}

func above(text string) bound   { return bound{text, true} }
func atLeast(text string) bound { return bound{text, false} }
func atMost(text string) bound  { return bound{text, false} }

// quantity returns the shape of a number with a unit.
func quantity(d *dimension, unit string, least, most bound) *shape {
	return &shape{number: &number{dimension: d, unit: unit, least: least, most: most}}
}

// bare returns the shape of a number without a unit.
func bare(least, most bound) *shape {
	return &shape{number: &number{least: least, most: most}}
}

// whole returns the shape of a whole number.
func whole(least, most bound) *shape {
	return &shape{number: &number{least: least, most: most, integer: true}}
}

// words returns the shape of a choice of words.
func words(w ...string) *shape { return &shape{words: w} }

// listOf returns the shape of a list.
func listOf(items *shape, least, most int) *shape {
	return &shape{items: items, least: least, most: most}
}

// record returns the shape of a mapping with one form.
func record(what string, fields []field, choices ...choice) *shape {
	return &shape{what: what, forms: []form{{title: what, fields: fields, choices: choices}}}
}

// freeText is the shape of any text on one line.
var freeText = &shape{text: true}

// field returns the field of a key, nil if the form has none.
func (f *form) field(key string) *field {
	if i := slices.IndexFunc(f.fields, func(g field) bool { return g.key == key }); i >= 0 {
		return &f.fields[i]
	}
	return nil
}

// keys lists the form's keys.
func (f *form) keys() []string { return input.Each(f.fields, func(g field) string { return g.key }) }

// keys lists the keys of all forms, each once.
func (s *shape) keys() []string {
	var keys []string
	for i := range s.forms {
		for _, k := range s.forms[i].keys() {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	return keys
}

// field returns the first field of a key in any form.
func (s *shape) field(key string) *field {
	for i := range s.forms {
		if f := s.forms[i].field(key); f != nil {
			return f
		}
	}
	return nil
}

// changed returns copies of the fields of some keys, in their order, each changed by a
// function.
func changed(fields []field, keys []string, change func(*field)) []field {
	list := make([]field, len(keys))
	for i, key := range keys {
		list[i] = *(&form{fields: fields}).field(key)
		change(&list[i])
	}
	return list
}

// expected describes in words the values that the shape allows.
func (s *shape) expected() string {
	var parts []string
	if s.toggle {
		parts = append(parts, "on", "off")
	}
	parts = append(parts, s.words...)
	if s.number != nil {
		parts = append(parts, s.number.expected())
	}
	if s.text {
		parts = append(parts, "a text")
	}
	if s.leave || s.side {
		parts = append(parts, s.what)
	}
	if s.spelt != nil {
		parts = append(parts, s.what+" such as "+s.spelt.example)
	}
	if s.items != nil {
		parts = append(parts, "a list")
	}
	if len(s.forms) > 0 {
		if keys := s.keys(); len(keys) <= mostKeys {
			parts = append(parts, s.what+" with "+strings.Join(keys, ", "))
		} else {
			parts = append(parts, s.what+" as a mapping")
		}
	}
	return either(parts)
}

// mostKeys is the largest number of keys listed in a message.
const mostKeys = 7

// has reports whether the shape allows a word.
func (s *shape) has(word string) bool { return slices.Contains(s.words, word) }

func (n *number) expected() string {
	switch {
	case n.integer:
		return "a whole number"
	case n.dimension == nil:
		return "a number"
	default:
		return article(n.dimension.name) + " with a unit such as " + n.unit
	}
}

// parse reads a number and returns it in SI.
func (n *number) parse(text string) (float64, error) {
	if n.dimension == nil {
		return parseBare(text)
	}
	return n.dimension.parse(text, n.unit)
}

// must reads a number of the lists of fields. Each is read once, since reading takes longer
// than any use of it.
func (n *number) must(text string) float64 {
	key := listedNumber{n.dimension, n.unit, text}
	if v, known := listedNumbers.Load(key); known {
		return v.(float64)
	}
	v, err := n.parse(text)
	if err != nil {
		panic("scenario: " + err.Error())
	}
	listedNumbers.Store(key, v)
	return v
}

// listedNumbers caches the numbers of the lists of fields.
var listedNumbers sync.Map // of listedNumber to float64

type listedNumber struct {
	dimension  *dimension
	unit, text string
}

// holds reports whether a number lies within both limits, which it may equal.
func (n *number) holds(v float64) bool { return v >= n.must(n.least.text) && v <= n.must(n.most.text) }

// limits describes the limits in words, "" if there are none.
func (n *number) limits() string {
	var parts []string
	switch {
	case n.least.open:
		parts = append(parts, "above "+n.least.text)
	case n.least.text != "":
		parts = append(parts, "at least "+n.least.text)
	}
	if n.most.text != "" {
		parts = append(parts, "at most "+n.most.text)
	}
	return strings.Join(parts, ", ")
}
