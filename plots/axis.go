package plots

import (
	"math"

	"lanesim/internal/theme"
	"lanesim/report"
	"lanesim/units"
)

// span is an interval of numbers on an axis.
type span struct{ min, max float64 }

// include widens the span to contain v, unless v is not finite.
func (s *span) include(v float64) {
	if finite(v) {
		s.min, s.max = min(s.min, v), max(s.max, v)
	}
}

// join widens the span to contain another.
func (s *span) join(o span) {
	s.include(o.min)
	s.include(o.max)
}

func emptySpan() span { return span{math.Inf(1), math.Inf(-1)} }

// atLeast widens the span evenly to the given length; an empty one becomes
// one from 0.
func (s span) atLeast(length float64) span {
	if s.min > s.max {
		return span{0, length}
	}
	if short := length - (s.max - s.min); short > 0 {
		s.min -= short / 2
		s.max += short / 2
	}
	return s
}

// niceStep returns the smallest of 1, 2, 2.5 or 5 times a power of ten that
// is at least the given step.
func niceStep(step float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(step)))
	for _, m := range [...]float64{1, 2, 2.5, 5} {
		if m*power >= step*(1-tickRounding) {
			return m * power
		}
	}
	return 10 * power
}

// tickRounding is the share of a step by which rounding may move a tick: a
// few units in the last place times the ticks counted from 0, generously.
const tickRounding = 1e-6

// ticks returns round numbers within the span, about as many as given, and the decimals to
// print them with.
func (s span) ticks(about int) (at []float64, decimals int) {
	step := niceStep((s.max - s.min) / float64(about))
	for i := math.Ceil(s.min/step - tickRounding); i*step <= s.max+tickRounding*step; i++ {
		at = append(at, i*step)
	}
	for decimals < 6 && math.Abs(step*math.Pow10(decimals)-math.Round(step*math.Pow10(decimals))) > tickRounding {
		decimals++
	}
	return at, decimals
}

// rounded widens the span to whole steps of its ticks. A span of length 0 gets length 1.
func (s span) rounded(about int) span {
	if !(s.max > s.min) {
		s = s.atLeast(1)
	}
	step := niceStep((s.max - s.min) / float64(about))
	return span{
		step * math.Floor(s.min/step+tickRounding),
		step * math.Ceil(s.max/step-tickRounding),
	}
}

// scale maps numbers to positions on the drawing.
type scale struct {
	span
	from, to float64 // where min and max lie, in points
}

func (s scale) at(v float64) float64 {
	return s.from + (v-s.min)/(s.max-s.min)*(s.to-s.from)
}

// edge is the stroke of axes, grid that of the lines behind curves.
func (t measures) edge() stroke { return stroke{color: softInk, width: t.rule} }
func (t measures) grid() stroke { return stroke{color: faint, width: t.hairline} }

// axisGap is the space in points between the numbers of an axis and the panel.
const axisGap = 6

// panel is a plot on a page.
type panel struct {
	*page
	area box
	x, y scale
}

// panel begins a plot below its label, without its axes, and moves the page on to its top.
func (p *page) panel(label string, x scale, y span, height float64) *panel {
	p.text(p.small.shorten(label, p.width-p.margin-x.from), p.small, x.from, p.y, ink)
	p.y += 1.25 * p.small.size
	return p.bare(x, y, height)
}

// bare is a plot without a label.
func (p *page) bare(x scale, y span, height float64) *panel {
	area := box{x.from, p.y, x.to, p.y + height}
	return &panel{p, area, x, scale{y, area.bottom, area.top}}
}

// numbers draws a line across the panel at each round number of its axis, at about the
// given number of them, at least two.
func (p *panel) numbers(about int) {
	at, decimals := p.y.ticks(about)
	for ; len(at) < 2 && about < 20; about++ {
		at, decimals = p.y.ticks(about + 1)
	}
	for _, v := range at {
		h := p.y.at(v)
		p.across(h, p.grid())
		p.endingAt(report.Fixed(v, decimals), p.small, point{p.area.left - axisGap, h}, softInk)
	}
}

// across draws a line over the panel at a height, and down one at a place.
func (p *panel) across(height float64, s stroke) {
	p.line([]point{{p.area.left, height}, {p.area.right, height}}, s)
}

func (p *panel) down(at float64, s stroke) {
	p.line([]point{{at, p.area.top}, {at, p.area.bottom}}, s)
}

// axes draws the left and the lower side.
func (p *panel) axes() {
	p.down(p.area.left, p.edge())
	p.across(p.area.bottom, p.edge())
}

// shade fills the panel between two values, within its axis.
func (p *panel) shade(from, to float64) {
	p.rectangle(box{p.area.left, p.y.at(min(to, p.y.max)), p.area.right, p.y.at(max(from, p.y.min))}, theme.Band)
}

// oilEnds marks the end of the oil if it lies within the panel, which begins at a distance
// in ft.
func (p *panel) oilEnds(v *view, from float64) {
	if oil := v.Lane.Oil.Length() / units.Foot; oil > from && oil < v.end {
		p.down(p.x.at(oil), stroke{softInk, p.hairline, []float64{2, 2}})
	}
}

// curve returns the places of values.
func (p *panel) curve(x, y []float64) []point {
	points := make([]point, len(x))
	for i := range x {
		points[i] = point{p.x.at(x[i]), p.y.at(y[i])}
	}
	return points
}

// nameEnds writes labels beside the ends of curves.
func (p *panel) nameEnds(labels []endLabel) {
	half := 0.45 * p.small.size
	p.stack(labels, p.area.right-8, p.area.top-half, p.area.bottom+half)
}

// distances draws the numbers of an axis below the page's position, and moves down by their
// height and the given one.
func (p *page) distances(x scale, height float64) {
	about := 6
	if x.to-x.from < 200 {
		about = 3
	}
	at, decimals := x.ticks(about)
	p.numbersBelow(x, at, decimals)
	p.y += 5 + height
}

// numberLeft draws a number left of an axis.
func (p *page) numberLeft(v float64, decimals int, left, height float64) {
	p.line([]point{{left - 4, height}, {left, height}}, p.edge())
	p.endingAt(report.Fixed(v, decimals), p.small, point{left - axisGap, height}, softInk)
}

// numbersBelow draws numbers below an axis.
func (p *page) numbersBelow(x scale, at []float64, decimals int) {
	for _, v := range at {
		s, place := report.Fixed(v, decimals), x.at(v)
		p.line([]point{{place, p.y}, {place, p.y + 4}}, p.edge())
		p.text(s, p.small, place-p.small.width(s)/2, p.y+5, softInk)
	}
}
