package plots

import (
	"strconv"

	"lanesim/report/layouts"
)

// count writes a number with what is counted.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

const (
	afterSection = 0.8 // below a section, in sizes of its type
	beforeValue  = 1.0 // at least between name and value, in the same
)

// rowLine is a line of a row: what stands at its left and at its right.
type rowLine struct{ left, right string }

// rowLines breaks a row into lines: name and value beside each other if they
// fit, and below each other if not.
func (p *page) rowLines(r layouts.Row, width float64) []rowLine {
	value := glued(r.Value)
	if r.Value != "" && p.small.width(printable(r.Name))+p.small.width(printable(value))+beforeValue*p.small.size <= width {
		return []rowLine{{r.Name, value}}
	}
	var lines []rowLine
	for _, s := range p.small.wrap(r.Name, width, 0) {
		lines = append(lines, rowLine{left: s})
	}
	for _, s := range p.small.wrap(value, width-beforeValue*p.small.size, 0) {
		lines = append(lines, rowLine{right: s})
	}
	return lines
}

// section writes a section into a column and returns where it ends.
func (p *page) section(s layouts.Section, left, top, width float64) float64 {
	y := top
	for _, line := range p.label.wrap(s.Heading, width, 0) {
		p.text(line, p.label, left, y, ink)
		y += p.label.leading()
	}
	for _, r := range s.Rows {
		for _, line := range p.rowLines(r, width) {
			if line.left != "" {
				p.text(line.left, p.small, left, y, softInk)
			}
			if line.right != "" {
				p.text(line.right, p.small, left+width-p.small.width(printable(line.right)), y, ink)
			}
			y += p.small.leading()
		}
	}
	return y + afterSection*p.small.size
}

// columns writes sections into columns, each where the text ends highest so
// far: tops are where the columns begin. It returns the lowest end.
func (p *page) columns(sections []layouts.Section, lefts, tops []float64, width float64) float64 {
	ends := append([]float64(nil), tops...)
	for _, s := range sections {
		best := 0
		for i := range ends {
			if ends[i] < ends[best] {
				best = i
			}
		}
		ends[best] = p.section(s, lefts[best], ends[best], width)
	}
	lowest := 0.0
	for _, e := range ends {
		lowest = max(lowest, e)
	}
	return lowest
}
