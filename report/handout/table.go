package handout

import (
	"slices"
	"strings"
	"unicode/utf8"

	"lanesim/report"
	"lanesim/report/terms"
)

// block is a block of the document for the page's template.
type block struct {
	Heading, Before, After string
	Table                  *table
	Text                   string
}

// table is a table: headings of columns, then groups of rows.
type table struct {
	Label  string // its heading, for screen readers
	Pair   bool   // only names and values
	Head   [][]cell
	Groups []group
}

// group is a group of rows with an optional heading.
type group struct {
	Heading []piece
	Columns int
	Rows    [][]cell
}

// cell is a cell of a table, made of pieces.
type cell struct {
	Pieces []piece
	Class  string
	Scope  string // for a heading: col, colgroup or row
	Span   int    // number of columns of a heading of several; 0 for others
}

// piece is a part of a heading, with the id of its term if it is one.
type piece struct{ Text, ID string }

// term is a term that the page explains.
type term struct {
	terms.Term
	ID string
}

// marker finds the terms in headings and keeps those it found.
type marker struct {
	found map[string]term
	names []string // names of balls, bowlers and lanes, whose words are not terms
}

func newMarker() *marker { return &marker{found: map[string]term{}} }

// idOf returns the id of a term's explanation.
func idOf(t terms.Term) string {
	return "term-" + strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			return r
		case r == '±':
			return 'u'
		}
		return '-'
	}, strings.ToLower(t.Name))
}

// mark splits a heading into terms and other text.
func (m *marker) mark(heading string) []piece {
	var pieces []piece
	if slices.ContainsFunc(m.names, func(name string) bool { return strings.Contains(heading, name) }) {
		return []piece{{Text: heading}}
	}
	for _, p := range terms.Mark(readable(heading)) {
		one := piece{Text: p.Text}
		if p.Term.Name != "" {
			one.ID = idOf(p.Term)
			m.found[one.ID] = term{p.Term, one.ID}
		}
		pieces = append(pieces, one)
	}
	return pieces
}

// list returns the terms found, in alphabetical order.
func (m *marker) list() []term {
	var list []term
	for _, t := range m.found {
		list = append(list, t)
	}
	slices.SortFunc(list, func(a, b term) int { return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return list
}

// blocks returns the blocks of a document for the template.
func (m *marker) blocks(d report.Document) []block {
	var list []block
	label := d.Title
	for _, k := range d.Blocks {
		b := block{Before: k.Before, Heading: capital(k.Heading), After: k.After, Text: k.Text}
		if k.Before != "" {
			b.Heading = k.Heading
		}
		if b.Text != "" {
			b.Text = sentence(b.Text)
		}
		if k.Heading != "" {
			label = k.Before + k.Heading + k.After
		}
		if k.Grid != nil {
			t := m.table(*k.Grid)
			t.Label = label
			b.Table = &t
		}
		list = append(list, b)
	}
	return list
}

func capital(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' && !strings.HasPrefix(s, "a = ") && !strings.HasPrefix(s, "b − a") {
		return strings.ToUpper(s[:1]) + s[1:]
	}
	return s
}

// table converts a grid to a table. The first column has headings of rows, unless it has numbers.
func (m *marker) table(g report.Grid) table {
	var t table
	columns := 0
	for _, row := range g.Rows {
		columns = max(columns, len(row))
	}
	t.Pair = columns == 2
	heads := g.HeadRows()
	rows := group{Columns: columns}
	for i, row := range g.Rows {
		empty := !slices.ContainsFunc(row, func(s string) bool { return strings.TrimSpace(s) != "" })
		switch {
		case empty:
			continue
		case i < heads && len(row) > 1 && !slices.ContainsFunc(row[1:], func(s string) bool { return s != "" }):
			t.Head = append(t.Head, []cell{{Pieces: m.mark(row[0]), Scope: "colgroup", Span: columns}})
			continue
		case g.Sections[i]:
			if len(rows.Rows) > 0 || rows.Heading != nil {
				t.Groups = append(t.Groups, rows)
			}
			rows = group{Heading: m.mark(capital(row[0])), Columns: columns}
			continue
		}
		var cells []cell
		for j := range columns {
			c := cell{Class: "number"}
			text := ""
			if j < len(row) {
				text = strings.TrimSpace(row[j])
				c.Class += toneClass(g.ToneOf(i, j))
			}
			if j < len(g.Left) && g.Left[j] {
				c.Class = strings.TrimPrefix(c.Class, "number")
			}
			switch {
			case text == "":
			case i < heads && j > 0:
				c.Scope = "col"
			case i < heads && len(row) > 1 && heads == 1:
				c.Scope = "col"
			case j == 0 && len(g.Left) > 0 && g.Left[0]:
				c.Scope = "row"
			}
			c.Pieces = []piece{{Text: text}}
			if c.Scope != "" && (j == 0 || heads == 1) {
				c.Pieces = m.mark(text)
			}
			if utf8.RuneCountInString(text) > longest {
				c.Class += " long"
			}
			c.Class = strings.TrimSpace(c.Class)
			cells = append(cells, c)
		}
		if i < heads {
			t.Head = append(t.Head, cells)
		} else {
			rows.Rows = append(rows.Rows, cells)
		}
	}
	if len(rows.Rows) > 0 || rows.Heading != nil {
		t.Groups = append(t.Groups, rows)
	}
	return t
}

// longest is the length up to which a cell stays on one line.
const longest = 26

func toneClass(t report.Tone) string {
	switch t {
	case report.HeadingTone:
		return " strong"
	case report.GoodTone:
		return " good"
	case report.BadTone:
		return " bad"
	case report.NotableTone:
		return " notable"
	}
	return ""
}
