package scenario

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// kind is the shape of a node.
type kind int

const (
	nothing kind = iota // written, but empty
	scalar
	mapping
	sequence
	refused // has a problem, already reported
)

// node is a value as written in a text.
type node struct {
	kind    kind
	text    string // of a scalar, unquoted
	at      place
	entries []entry
	items   []*node
}

type entry struct{ key, value *node }

// entry returns the value of a key, nil if there is none.
func (n *node) entry(key string) *node {
	for _, e := range n.entries {
		if e.key.text == key {
			return e.value
		}
	}
	return nil
}

// remove drops the entries of a key.
func (n *node) remove(key string) {
	n.entries = slices.DeleteFunc(slices.Clone(n.entries), func(e entry) bool { return e.key.text == key })
}

// each calls do for every node of the tree, keys included.
func (n *node) each(do func(*node)) {
	do(n)
	for _, e := range n.entries {
		do(e.key)
		e.value.each(do)
	}
	for _, item := range n.items {
		item.each(do)
	}
}

// clone copies the tree, so that one copy can change.
func (n *node) clone() *node {
	c := *n
	c.entries = make([]entry, len(n.entries))
	for i, e := range n.entries {
		c.entries[i] = entry{e.key, e.value.clone()}
	}
	c.items = make([]*node, len(n.items))
	for i, item := range n.items {
		c.items[i] = item.clone()
	}
	return &c
}

// describe describes a node in words.
func (n *node) describe() string {
	switch n.kind {
	case scalar:
		return strconv.Quote(n.text)
	case mapping:
		return "a mapping"
	case sequence:
		return "a list"
	}
	return "nothing"
}

// parse turns a text into a tree, nil if that fails. The text starts at the given place
// of its source.
func (p *problems) parse(text string, start place) *node {
	if !utf8.ValidString(text) {
		valid := text[:len(text)-len(strings.TrimLeftFunc(text, func(r rune) bool { return r != utf8.RuneError }))]
		before := splitLines(valid)
		p.add(place{start.source, start.line + len(before) - 1, len([]rune(before[len(before)-1])) + 1},
			"", "the text is not UTF-8", "")
		return nil
	}
	if isJSON(text) {
		return p.parseJSON(text, start)
	}
	decoder := yaml.NewDecoder(strings.NewReader(text))
	var document yaml.Node
	err := decoder.Decode(&document)
	if errors.Is(err, io.EOF) || err == nil && document.Kind == 0 {
		p.add(start, "", "the text is empty", "")
		return nil
	}
	if err != nil {
		p.syntax(err, start)
		return nil
	}
	var second yaml.Node
	if err := decoder.Decode(&second); err == nil {
		p.add(start.plus(second.Line, second.Column), "", "a second document starts here, but a file holds one", "remove the line ---")
	} else if !errors.Is(err, io.EOF) {
		p.syntax(err, start)
	}
	if len(document.Content) != 1 {
		p.add(start, "", "the text is empty", "")
		return nil
	}
	return p.convert(document.Content[0], start)
}

// plus returns the place of a line and column of the text that starts at s.
func (s place) plus(line, column int) place {
	if line <= 1 {
		return place{s.source, s.line, s.column + max(column, 1) - 1}
	}
	return place{s.source, s.line + line - 1, max(column, 1)}
}

// convert turns a YAML tree into nodes and reports what a scenario may not have:
// aliases, anchors, tags and keys that are given twice.
func (p *problems) convert(y *yaml.Node, start place) *node {
	n := &node{at: start.plus(y.Line, y.Column)}
	switch {
	case y.Kind == yaml.AliasNode:
		p.add(n.at, "", fmt.Sprintf("*%s is an alias: write the value out", y.Value), "")
		n.kind = refused
		return n
	case y.Anchor != "":
		p.add(n.at, "", fmt.Sprintf("&%s is an anchor: remove it, aliases are not supported", y.Anchor), "")
	case y.Style&yaml.TaggedStyle != 0:
		p.add(n.at, "", fmt.Sprintf("%s is a tag: write the value without it", y.Tag), "")
	}
	switch y.Kind {
	case yaml.ScalarNode:
		n.kind, n.text = scalar, y.Value
		if y.Tag == "!!null" || y.Value == "" {
			n.kind = nothing
		}
	case yaml.SequenceNode:
		n.kind = sequence
		for _, item := range y.Content {
			n.items = append(n.items, p.convert(item, start))
		}
	case yaml.MappingNode:
		n.kind = mapping
		first := map[string]place{}
		for i := 0; i+1 < len(y.Content); i += 2 {
			key := p.convert(y.Content[i], start)
			value := p.convert(y.Content[i+1], start)
			switch {
			case y.Content[i].Tag == "!!merge":
				p.add(key.at, "", "<< merges another mapping, which is not supported: write the keys out", "")
			case key.kind == refused:
			case key.kind != scalar:
				p.add(key.at, "", "a key must be a word, not "+key.describe(), "")
			default:
				p.insert(n, key, value, first)
			}
		}
	}
	return n
}

// insert adds an entry to a mapping unless it already has the key; first has the place
// where each key came first.
func (p *problems) insert(n, key, value *node, first map[string]place) {
	if before, twice := first[key.text]; twice {
		p.add(key.at, "", fmt.Sprintf("%q is given twice, first in line %d", key.text, before.line), "")
		return
	}
	first[key.text] = key.at
	n.entries = append(n.entries, entry{key, value})
}
