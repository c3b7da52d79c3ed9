package plots

import (
	"slices"

	"lanesim/report/layouts"
)

const (
	afterSection = 0.8 // below a section, in sizes of its type
	beforeValue  = 1.0 // at least between name and value, in the same
)

// section writes a section into a column and returns where it ends. Names and values stand
// beside each other if they fit, and below each other if not.
func (p *page) section(s layouts.Section, left, top, width float64) float64 {
	y := p.y
	defer func() { p.y = y }()
	p.y = top
	p.paragraph(s.Heading, p.label, left, width, 0, ink)
	for _, r := range s.Rows {
		value := glued(r.Value)
		right := left + width - p.small.width(printable(value))
		if r.Value != "" && p.small.width(printable(r.Name))+beforeValue*p.small.size <= right-left {
			if r.Name != "" {
				p.text(r.Name, p.small, left, p.y, softInk)
			}
			p.text(value, p.small, right, p.y, ink)
			p.y += p.small.leading()
			continue
		}
		p.paragraph(r.Name, p.small, left, width, 0, softInk)
		for _, line := range p.small.wrap(value, width-beforeValue*p.small.size, 0) {
			p.text(line, p.small, left+width-p.small.width(printable(line)), p.y, ink)
			p.y += p.small.leading()
		}
	}
	return p.y + afterSection*p.small.size
}

// columns writes sections into columns, each where the text ends highest so
// far: tops are where the columns begin. It returns the lowest end.
func (p *page) columns(sections []layouts.Section, lefts, tops []float64, width float64) float64 {
	ends := slices.Clone(tops)
	for _, s := range sections {
		best := slices.Index(ends, slices.Min(ends))
		ends[best] = p.section(s, lefts[best], ends[best], width)
	}
	return slices.Max(ends)
}
