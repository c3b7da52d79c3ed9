package scenario

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"lanesim/internal/input"
	"lanesim/patterns"
	"lanesim/report"

	"gopkg.in/yaml.v3"
)

// Setting is a value for one key of a file, written elsewhere, such as in a flag of a
// command.
type Setting struct {
	Source string // the name of its place in messages, such as "--length"
	Key    string // "length", or "boards.inside" for a key in a mapping
	Value  string // YAML
}

// BuildPattern makes a pattern from the values of its keys, as from a pattern file. All
// errors are returned together, as [Errors]; errors that are not about a single value are
// placed in a file of the given name.
func BuildPattern(name string, settings []Setting) (*Pattern, error) {
	var p problems
	r := newReader(&p, name, nil)
	root := &node{kind: mapping, at: place{p.source(name, ""), 1, 1}}
	for _, s := range settings {
		start := place{p.source(s.Source, s.Value), 1, 1}
		value := textNode(s.Value, start)
		if f := patternShape.field(strings.Split(s.Key, ".")[0]); f == nil || !f.shape.text {
			if value = p.parse(s.Value, start); value == nil {
				continue
			}
		}
		into, keys := root, strings.Split(s.Key, ".")
		for _, key := range keys[:len(keys)-1] {
			inner := into.entry(key)
			if inner == nil {
				inner = &node{kind: mapping, at: start}
				into.entries = append(into.entries, entry{textNode(key, start), inner})
			}
			into = inner
		}
		into.entries = append(into.entries, entry{textNode(keys[len(keys)-1], start), value})
	}
	if err := p.err(); err != nil {
		return nil, err
	}
	pattern := r.pattern(r.decode(root, patternShape, ""), "")
	if err := p.err(); err != nil {
		return nil, err
	}
	return pattern, nil
}

// textNode returns a scalar.
func textNode(text string, at place) *node {
	if text == "" {
		return &node{kind: nothing, at: at}
	}
	return &node{kind: scalar, text: text, at: at}
}

// ParseLength reads a length such as "22 ft" and returns it in m. The error of an unknown
// unit has the nearest one.
func ParseLength(text string) (float64, error) { return length.parse(text, "ft") }

// ParseBoards reads a run of boards such as "18-22", or a single board. The
// ends are in order; they may lie off the lane.
func ParseBoards(text string) (patterns.BoardRange, error) {
	from, to, found := strings.Cut(strings.ReplaceAll(text, "–", "-"), "-")
	if !found {
		to = from
	}
	var ends [2]float64
	for i, end := range []string{from, to} {
		v, err := parseBare(strings.TrimSpace(end))
		if err == nil {
			err = boardRange.items.number.check(end, v)
		}
		if err != nil {
			return patterns.BoardRange{}, fmt.Errorf("%q is not a run of boards such as 18-22: %w", text, err)
		}
		ends[i] = v
	}
	if ends[1] < ends[0] {
		return patterns.BoardRange{}, fmt.Errorf("%q: boards are given from low to high", text)
	}
	return patterns.BoardRange{From: int(ends[0]), To: int(ends[1])}, nil
}

// GridPattern returns a grid as a pattern. The error is one or more joined
// [*patterns.GridError].
func GridPattern(grid patterns.Grid) (*Pattern, error) {
	film, err := grid.Build()
	if err != nil {
		return nil, err
	}
	return &Pattern{Name: grid.Name, About: grid.About, Kind: kindGrid, Grid: &grid, Oil: film}, nil
}

// YAML returns the pattern as a pattern file. Reading it gives the same pattern, bit for
// bit. Default values of a crown's shape are left out.
func (p Pattern) YAML() []byte {
	var b bytes.Buffer
	for _, m := range p.inputs() {
		text := oneLine(m.Value)
		switch {
		case m.Key == "units":
			b.WriteString("units:  # a row per distance, boards 1 to 39 from the right\n")
			for _, row := range m.Value.([][]json.Number) {
				fmt.Fprintf(&b, "  - %s\n", oneLine(row))
			}
		case p.Crown != nil && (text == "0" || text == patternShape.field(m.Key).fallback):
		case m.Key == "boards" && (p.Crown.Sets == patterns.BoardSets{} || p.Crown.Sets == defaultCrown.Sets):
		default:
			fmt.Fprintf(&b, "%s: %s\n", m.Key, text)
		}
	}
	return b.Bytes()
}

// oneLine writes a value as YAML on one line.
func oneLine(v any) string {
	switch v := v.(type) {
	case report.Object:
		return "{" + strings.Join(input.Each(v, func(m report.Member) string { return m.Key + ": " + oneLine(m.Value) }), ", ") + "}"
	case []string:
		return "[" + strings.Join(v, ", ") + "]"
	case []json.Number:
		return "[" + strings.Join(spelled(v), ", ") + "]"
	case []int:
		return "[" + strings.Join(input.Each(v, strconv.Itoa), ", ") + "]"
	case string:
		return yamlText(v)
	}
	return fmt.Sprint(v)
}

// yamlText writes a text of one line, in quotes if YAML needs them.
func yamlText(text string) string {
	made, err := yaml.Marshal(text)
	if err != nil {
		panic("scenario: " + err.Error()) // texts can always be written
	}
	return strings.TrimSuffix(string(made), "\n")
}

// Sets returns the boards that the pattern's ratio compares.
func (p Pattern) Sets() patterns.BoardSets {
	if p.Crown != nil {
		return p.Crown.Sets
	}
	return patterns.BoardSets{}
}

// Table returns the pattern as a table.
func (p Pattern) Table() (patterns.Grid, error) {
	if p.Grid != nil {
		return *p.Grid, nil
	}
	grid, err := patterns.GridOf(p.Oil)
	grid.Name, grid.About = p.Name, p.About
	return grid, err
}
