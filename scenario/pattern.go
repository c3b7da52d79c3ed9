package scenario

import (
	"cmp"
	"errors"
	"fmt"
	"path"
	"strings"
	"sync"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/patterns"
)

// Pattern is an oil pattern as in a pattern file.
type Pattern struct {
	Word        string // the name of a built-in pattern in a scenario, else ""
	Name, About string
	Kind        string // "crown" or "grid"

	// Crown or Grid is the source of the film; the other is nil.
	Crown *patterns.Crown
	Grid  *patterns.Grid

	Oil *lane.OilMap
}

// ReadPattern reads a pattern file: YAML or, if its name ends in .csv, tape
// readings. All errors are returned together, as [Errors].
func ReadPattern(name string, data []byte) (*Pattern, error) {
	r := newReader(&problems{}, name, nil)
	pattern := r.patternFile(name, data)
	if err := r.err(); err != nil {
		return nil, err
	}
	return pattern, nil
}

// BuiltinPatterns returns the patterns that come with the program, sorted by Word.
func BuiltinPatterns() []Pattern {
	var list []Pattern
	for _, b := range patterns.Builtins() {
		list = append(list, *builtinPattern(b.Name))
	}
	return list
}

// builtins caches the built-in patterns by Word. They must not be changed.
var builtins sync.Map // of string to *Pattern

// builtinPattern returns a built-in pattern, nil if none has the name.
func builtinPattern(word string) *Pattern {
	if p, known := builtins.Load(word); known {
		return p.(*Pattern)
	}
	source, ok := patterns.BuiltinSource(word)
	if !ok {
		return nil
	}
	p, err := ReadPattern(word+".yaml", source)
	if err != nil {
		panic(err) // they are part of the program, and tested
	}
	p.Word = word
	builtins.Store(word, p)
	return p
}

// oil is a lane's oil as it was given.
type oil struct {
	word    string   // of a built-in pattern, or dry
	pattern *Pattern // nil if dry
	film    *lane.OilMap
}

// name returns the default name of a lane with this oil.
func (o oil) name() string {
	if o.pattern == nil {
		return o.word
	}
	return cmp.Or(o.pattern.Name, o.word, "own pattern")
}

// oil resolves the oil of a lane.
func (r *reader) oil(v *value) oil {
	if v.bad {
		return oil{}
	}
	if v.form != nil {
		return oilOf(r.pattern(v, ""))
	}
	if v.text == dry {
		return oil{word: dry}
	}
	if patternEnding(v.text) {
		name, data, err := r.opened(v.text, "pattern ")
		if err != nil {
			r.fail(v, err.Error(), "")
			return oil{}
		}
		made := oilOf(r.patternFile(name, data))
		v.bad = made.pattern == nil
		return made
	}
	if p := builtinPattern(v.text); p != nil {
		return oil{word: v.text, pattern: p, film: p.Oil}
	}
	known := append([]string{dry}, input.Each(patterns.Builtins(), func(b patterns.Builtin) string { return b.Name })...)
	r.fail(v, fmt.Sprintf("no built-in pattern is called %q", v.text), cmp.Or(input.DidYouMean(v.text, known),
		"the patterns are "+strings.Join(known, ", ")+"; the name of a pattern file ends in .yaml, .yml, .json or .csv"))
	return oil{}
}

// oilOf returns the oil of a pattern that is not built in; empty after a problem.
func oilOf(p *Pattern) oil {
	if p == nil {
		return oil{}
	}
	return oil{pattern: p, film: p.Oil}
}

// patternEnding reports whether a name is that of a pattern file.
func patternEnding(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".yaml", ".yml", ".json", ".csv":
		return true
	}
	return false
}

// csvEnding reports whether a name is that of tape readings.
func csvEnding(name string) bool { return strings.EqualFold(path.Ext(name), ".csv") }

// patternFile reads a pattern file, nil after a problem.
func (r *reader) patternFile(name string, data []byte) *Pattern {
	src := r.source(name, string(data))
	stem := strings.TrimSuffix(path.Base(name), path.Ext(name))
	if csvEnding(name) {
		grid, err := patterns.ReadTape(name, data)
		if err == nil {
			grid.Name = stem
			return r.grid(&value{at: place{src, 1, 1}}, grid)
		}
		for _, e := range unjoin(err) {
			if t := (*patterns.TapeError)(nil); errors.As(e, &t) {
				r.add(src.byteColumn(t.Line, t.Column), t.Field, t.Reason, t.Hint)
			} else {
				r.add(place{src, 1, 1}, "", e.Error(), "")
			}
		}
		return nil
	}
	n := r.parse(string(data), place{src, 1, 1})
	if n == nil {
		return nil
	}
	return r.pattern(r.decode(n, patternShape, ""), stem)
}

// byteColumn returns the place of a line and a column counted in bytes.
func (s *source) byteColumn(line, column int) place {
	if n := line - 1; n >= 0 && n < len(s.lines) {
		text := s.lines[n]
		column = len([]rune(text[:min(max(column-1, 0), len(text))])) + 1
	}
	return place{s, line, column}
}

// unjoin lists the errors that were joined.
func unjoin(err error) []error {
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		return j.Unwrap()
	}
	return []error{err}
}
