package plots

import (
	"slices"
	"strings"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/report/thrown"
)

// DrawComparison draws a comparison, of whose shots the lanes are: a block for each of
// the panels, which list shots, or several where one has more shots than a block takes. Each block begins with the panel's
// first shot.
func DrawComparison(c *thrown.Comparison, lanes []lane.Lane, panels [][]int, size Size) (*Drawing, error) {
	f := compareFigure{Title: c.Title, Pocket: c.Shots[0].Pocket, Visible: c.Result.Visible.Boards, Size: size}
	var blocks [][]int
	for _, all := range panels {
		for rest := all[1:]; len(rest) > 0; {
			n := min(MaxCompared-1, len(rest))
			blocks = append(blocks, append([]int{all[0]}, rest[:n]...))
			rest = rest[n:]
		}
	}
	if len(blocks) > MaxSeries/MaxCompared {
		return nil, input.Wrong("%d sets of shots are too many for a picture, which takes %d", len(blocks), MaxSeries/MaxCompared)
	}
	for _, shots := range blocks {
		f.Blocks = append(f.Blocks, blockOf(c, lanes, shots))
	}
	if len(c.Result.Pairs) > 1 {
		f.Matrix = compareMatrix(c)
	}
	f.Note = c.Answer()
	if line := c.Shots[0].LineText(); len(blocks) == 1 && !slices.ContainsFunc(c.Shots, func(s thrown.Shot) bool { return s.LineText() != line }) {
		f.Note += " The line: " + line + "."
	}
	if onSeveralLanes(c, blocks) {
		f.Note += " The oil drawn is that of the first."
	}
	return f.draw()
}

// blockOf draws shots over the oil of the first.
func blockOf(c *thrown.Comparison, lanes []lane.Lane, shots []int) comparedShots {
	b := comparedShots{Lane: lanes[shots[0]]}
	b.Name = common(c, shots)
	for k, i := range shots {
		other := shots[0]
		if k == 0 {
			other = shots[1]
		}
		name, _ := c.Names(i, other)
		b.Series = append(b.Series, Series{Name: name, Shot: c.Result.Shots[i].Shot, Hand: c.Shots[i].Release.Hand, Line: c.Shots[i].LineText()})
		b.ContactWidths = append(b.ContactWidths, c.Result.Shots[i].ContactWidth)
	}
	return b
}

// common names what shots share and others have differently: bowler, line, lane.
func common(c *thrown.Comparison, shots []int) string {
	var names []string
	for _, of := range []func(thrown.Shot) string{
		func(s thrown.Shot) string { return s.Person }, func(s thrown.Shot) string { return s.Line }, func(s thrown.Shot) string { return s.Lane },
	} {
		name, same := of(c.Shots[shots[0]]), true
		for _, i := range shots {
			same = same && of(c.Shots[i]) == name
		}
		alike := !slices.ContainsFunc(c.Shots, func(s thrown.Shot) bool { return of(s) != name })
		if same && name != "" && (!alike || len(names) == 0) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// compareMatrix is the table of the pairs.
func compareMatrix(c *thrown.Comparison) *tintedTable {
	m := &tintedTable{}
	var rows []string
	for p := range c.Pairs() {
		row, column := p.Place()
		k, i := slices.Index(m.Columns, column), slices.Index(rows, row)
		if k < 0 {
			k, m.Columns = len(m.Columns), append(m.Columns, column)
		}
		if i < 0 {
			i, rows, m.Rows = len(rows), append(rows, row), append(m.Rows, tintedRow{Name: row})
		}
		r := &m.Rows[i]
		for len(r.Cells) <= k {
			r.Cells = append(r.Cells, tintedCell{})
		}
		r.Cells[k] = tintedCell{Lines: p.PairText(), Boards: p.Difference.AtPins, Unseen: !p.Visible}
	}
	return m
}

func onSeveralLanes(c *thrown.Comparison, blocks [][]int) bool {
	for _, shots := range blocks {
		for _, i := range shots {
			if c.Shots[i].Lane != c.Shots[shots[0]].Lane {
				return true
			}
		}
	}
	return false
}
