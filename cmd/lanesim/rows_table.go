package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"lanesim/scenario"
)

// rowTable prints rows for people: all of them if they are few, and between
// which numbers each column lies.
type rowTable struct {
	to     io.Writer
	header rowsHeader
	paint  paint
	whole  bool // whether the rows are shown

	rows  [][]scenario.Cell // the first ones
	count uint64
	spans []columnSpan
}

// columnSpan is what is known of a column.
type columnSpan struct {
	least, most float64
	absent      uint64
	yes         uint64
	words       []string // the first few
}

// Rows that are shown, and words of a column that are listed.
const (
	mostShown = 40
	mostWords = 4
)

func newRowTable(to io.Writer, h rowsHeader, c paint, whole bool) *rowTable {
	t := &rowTable{to: to, header: h, paint: c, whole: whole && h.count() <= mostShown, spans: make([]columnSpan, len(h.Columns))}
	for i := range t.spans {
		t.spans[i].least, t.spans[i].most = math.Inf(1), math.Inf(-1)
	}
	return t
}

func (t *rowTable) row(line []byte) error {
	cells, err := t.header.cells(line)
	if err != nil {
		return err
	}
	t.count++
	if t.whole {
		t.rows = append(t.rows, cells)
	}
	for i, c := range cells {
		s := &t.spans[i]
		switch {
		case c.Absent:
			s.absent++
		case t.header.Columns[i].Kind == truthKind:
			if c.Truth {
				s.yes++
			}
		case t.header.Columns[i].Kind == textKind:
			s.word(c.Text)
		default:
			s.least, s.most = min(s.least, c.Number), max(s.most, c.Number)
		}
	}
	return nil
}

// word notes a word of a column.
func (s *columnSpan) word(w string) {
	for _, known := range s.words {
		if known == w {
			return
		}
	}
	if len(s.words) <= mostWords {
		s.words = append(s.words, w)
	}
}

func (t *rowTable) close() error {
	var b strings.Builder
	if t.header.Title != "" {
		b.WriteString(t.paint.heading(t.header.Title) + "\n\n")
	}
	if t.whole {
		b.WriteString(t.all().String())
	} else {
		b.WriteString(t.summary().String())
		fmt.Fprintf(&b, "\n%d rows\n", t.count)
	}
	_, err := io.WriteString(t.to, b.String())
	return err
}

// all shows every row.
func (t *rowTable) all() table {
	shown := table{rows: [][]string{t.header.names()}, left: make([]bool, len(t.header.Columns))}
	for i, c := range t.header.Columns {
		shown.left[i] = c.Kind == textKind
	}
	for _, cells := range t.rows {
		row := make([]string, len(cells))
		for i, c := range cells {
			switch kind := t.header.Columns[i].Kind; {
			case c.Absent:
				row[i] = absent
			case kind == truthKind:
				row[i] = yesNo(c.Truth)
			case kind == textKind:
				row[i] = c.Text
			case kind == countKind:
				row[i] = strconv.FormatFloat(c.Number, 'f', 0, 64)
			default:
				row[i] = figure(c.Number)
			}
		}
		shown.rows = append(shown.rows, row)
	}
	return shown
}

// summary tells between which numbers the columns lie.
func (t *rowTable) summary() table {
	shown := table{left: []bool{true}, rows: [][]string{{"column", "least", "greatest", "missing"}}}
	for i, c := range t.header.Columns[1:] {
		s := t.spans[i+1]
		least, most := figure(s.least), figure(s.most)
		switch {
		case t.count == s.absent:
			least, most = absent, absent
		case c.Kind == truthKind:
			least, most = fmt.Sprintf("no %d", t.count-s.absent-s.yes), fmt.Sprintf("yes %d", s.yes)
		case c.Kind == textKind && len(s.words) > mostWords:
			least, most = s.words[0], "and others"
		case c.Kind == textKind:
			least, most = s.words[0], strings.Join(s.words[1:], ", ")
		}
		shown.rows = append(shown.rows, []string{c.Name, least, most, strconv.FormatUint(s.absent, 10)})
	}
	return shown
}
