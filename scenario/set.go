package scenario

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
)

// SetName is the file name in messages about values that were set.
const SetName = "--set"

// segment is one step of a path: a key, a name or an index.
type segment struct {
	text   string
	at     place
	quoted bool
}

// index returns the segment as an index into a list of n values.
func (s segment) index(n int) (int, bool) {
	i, err := input.Count(s.text, math.MaxInt32)
	return int(i), err == nil && !s.quoted && int(i) < n
}

// set sets a value in the tree of a scenario; text is "path=value".
func (p *problems) set(root *node, text string) {
	src := p.source(SetName, text)
	start := place{src, 1, 1}
	path, value, ok := cutSet(text)
	if !ok {
		p.add(start, "", "give path=value, for example  ball.rg=2.5 in", "")
		return
	}
	if strings.ContainsAny(path, "\r\n\u0085\u2028\u2029") {
		p.add(start, "", "the path has a line break", "")
		return
	}
	segments, column, err := split(path, start)
	if err != "" {
		p.add(start.plus(1, column), "", err, "")
		return
	}
	at := start.plus(1, 1+len([]rune(text))-len([]rune(value)))
	if strings.TrimSpace(value) == "" {
		p.add(at, path, "has no value", "")
		return
	}
	n := p.parse(value, at)
	if n == nil {
		return
	}
	s := setter{p, n, ""}
	s.into(root, scenarioShape, segments)
}

// cutSet splits a text at the first = that is not in quotes.
func cutSet(text string) (path, value string, ok bool) {
	quoted := false
	for i, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case r == '=' && !quoted:
			return text[:i], text[i+1:], true
		}
	}
	return "", "", false
}

// pathToken is a part of a path: a name in quotes, which may lack its end, a mark, or a text.
var pathToken = regexp.MustCompile(`"[^"]*"?|[.\[\]]|[^".\[\]]+`)

// split splits a path at its dots and brackets, but not within quotes. After an error it
// returns a message and the column.
func split(path string, start place) (list []segment, column int, wrong string) {
	word, from, quoted := "", 1, false // the present segment so far, and its column
	bracket, closed := 0, false        // the column of an open [, and whether the last token was a ]
	end := func() bool {
		if word != "" {
			list = append(list, segment{strings.TrimSpace(word), start.plus(1, from+blanks([]rune(word))), quoted})
		}
		ok := word != "" || closed
		word, quoted, closed = "", false, false
		return ok
	}
	const empty, open = "the path has an empty part", "the path has a [ without a ]"
	column = 1
	for _, token := range pathToken.FindAllString(path, -1) {
		inner, inQuotes := strings.CutPrefix(token, `"`)
		inner, whole := strings.CutSuffix(inner, `"`)
		switch {
		case inQuotes && !whole:
			return nil, column, "the path has an opening quotation mark without a closing one"
		case inQuotes:
			if word == "" {
				from = column + 1
			}
			word, quoted = word+inner, true
		case closed && strings.Trim(token, " ") != "" && token != "." && token != "[":
			return nil, column + blanks([]rune(token)), "a path continues after ] with . or ["
		case bracket > 0 && (token == "." || token == "["):
			return nil, bracket, open
		case token == "]" && bracket == 0:
			return nil, column, "the path has a ] without a ["
		case token == "." || token == "[" || token == "]":
			if !end() {
				return nil, column, empty
			}
			bracket, closed = 0, token == "]"
			if token == "[" {
				bracket = column
			}
		case !closed:
			if word == "" {
				from = column
			}
			word += token
		}
		column += len([]rune(token))
	}
	switch {
	case bracket > 0:
		return nil, bracket, open
	case !end():
		return nil, max(column-1, 1), empty
	}
	return list, 0, ""
}

// setter walks down a tree along a path.
type setter struct {
	*problems
	value *node
	path  string
}

func (s *setter) fail(at segment, message, hint string) {
	s.add(at.at, s.path, message, hint)
}

// into sets the value below a node that has the shape.
func (s *setter) into(n *node, sh *shape, rest []segment) {
	if len(rest) == 0 {
		*n = *s.value.clone()
		return
	}
	head := rest[0]
	spelt, _ := sh.spelt.node(n)
	switch {
	case n.kind == refused:
		return
	case n.kind == sequence && sh.items != nil:
		i, ok := head.index(len(n.items))
		if !ok {
			s.fail(head, fmt.Sprintf("%q is not an index from 0 to %d", head.text, len(n.items)-1), "")
			return
		}
		s.path += "[" + head.text + "]"
		s.into(n.items[i], sh.items, rest[1:])
		return
	case len(sh.forms) == 0:
		s.fail(head, "is a single value, which has no parts to set", "")
		return
	case n.kind == nothing || n.kind == scalar && sh.toggle && spellings[strings.ToLower(n.text)] == "on":
		*n = node{kind: mapping, at: head.at}
	case spelt != nil:
		*n = *spelt
	case n.kind == scalar && sh.written[n.text] != "":
		*n = *s.parse(sh.written[n.text], head.at)
	case n.kind != mapping:
		s.fail(head, fmt.Sprintf("is %s, which has no parts to set", n.describe()), "set "+s.path+" as a whole")
		return
	}
	if sh == scenarioShape && s.part(n, rest) {
		return
	}
	f := sh.field(head.text)
	if f == nil {
		keys := sh.keys()
		s.path = join(s.path, head.text)
		s.fail(head, "unknown key "+strconv.Quote(head.text), cmp.Or(input.DidYouMean(head.text, keys), "the keys here are "+strings.Join(keys, ", ")))
		if len(n.entries) == 0 {
			n.kind = refused
		}
		return
	}
	s.path = join(s.path, f.key)
	s.supersede(n, sh, f.key)
	if len(rest) == 1 {
		s.reform(n, sh, f.key)
	}
	s.into(s.child(n, head), f.shape, rest[1:])
}

// child returns the value of a key, which it adds if it is absent.
func (s *setter) child(n *node, key segment) *node {
	if c := n.entry(key.text); c != nil {
		return c
	}
	c := &node{kind: nothing, at: key.at}
	n.entries = append(n.entries, entry{&node{kind: scalar, text: key.text, at: key.at}, c})
	return c
}

// supersede removes the keys of the file that exclude the key being set.
func (s *setter) supersede(n *node, sh *shape, key string) {
	for i := range sh.forms {
		for _, c := range sh.forms[i].choices {
			if !slices.Contains(c.keys, key) {
				continue
			}
			for _, other := range c.keys {
				if o := n.entry(other); other != key && o != nil && o.at.source.name != SetName {
					n.remove(other)
				}
			}
		}
	}
}

// reform removes the keys of the file that do not belong to the form of the key being set
// or, if that is the selector, to the form that its new value selects.
func (s *setter) reform(n *node, sh *shape, key string) {
	fits := func(other string) bool {
		return slices.ContainsFunc(sh.forms, func(f form) bool {
			selected := f.field(key) != nil
			if key == sh.selector {
				selected = f.word == s.value.text
			}
			return selected && f.field(other) != nil
		})
	}
	if key == sh.selector && !sh.field(key).shape.has(s.value.text) || key != sh.selector && sh.selector != "" {
		return
	}
	for _, e := range slices.Clone(n.entries) {
		if sh.field(e.key.text) != nil && !fits(e.key.text) && e.value.at.source.name != SetName {
			n.remove(e.key.text)
		}
	}
}
