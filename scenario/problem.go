package scenario

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"lanesim/internal/input"
)

// Problem is an error in an input, with its place.
type Problem struct {
	File         string
	Line, Column int    // from 1; columns count characters
	Path         string // of the field, such as "balls[0].rg"; may be empty
	Message      string // what is wrong
	Hint         string // how to correct it; may be empty
	Source       string // the line of the text
}

// Errors are all problems of an input, in the order of the text.
type Errors []Problem

// Error returns every problem, up to a hundred, as "file:line:column: path: what is
// wrong", followed by the source line, a caret and the hint if there is one, and how
// many more there are.
func (e Errors) Error() string {
	var texts []string
	for _, p := range e[:min(len(e), input.MostMessages)] {
		texts = append(texts, p.String())
	}
	if more := len(e) - input.MostMessages; more > 0 {
		texts = append(texts, fmt.Sprintf("… and %d more", more))
	}
	return strings.Join(texts, "\n")
}

// excerpt is the number of characters shown of a long source line.
const excerpt = 100

// String returns the problem as it is shown, without a final newline.
func (p Problem) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d:%d: ", input.Printable(p.File), p.Line, p.Column)
	if p.Path != "" {
		b.WriteString(input.Message(p.Path) + ": ")
	}
	b.WriteString(input.Message(p.Message))
	line := []rune(p.Source)
	caret := min(max(p.Column-1, 0), len(line))
	if len(line) > excerpt {
		from := min(max(caret-excerpt/2, 0), len(line)-excerpt)
		to := from + excerpt
		ends := [2]string{}
		if from > 0 {
			ends[0] = "… "
		}
		if to < len(line) {
			ends[1] = " …"
		}
		caret += len([]rune(ends[0])) - from
		line = []rune(ends[0] + string(line[from:to]) + ends[1])
	}
	for i, r := range line {
		if !unicode.IsPrint(r) {
			line[i] = ' '
		}
	}
	if text := strings.TrimRight(string(line), " "); text != "" {
		fmt.Fprintf(&b, "\n    %s\n    %s^", text, strings.Repeat(" ", caret))
	}
	if p.Hint != "" {
		b.WriteString("\n    " + input.Message(p.Hint))
	}
	return b.String()
}

// source is a text that is read.
type source struct {
	name  string
	lines []string
	order int // of its problems among those of all sources
}

// place is a position in a source, counted from 1.
type place struct {
	source       *source
	line, column int
}

// problems collects the problems of an input.
type problems struct {
	list    []placed
	seen    map[placed]bool // without their hints
	sources int
}

type placed struct {
	at                  place
	path, message, hint string
}

// source registers a text.
func (p *problems) source(name, text string) *source {
	p.sources++
	return &source{name: name, lines: splitLines(text), order: p.sources}
}

// splitLines splits a text at the line ends of YAML.
func splitLines(text string) []string {
	text = strings.TrimPrefix(text, "\ufeff")
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n").Replace(text)
	return strings.Split(text, "\n")
}

// add adds a problem, once. A value on the command line may set the same field of several
// balls: its problem is added only for the first.
func (p *problems) add(at place, path, message, hint string) {
	key := placed{at: at, path: path, message: message}
	if at.source.name == SetName {
		key.path = ""
	}
	if p.seen[key] {
		return
	}
	if p.seen == nil {
		p.seen = map[placed]bool{}
	}
	p.seen[key] = true
	p.list = append(p.list, placed{at, path, message, hint})
}

// clone returns a copy.
func (p *problems) clone() problems {
	return problems{list: slices.Clone(p.list), seen: maps.Clone(p.seen), sources: p.sources}
}

// err returns the problems as [Errors], nil if there are none.
func (p *problems) err() error {
	if len(p.list) == 0 {
		return nil
	}
	slices.SortStableFunc(p.list, func(a, b placed) int {
		return cmp.Or(
			cmp.Compare(a.at.source.order, b.at.source.order),
			cmp.Compare(a.at.line, b.at.line),
			cmp.Compare(a.at.column, b.at.column),
		)
	})
	errs := make(Errors, len(p.list))
	for i, q := range p.list {
		errs[i] = Problem{
			File: q.at.source.name, Line: q.at.line, Column: q.at.column,
			Path: q.path, Message: q.message, Hint: q.hint,
		}
		if n := q.at.line - 1; n >= 0 && n < len(q.at.source.lines) {
			errs[i].Source = q.at.source.lines[n]
		}
	}
	return errs
}
