package plots

import (
	"fmt"
	"math"
	"strings"

	"lanesim/report/studied"
)

// planPanelHeight is the height of a player's panel over that of a panel of motion.
const planPanelHeight = 2.2

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
		for _, s := range c.Periods {
			for i := range s.Shots {
				most, top = max(most, s.Shots[i]), max(top, s.Percent[i])
			}
		}
	}
	y := span{0, math.Ceil(max(top, 10)/10) * 10}
	p.panels(len(curves), math.Inf(1), 0.9*p.body.leading(), func(i int, left, right float64) { p.planPanel(curves[i], span{0, most}, y, left, right) })
	p.caption("upward: share in the pocket, %, of deliveries that do not wear the lane; across: shots of the session. Dashed: the share below which a line has fallen. Marks: changes of line or ball, with what they bring.")
	return p.finish(), nil
}

// planPanel draws a player.
func (p *page) planPanel(c studied.PlanCurve, across, up span, left, right float64) {
	p.paragraph(c.Name, p.label, left, right-left, 2, ink)
	p.paragraph(c.Line, p.small, left, right-left, 2, softInk)
	p.y += 0.9 * p.small.size // clear of the marks above the panel
	m := p.bare(scale{across, left + p.axisLeft, right - 0.7*p.small.size}, up, planPanelHeight*p.panelHeight)
	area, x, y := m.area, m.x, m.y
	m.numbers(4)
	m.down(x.at(c.Session), stroke{faintMark, p.hairline, []float64{2, 2}})
	var words []string
	for k, s := range c.Periods {
		style := p.shotStroke(s.Ball)
		points := m.curve(s.Shots, s.Percent)
		p.line([]point{{points[0].x, y.at(s.Falls)}, {x.at(s.Until), y.at(s.Falls)}}, stroke{softInk, p.rule, []float64{4, 3}})
		p.line(points, style)
		if len(points) == 1 {
			p.disc(points[0], 1.2*p.pathWidth, style.color)
		}
		if k > 0 {
			half := 0.62 * p.small.size
			mark := point{points[0].x, area.top - 0.1*half}
			m.down(mark.x, stroke{color: ink, width: p.rule})
			p.hollow(mark, half, p.rule, ink)
			p.centred(fmt.Sprint(k), p.small, mark, ink)
			words = append(words, fmt.Sprintf("%d: %s", k, s.Change))
		}
	}
	p.line([]point{{area.left, area.top}, {area.left, area.bottom}, {area.right, area.bottom}}, p.edge())
	p.y = area.bottom
	p.distances(x, 1.3*p.small.leading())
	p.paragraph(strings.Join(words, "; "), p.small, left, right-left, 0, ink)
}
