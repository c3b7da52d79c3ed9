package plots

import (
	"fmt"
	"math"
	"strings"

	"lanesim/report/studied"
)

// planPanel is the height of a seat's panel over that of a panel of motion.
const planPanel = 2.2

// DrawWearPlan draws, for each bowler or ball, the share in the pocket against the shots,
// with the changes of line and ball.
//
// It is an error if there is nothing to draw.
func DrawWearPlan(w *studied.WearPlan, size Size) (*Drawing, error) {
	curves := w.Curves()
	if len(curves) == 0 {
		return nil, fmt.Errorf("plots: there is no plan to draw")
	}
	p := titledPage(w.Title, w.Note(), size)
	most, top := 0.0, 0.0
	for _, c := range curves {
		for _, s := range c.Stints {
			for i := range s.Shots {
				most, top = max(most, s.Shots[i]), max(top, s.Percent[i])
			}
		}
	}
	y := span{0, math.Ceil(max(top, 10)/10) * 10}
	p.panels(len(curves), math.Inf(1), 0.9*p.body.leading(), func(i int, left, right float64) { p.planPanel(curves[i], span{0, most}, y, left, right) })
	p.caption("upward: share in the pocket, %, of deliveries that do not wear the lane; across: shots of the session. Dashed: where a line has fallen. Marks: changes of line or ball, with what they bring.")
	return p.finish(), nil
}

// planPanel draws a seat.
func (p *page) planPanel(c studied.PlanCurve, across, up span, left, right float64) {
	p.paragraph(c.Name, p.label, left, right-left, 2, ink)
	p.paragraph(c.Line, p.small, left, right-left, 2, softInk)
	p.y += 0.5 * p.small.size
	area := box{left + p.axisLeft, p.y, right - 0.7*p.small.size, p.y + planPanel*p.panelHeight}
	x, y := scale{across, area.left, area.right}, scale{up, area.bottom, area.top}
	at, decimals := up.ticks(4)
	for _, v := range at {
		s := decimal(v, decimals)
		p.line([]point{{area.left, y.at(v)}, {area.right, y.at(v)}}, stroke{color: faint, width: p.hairline})
		p.text(s, p.small, area.left-6-p.small.width(s), y.at(v)-p.small.height()/2, softInk)
	}
	p.line([]point{{x.at(c.Session), area.top}, {x.at(c.Session), area.bottom}}, stroke{faintMark, p.hairline, []float64{2, 2}})
	var words []string
	for k, s := range c.Stints {
		style := p.shotStroke(s.Ball)
		var points []point
		for i := range s.Shots {
			points = append(points, point{x.at(s.Shots[i]), y.at(s.Percent[i])})
		}
		p.line([]point{{points[0].x, y.at(s.Falls)}, {x.at(s.Until), y.at(s.Falls)}}, stroke{softInk, p.rule, []float64{4, 3}})
		p.line(points, style)
		if len(points) == 1 {
			p.disc(points[0], 1.2*p.pathWidth, style.color)
		}
		if k > 0 {
			half := 0.62 * p.small.size
			mark := point{points[0].x, area.top - 0.1*half}
			p.line([]point{{mark.x, area.top}, {mark.x, area.bottom}}, stroke{color: ink, width: p.rule})
			p.disc(mark, half, ink)
			p.disc(mark, half-p.rule, paper)
			number := fmt.Sprint(k)
			p.text(number, p.small, mark.x-p.small.width(number)/2, mark.y-p.small.height()/2, ink)
			words = append(words, fmt.Sprintf("%d: %s", k, s.Change))
		}
	}
	edge := stroke{color: softInk, width: p.rule}
	p.line([]point{{area.left, area.top}, {area.left, area.bottom}, {area.right, area.bottom}}, edge)
	p.y = area.bottom
	p.distances(x, p.y)
	p.y += 5 + 1.3*p.small.leading()
	p.paragraph(strings.Join(words, "; "), p.small, left, right-left, 0, ink)
}
