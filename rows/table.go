package rows

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lanesim/report"
	"lanesim/report/thrown"
)

// rowTable prints rows for people: all of them, or the range of each column.
type rowTable struct {
	to     io.Writer
	header Header
	paint  report.Paint
	whole  bool // whether the rows are shown

	rows  [][]report.Cell // the first ones
	count uint64
	spans []columnSpan
}

// columnSpan summarises a column.
type columnSpan struct {
	least, most float64
	absent      uint64
	yes         uint64   // rows where it is true
	words       []string // the first few that differ
}

// The largest numbers of rows shown, and of words of a column listed.
const (
	mostShown = 40
	mostWords = 4
)

// NewTable returns a sink that prints rows for people: all of them if they are few and
// whole is true, else the range of each column.
func NewTable(to io.Writer, h Header, c report.Paint, whole bool) Sink {
	t := &rowTable{to: to, header: h, paint: c, whole: whole && h.Count() <= mostShown, spans: make([]columnSpan, len(h.Columns))}
	for i := range t.spans {
		t.spans[i].least, t.spans[i].most = math.Inf(1), math.Inf(-1)
	}
	return t
}

func (t *rowTable) Row(line []byte) error {
	cells, err := t.header.Cells(line)
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
		case t.header.Columns[i].Kind == report.TruthKind:
			if c.Truth {
				s.yes++
			}
		case t.header.Columns[i].Kind == report.TextKind:
			if len(s.words) <= mostWords && !slices.Contains(s.words, c.Text) {
				s.words = append(s.words, c.Text)
			}
		default:
			s.least, s.most = min(s.least, c.Number), max(s.most, c.Number)
		}
	}
	return nil
}

func (t *rowTable) Close() error {
	var b strings.Builder
	if t.header.Title != "" {
		b.WriteString(t.paint.Heading(t.header.Title) + "\n\n")
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
func (t *rowTable) all() report.Grid {
	shown := report.Grid{Rows: [][]string{t.header.Names()}, Left: make([]bool, len(t.header.Columns))}
	for i, c := range t.header.Columns {
		shown.Left[i] = c.Kind == report.TextKind
	}
	for _, cells := range t.rows {
		row := make([]string, len(cells))
		for i, c := range cells {
			switch kind := t.header.Columns[i].Kind; {
			case c.Absent:
				row[i] = report.Absent
			case kind == report.TruthKind:
				row[i] = report.YesNo(c.Truth)
			case kind == report.TextKind:
				row[i] = c.Text
			case kind == report.CountKind:
				row[i] = report.Fixed(c.Number, 0)
			default:
				row[i] = show(t.header.Columns[i].Name, c.Number)
			}
		}
		shown.Rows = append(shown.Rows, row)
	}
	return shown
}

// summary shows the range of each column.
func (t *rowTable) summary() report.Grid {
	shown := report.Grid{Left: []bool{true}, Rows: [][]string{{"column", "least", "greatest", "missing"}}}
	for i, c := range t.header.Columns[1:] {
		s := t.spans[i+1]
		least, most := show(c.Name, s.least), show(c.Name, s.most)
		switch {
		case t.count == s.absent:
			least, most = report.Absent, report.Absent
		case c.Kind == report.TruthKind:
			least, most = fmt.Sprintf("no %d", t.count-s.absent-s.yes), fmt.Sprintf("yes %d", s.yes)
		case c.Kind == report.TextKind && len(s.words) > mostWords:
			least, most = s.words[0], "and others"
		case c.Kind == report.TextKind:
			least, most = s.words[0], strings.Join(s.words[1:], ", ")
		}
		shown.Rows = append(shown.Rows, []string{c.Name, least, most, strconv.FormatUint(s.absent, 10)})
	}
	return shown
}

// show prints a number with the digits of its column if shots have such a column.
func show(column string, v float64) string {
	if c, known := thrown.FindShotColumn(column); known {
		return report.Fixed(v, c.Unit.Decimals)
	}
	return report.Figure(v)
}
