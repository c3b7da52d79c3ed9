package plots

import (
	"image/color"
	"math"
	"strings"

	"lanesim/internal/theme"
)

// tintedTable is a table of comparisons, with bowlers and lines as rows and lanes as
// columns.
type tintedTable struct {
	Columns []string // may be a single one without a name
	Rows    []tintedRow
	Legend  string // of the tints; "" is that of differences at the pins
}

// tintedRow is a row of the table, a cell for each column.
type tintedRow struct {
	Name  string
	Cells []tintedCell
}

// tintedCell is one comparison in short.
type tintedCell struct {
	Lines  []string // nil if there is none
	Boards float64  // difference at the pins, which tints the cell
	Unseen bool     // a difference that is not visible is not tinted
}

// fullTint is the difference in boards that gets the full tint.
const fullTint = 3.0

func (c tintedCell) fill() color.NRGBA {
	full := theme.Outside
	if c.Boards > 0 {
		full = theme.Inside
	}
	if c.Unseen || !finite(c.Boards) {
		return theme.Unseen
	}
	return theme.Blend(paper, full, 0.25+0.75*math.Abs(c.Boards)/fullTint)
}

// inLines joins the lines of cells that stand alone in their rows and fit a width.
func (m *tintedTable) inLines(l lettering, width float64) *tintedTable {
	if len(m.Columns) != 1 {
		return m
	}
	joined := &tintedTable{Columns: m.Columns, Legend: m.Legend}
	for _, r := range m.Rows {
		c := r.Cells[0]
		c.Lines = []string{strings.Join(c.Lines, "; ")}
		if l.width(c.Lines[0]) > width {
			return m
		}
		joined.Rows = append(joined.Rows, tintedRow{r.Name, []tintedCell{c}})
	}
	return joined
}

// matrix draws the table. On a narrow page the names of rows are above their cells.
func (p *page) matrix(m *tintedTable) {
	const gap = 4
	left, names := p.margin, 0.0
	if !p.narrow {
		for _, r := range m.Rows {
			names = max(names, p.label.width(r.Name))
		}
		share := 0.3
		if len(m.Columns) == 1 {
			share = 0.4
		}
		names = min(names+p.small.size, share*p.width)
	}
	m = m.inLines(p.small, p.inner()-names-2*gap)
	column := (p.width - p.margin - left - names + gap) / float64(max(len(m.Columns), 1))
	lines := 0
	for _, r := range m.Rows {
		if !p.narrow {
			lines = max(lines, len(p.label.wrap(r.Name, names-p.small.size/2, 2)))
		}
		for _, c := range r.Cells {
			lines = max(lines, len(c.Lines))
		}
	}
	height := (float64(lines) + 0.5) * p.small.leading()
	for k, name := range m.Columns {
		p.text(p.label.shorten(name, column-gap), p.label, left+names+float64(k)*column+gap, p.y, ink)
	}
	p.y += 1.3 * p.small.leading()
	for _, r := range m.Rows {
		if p.narrow {
			p.text(p.label.shorten(r.Name, p.inner()), p.label, left, p.y, ink)
			p.y += p.small.leading()
		} else {
			rows := p.label.wrap(r.Name, names-p.small.size/2, lines)
			y := p.y + (height-float64(len(rows))*p.small.leading())/2
			for _, s := range rows {
				p.text(s, p.label, left, y, ink)
				y += p.small.leading()
			}
		}
		for k, c := range r.Cells {
			x := left + names + float64(k)*column
			if c.Lines == nil {
				continue
			}
			p.rectangle(box{x, p.y, x + column - gap, p.y + height}, c.fill())
			y := p.y + (height-float64(len(c.Lines))*p.small.leading())/2
			for _, s := range c.Lines {
				p.text(p.small.shorten(s, column-2*gap), p.small, x+gap, y, ink)
				y += p.small.leading()
			}
		}
		p.y += height + gap
	}
	legend := m.Legend
	if legend == "" {
		legend = "blue: farther outside at the pins; orange: farther inside; grey: no visible difference"
	}
	p.caption(legend)
	p.y += 0.8 * p.body.leading()
}
