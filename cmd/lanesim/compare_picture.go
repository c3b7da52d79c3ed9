package main

import (
	"slices"
	"strings"

	"lanesim/plots"
	"lanesim/report"
)

// draw draws the comparison: a block for each bowler, or several where a bowler
// has more shots than a block takes. Each block begins with the bowler's first
// shot.
func (c *comparison) draw(path string, size plots.Size) ([]file, error) {
	f := plots.CompareFigure{Title: c.Title, Pocket: report.Pocket(c.scenario[0].Settings), Visible: c.Result.Visible.Boards, Size: size}
	var blocks [][]int
	for _, all := range c.blocks() {
		for rest := all[1:]; len(rest) > 0; {
			n := min(plots.MaxCompared-1, len(rest))
			blocks = append(blocks, append([]int{all[0]}, rest[:n]...))
			rest = rest[n:]
		}
	}
	if len(blocks) > plots.MaxSeries/plots.MaxCompared {
		return nil, wrongInput("%d sets of shots are too many for a picture, which takes %d", len(blocks), plots.MaxSeries/plots.MaxCompared)
	}
	for _, shots := range blocks {
		f.Blocks = append(f.Blocks, c.block(shots))
	}
	if len(c.Result.Pairs) > 1 {
		f.Matrix = c.matrix()
	}
	f.Note = c.Answer()
	if line := c.Shots[0].LineText(); len(blocks) == 1 && !slices.ContainsFunc(c.Shots, func(s report.Shot) bool { return s.LineText() != line }) {
		f.Note += " The line: " + line + "."
	}
	if c.onSeveralLanes(blocks) {
		f.Note += " The oil drawn is that of the first."
	}
	d, err := plots.Compare(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}

// block draws shots over the oil of the first.
func (c *comparison) block(shots []int) plots.CompareBlock {
	b := plots.CompareBlock{Lane: c.list[shots[0]].Lane}
	b.Name = c.common(shots)
	for k, i := range shots {
		other := shots[0]
		if k == 0 {
			other = shots[1]
		}
		name, _ := c.Names(i, other)
		b.Series = append(b.Series, plots.Series{Name: name, Shot: c.Result.Shots[i].Shot, Hand: c.list[i].Release.Hand, Line: c.Shots[i].LineText()})
		b.ContactWidths = append(b.ContactWidths, c.list[i].Ball.Memory.ContactWidth)
	}
	return b
}

// common names what shots share and others have differently: bowler, line, lane.
func (c *comparison) common(shots []int) string {
	var names []string
	for _, of := range []func(report.Shot) string{
		func(s report.Shot) string { return s.Person }, func(s report.Shot) string { return s.Line }, func(s report.Shot) string { return s.Lane },
	} {
		name, same := of(c.Shots[shots[0]]), true
		for _, i := range shots {
			same = same && of(c.Shots[i]) == name
		}
		alike := !slices.ContainsFunc(c.Shots, func(s report.Shot) bool { return of(s) != name })
		if same && name != "" && (!alike || len(names) == 0) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// matrix is the table of the pairs.
func (c *comparison) matrix() *plots.CompareMatrix {
	m := &plots.CompareMatrix{}
	var rows []string
	for p := range c.Pairs() {
		row, column := p.Place()
		k, i := slices.Index(m.Columns, column), slices.Index(rows, row)
		if k < 0 {
			k, m.Columns = len(m.Columns), append(m.Columns, column)
		}
		if i < 0 {
			i, rows, m.Rows = len(rows), append(rows, row), append(m.Rows, plots.MatrixRow{Name: row})
		}
		r := &m.Rows[i]
		for len(r.Cells) <= k {
			r.Cells = append(r.Cells, plots.MatrixCell{})
		}
		r.Cells[k] = plots.MatrixCell{Lines: p.PairText(), Boards: p.Difference.AtPins, Unseen: !p.Visible}
	}
	return m
}

func (c *comparison) onSeveralLanes(blocks [][]int) bool {
	for _, shots := range blocks {
		for _, i := range shots {
			if c.Shots[i].Lane != c.Shots[shots[0]].Lane {
				return true
			}
		}
	}
	return false
}
