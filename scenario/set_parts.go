package scenario

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
)

// part sets a value in the lanes, balls or bowlers of a scenario, and reports whether the
// path leads there. The key may be ball or balls, whichever the file has. An index or a
// name chooses one of several; without it the value is set in all.
func (s *setter) part(root *node, rest []segment) bool {
	single := partOf(rest[0].text)
	several := plurals[single]
	if single == "" {
		return false
	}
	if len(rest) == 1 {
		// The whole part: it replaces the file's, single or plural.
		s.path = rest[0].text
		s.supersede(root, scenarioShape, rest[0].text)
		*s.child(root, rest[0]) = *s.value.clone()
		return true
	}
	shape := scenarioShape.field(single).shape
	head, rest := rest[0], rest[1:]
	var items []*node
	list := root.entry(several)
	switch only := root.entry(single); {
	case list != nil && list.kind == sequence:
		items = list.items
	case list != nil:
		return true // reading it reports the error
	case only != nil:
		items = []*node{only}
	default:
		s.supersede(root, scenarioShape, single)
		head.text = single
		items = []*node{s.child(root, head)}
	}
	chosen, ok := s.choose(single, items, rest[0])
	for i, item := range items {
		if s.path = single; list != nil {
			s.path = several + "[" + strconv.Itoa(i) + "]"
		}
		switch {
		case ok && chosen == i:
			s.into(item, shape, rest[1:])
		case ok && chosen < 0:
			s.into(item, shape, rest)
		}
	}
	return true
}

// choose returns the index of the item that a segment names, -1 if it names a key, which
// stands for all items; false after a problem.
func (s *setter) choose(kind string, items []*node, by segment) (int, bool) {
	if i, ok := by.index(len(items)); ok {
		return i, true
	}
	var names []string
	for i, item := range items {
		n := item.entry("name")
		if n == nil {
			n = item.entry(likeKey)
		}
		if n != nil {
			if strings.TrimSpace(n.text) == by.text {
				return i, true
			}
			names = append(names, n.text)
		}
	}
	keys := scenarioShape.field(kind).shape.keys()
	if slices.Contains(keys, by.text) && !by.quoted {
		return -1, true
	}
	s.path = kind
	if _, err := strconv.Atoi(by.text); err == nil {
		s.fail(by, fmt.Sprintf("there is no %s %s: they count from 0 to %d", kind, by.text, len(items)-1), "")
		return 0, false
	}
	s.path = join(kind, by.text)
	s.fail(by, fmt.Sprintf("%q is neither a key nor the name of a %s", by.text, kind), input.DidYouMean(by.text, append(names, keys...)))
	return 0, false
}
