package plots

import (
	"math"
	"slices"

	"lanesim/report"
	"lanesim/units"
)

// graph is a panel of curves against distance.
type graph struct {
	label  string
	values bool   // whether curves are labelled with their last value
	unit   string // after the value, where the curve has no name
	axis   span
	zero   bool // whether a line marks 0 within the axis

	from   float64 // distance in ft at which the panel begins
	tall   bool    // whether it is drawn higher than others
	shaded *span   // values that are shaded, nil for none

	// band, if not 0, is shaded from 0 up to it and, with bothWays, as far down.
	band     float64
	bothWays bool

	curves []graphCurve
}

// graphCurve is a curve of one shot, in the shot's style.
type graphCurve struct {
	shot int
	x, y []float64 // ft and the graph's quantity
}

// add adds a point at a distance in m and widens the axis to hold it.
func (c *graphCurve) add(distance, value float64, axis *span) {
	c.x, c.y = append(c.x, distance/units.Foot), append(c.y, value)
	axis.include(value)
}

// end is a curve's last value.
func (c graphCurve) end() (float64, bool) {
	for _, v := range slices.Backward(c.y) {
		if finite(v) {
			return v, true
		}
	}
	return 0, false
}

// graph draws a graph below its label and moves the page down. Names, if not nil, are
// written with the last values at the curves' ends.
func (p *page) graph(g graph, v *view, x scale, names []string) {
	height, ticks := p.panelHeight, panelTicks
	if g.tall {
		height, ticks = 1.7*height, 2*ticks
	}
	m := p.panel(g.label, x, g.axis, height)
	if g.shaded != nil {
		m.shade(g.shaded.min, g.shaded.max)
	}
	if g.bothWays && g.band > 0 {
		m.shade(-g.band, g.band)
	} else if g.band > 0 {
		m.shade(0, g.band)
	}
	m.numbers(ticks)
	m.oilEnds(v, g.from)
	m.axes()
	if g.zero {
		m.across(m.y.at(0), p.edge())
	}
	var labels []endLabel
	for _, c := range g.curves {
		s := p.shotStroke(c.shot).times(0.8)
		p.line(m.curve(c.x, c.y), s)
		last, ok := c.end()
		if !ok || names == nil || names[c.shot] == "" && !g.values {
			continue
		}
		text := names[c.shot]
		if value := report.Fixed(last, 2); g.values && text != "" {
			text += " " + value
		} else if g.values {
			text = value + g.unit
		}
		labels = append(labels, endLabel{m.y.at(last), s.times(0.75), []textLine{{text, p.label, s.color}}})
	}
	m.nameEnds(labels)
	p.y += height + 0.55*p.small.size
}

// oneBlock draws a block over the whole page.
func (p *page) oneBlock(b *compareBlock) {
	v := b.view
	p.lanes(v)
	p.y += 0.8 * p.body.leading()
	if sharedLine(b.Series) == "" {
		p.eachLine(b.Series)
	}
	left, right := p.plotSides(v)
	x := scale{span{0, v.end}, left, right}
	names := allNamed(b.Series)
	if !p.namesFit(names, right) {
		p.legend(names)
		clear(names)
	}
	p.endGraph(b.last, v, x, names)
	for _, g := range b.graphs {
		p.graph(g, v, x, names)
	}
	p.y -= 0.55 * p.small.size
	p.distances(x, p.small.leading())
	p.closing(left, len(b.graphs))
}

// closing writes the last lines under the panels.
func (p *page) closing(left float64, graphs int) {
	words := "distance from the foul line, ft"
	if graphs > 1 {
		words += "; track and film are means of a turn"
	}
	p.paragraph(words, p.small, left, p.width-p.margin-left, 0, softInk)
}

// manyBlocks draws a small set of panels for each block.
func (p *page) manyBlocks(blocks []*compareBlock) {
	const gap = 14
	columns := p.laneColumns
	column := (p.inner() - gap*float64(columns-1)) / float64(columns)
	right := 12.0 // for the pocket and the head pin
	first := blocks[0]
	shared := sharedNames(blocks)
	if shared != nil {
		p.legend(shared)
	}
	words := first.boardsLabel()
	if slices.ContainsFunc(blocks, func(b *compareBlock) bool { return b.side != first.side }) {
		words = "board, from each bowler's own side"
	}
	p.axisNotesSaying(words, first.view, p.axisLeft, column-right, p.smallLane)
	p.inColumns(len(blocks), columns, gap, math.Inf(1), 1.2*p.small.size, func(i int, left, to float64) {
		p.smallBlock(blocks[i], left, to, right, shared == nil)
	})
	p.closing(p.margin, len(first.graphs))
	p.caption("at the pins the bar marks the pocket, the ring the head pin")
	p.lastScale(first.view)
}

// sharedNames returns the shots' names if they are the same in all blocks, else nil.
func sharedNames(blocks []*compareBlock) []string {
	names := allNamed(blocks[0].Series)
	if slices.ContainsFunc(blocks, func(b *compareBlock) bool { return !slices.Equal(allNamed(b.Series), names) }) {
		return nil
	}
	return names
}

// sharedLine returns the line of all shots, "" if they differ.
func sharedLine(list []Series) string {
	if slices.ContainsFunc(list, func(s Series) bool { return s.Line != list[0].Line }) {
		return ""
	}
	return list[0].Line
}

// eachLine writes the line of each shot if they differ.
func (p *page) eachLine(list []Series) {
	for i, s := range list {
		if s.Line == "" {
			continue
		}
		name := p.label.shorten(named(list, i), 0.5*(p.width-2*p.margin))
		b := p.text(name, p.label, p.margin, p.y, p.shotStroke(i).color)
		left := b.right + p.small.size
		p.paragraph(s.Line, p.small, left, p.width-p.margin-left, 0, softInk)
	}
	p.y += 0.5 * p.small.leading()
}

// smallBlock draws a block between left and right.
func (p *page) smallBlock(b *compareBlock, left, right, rightRoom float64, legend bool) {
	v := b.view
	p.text(p.label.shorten(b.name, right-left), p.label, left, p.y, ink)
	p.y += p.small.leading()
	p.paragraph(sharedLine(b.Series), p.small, left, right-left, 0, softInk)
	p.y += 0.4 * p.small.size
	if legend {
		for i := range b.Series {
			middle := p.y + p.small.height()/2
			s := p.shotStroke(i)
			sample := 2.6 * p.small.size
			p.line([]point{{left, middle}, {left + sample, middle}}, s)
			p.text(p.small.shorten(named(b.Series, i), right-left-1.2*sample), p.small, left+1.2*sample, p.y, s.color)
			p.y += p.small.leading()
		}
	}
	l := p.lanePanel(v, left+p.axisLeft, right-rightRoom, p.y, p.smallLane)
	l.ground(threeBoards)
	marks := l.paths(b.Series)
	l.drawPins()
	for _, s := range b.Series {
		l.crossEnd(s)
	}
	for _, c := range clusters(marks, 5*l.small.size) {
		l.noteCluster(c, false)
	}
	p.y += p.smallLane
	p.distances(l.x, 1.6*p.small.size)
	x := scale{span{0, v.end}, left + p.axisLeft, right - rightRoom}
	b.last.label = p.small.shorten(b.last.label, right-x.from)
	p.endGraph(b.last, v, x, nil)
	for _, g := range b.graphs {
		g.label = p.small.shorten(g.label, right-x.from)
		p.graph(g, v, x, nil)
	}
	if len(b.graphs) > 0 {
		p.y -= 0.55 * p.small.size
		p.distances(x, p.small.leading())
	}
}
