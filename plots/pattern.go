package plots

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/report"
	"lanesim/units"
)

// sectionHeight is the height of the panel of cross-sections over that of a
// lane.
const sectionHeight = 0.62

// Pattern draws the oil on a lane and, below it, the film across the lane at
// the distances of the sections, whose places it marks on the lane. A caution,
// if there is one, is written at the foot. The figure has no shots.
//
// It is an error if the figure has shots, if there are no sections or more than
// four, or if a section has not a value for each board.
func Pattern(f Figure, sections []patterns.Section, caution string) (*Drawing, error) {
	if len(f.Series) > 0 {
		return nil, errors.New("plots: the figure of a pattern shows no shots")
	}
	if len(sections) == 0 || len(sections) > maxOverlay {
		return nil, fmt.Errorf("plots: %d sections: the figure of a pattern takes 1 to %d", len(sections), maxOverlay)
	}
	for _, s := range sections {
		if len(s.Units) != lane.Boards {
			return nil, fmt.Errorf("plots: the section at %g m has %d values, not %d", s.Distance, len(s.Units), lane.Boards)
		}
	}
	v, err := newView(f)
	if err != nil {
		return nil, err
	}
	p := v.page()
	p.heading(v)
	left, right := p.plotSides(v)
	for _, s := range sections {
		right = min(right, p.width-p.margin-leaderLength-p.sectionWidth(s))
	}
	axis := filmAxis(sections)
	at, decimals := axis.ticks(filmTicks)
	for _, u := range at { // thousands of units need more room than boards
		left = max(left, p.margin+p.small.width(report.Fixed(u, decimals))+axisGap)
	}
	p.sectionLane(v, sections, left, right)
	p.y += p.body.leading()
	p.sectionPanel(sections, axis, left, right)
	if caution != "" {
		p.y += 0.5 * p.small.size
		p.caption(glued(caution))
	}
	return p.finish(), nil
}

// sectionLane draws the lane with a line at every section.
func (p *page) sectionLane(v *view, sections []patterns.Section, left, right float64) {
	p.axisNotes(v, left, right, p.laneHeight)
	l := p.lanePanel(v, left, right, p.y, p.laneHeight)
	l.ground(everyArrow)
	top, bottom := l.y.at(lane.Boards+0.5), l.y.at(0.5)
	for i, s := range sections {
		x := l.x.at(s.Distance / units.Foot)
		if x > l.x.to {
			continue
		}
		cut := []point{{x, top}, {x, bottom}}
		l.cased(cut, l.shotStroke(i).times(0.6), 2)
		l.room.paths = append(l.room.paths, cut)
	}
	for i, s := range sections {
		x := l.x.at(s.Distance / units.Foot)
		if x > l.x.to {
			continue
		}
		var anchors []point
		for _, b := range []float64{37, 33, 7, 3} {
			anchors = append(anchors, point{x, l.y.at(b)})
		}
		l.note([]textLine{{plainFeet(s.Distance), l.label, l.shotStroke(i).color}}, anchors)
	}
	l.drawPins()
	l.noteOilEnd()
	l.endLabels(nil)
	p.y += p.laneHeight
	p.lowerAxis(v, l.x)
}

// plainFeet prints a distance in m with no more digits than it needs.
func plainFeet(m float64) string {
	return strconv.FormatFloat(m/units.Foot, 'g', 4, 64) + " ft"
}

// sectionLines are the words at the end of a section's line.
func sectionLines(s patterns.Section) []string {
	switch {
	case !(slices.Max(s.Units) > 0):
		return []string{plainFeet(s.Distance), "dry"}
	case finite(s.Ratio.Both):
		return []string{plainFeet(s.Distance), "ratio " + strconv.FormatFloat(s.Ratio.Both, 'g', 3, 64)}
	}
	return []string{plainFeet(s.Distance)}
}

func (p *page) sectionWidth(s patterns.Section) float64 {
	lines := sectionLines(s)
	return max(p.label.width(lines[0]), p.small.widest(lines[1:]))
}

// filmTicks is about how many steps the axis of the film has.
const filmTicks = 4

// filmAxis returns the axis that holds the film of all sections.
func filmAxis(sections []patterns.Section) span {
	axis := span{0, 0}
	for _, s := range sections {
		axis.include(slices.Max(s.Units))
	}
	const least = 1 // units: no film that is thinner is worth a larger scale
	axis.max = max(axis.max, least)
	return axis.rounded(filmTicks)
}

// sectionPanel draws the film against the boards, as the bowler sees them:
// board 1 on the right.
func (p *page) sectionPanel(sections []patterns.Section, axis span, left, right float64) {
	p.text("film across the lane, units", p.small, p.margin, p.y, ink)
	p.y += 1.9 * p.small.size
	m := p.bare(scale{span{0.5, lane.Boards + 0.5}, left, right}, axis, sectionHeight*p.laneHeight)
	area, y := m.area, m.y
	x := scale{m.x.span, right, left}
	m.numbers(filmTicks)
	p.y = area.bottom
	for _, b := range everyArrow {
		m.down(x.at(b), p.grid())
		p.numbersBelow(x, []float64{b}, 0)
	}
	m.axes()

	for i, s := range sections {
		curve := []point{{x.at(0.5), y.at(s.Units[0])}}
		for j, u := range s.Units {
			curve = append(curve, point{x.at(float64(j + 1)), y.at(u)})
		}
		curve = append(curve, point{x.at(lane.Boards + 0.5), y.at(s.Units[lane.Boards-1])})
		p.line(curve, p.shotStroke(i).times(0.8))
	}
	p.sectionLabels(sections, y, area)
	p.y = area.bottom + 5 + p.small.leading()
	words := "board, from the right, as the bowler sees the lane"
	p.text(words, p.small, max(p.margin, min(left, p.width-p.margin-p.small.width(words))), p.y, softInk)
	p.y += p.small.leading()
}

// sectionLabels names the lines at their right ends, with their ratios if there
// is room.
func (p *page) sectionLabels(sections []patterns.Section, y scale, area box) {
	for _, full := range []bool{true, false} {
		var labels []endLabel
		for i, s := range sections {
			e := endLabel{target: y.at(s.Units[0]), leader: p.shotStroke(i).times(0.6)}
			if math.IsNaN(e.target) {
				e.target = area.bottom
			}
			for j, words := range sectionLines(s) {
				if j == 0 {
					e.lines = []textLine{{words, p.label, e.leader.color}}
				} else if full {
					e.lines = append(e.lines, textLine{words, p.small, ink})
				}
			}
			labels = append(labels, e)
		}
		if p.stack(labels, area.right-8, area.top, area.bottom+0.45*p.small.size) {
			return
		}
	}
}
