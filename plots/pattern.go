package plots

import (
	"errors"
	"fmt"
	"image/color"
	"math"
	"strconv"

	"lanesim/lane"
	"lanesim/patterns"
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
		left = max(left, p.margin+p.small.width(decimal(u, decimals))+axisGap)
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
	l.ground([]float64{5, 10, 15, 20, 25, 30, 35})
	top, bottom := l.y.at(lane.Boards+0.5), l.y.at(0.5)
	for i, s := range sections {
		x := l.x.at(s.Distance / units.Foot)
		if x > l.x.to {
			continue
		}
		cut := []point{{x, top}, {x, bottom}}
		style := l.shotStroke(i)
		style.width *= 0.6
		l.line(cut, stroke{color: casing, width: style.width + 2})
		l.line(cut, style)
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
		l.note([]string{plainFeet(s.Distance)}, []lettering{l.label}, []color.NRGBA{l.shotStroke(i).color}, anchors)
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
	case !(most(s.Units) > 0):
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

// most returns the largest of the values, 0 if none is above.
func most(values []float64) float64 {
	largest := 0.0
	for _, v := range values {
		largest = max(largest, v)
	}
	return largest
}

// filmTicks is about how many steps the axis of the film has, axisGap the space
// in points between its numbers and the panel.
const (
	filmTicks = 4
	axisGap   = 6
)

// filmAxis returns the axis that holds the film of all sections.
func filmAxis(sections []patterns.Section) span {
	axis := span{0, 0}
	for _, s := range sections {
		axis.include(most(s.Units))
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
	area := box{left, p.y, right, p.y + sectionHeight*p.laneHeight}
	x := scale{span{0.5, lane.Boards + 0.5}, right, left}
	y := scale{axis, area.bottom, area.top}

	grid, edge := stroke{color: faint, width: p.hairline}, stroke{color: softInk, width: p.rule}
	at, decimals := axis.ticks(filmTicks)
	for _, u := range at {
		s, h := decimal(u, decimals), y.at(u)
		p.line([]point{{left, h}, {right, h}}, grid)
		p.text(s, p.small, left-axisGap-p.small.width(s), h-p.small.height()/2, softInk)
	}
	for b := firstArrow; b <= lastArrow; b += arrowStep {
		s, h := strconv.Itoa(b), x.at(float64(b))
		p.line([]point{{h, area.top}, {h, area.bottom}}, grid)
		p.line([]point{{h, area.bottom}, {h, area.bottom + 4}}, edge)
		p.text(s, p.small, h-p.small.width(s)/2, area.bottom+5, softInk)
	}
	p.line([]point{{left, area.top}, {left, area.bottom}}, edge)
	p.line([]point{{left, area.bottom}, {right, area.bottom}}, edge)

	for i, s := range sections {
		curve := []point{{x.at(0.5), y.at(s.Units[0])}}
		for j, u := range s.Units {
			curve = append(curve, point{x.at(float64(j + 1)), y.at(u)})
		}
		curve = append(curve, point{x.at(lane.Boards + 0.5), y.at(s.Units[lane.Boards-1])})
		style := p.shotStroke(i)
		style.width *= 0.8
		p.line(curve, style)
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
			e := endLabel{target: y.at(s.Units[0]), leader: p.shotStroke(i)}
			e.leader.width *= 0.6
			if math.IsNaN(e.target) {
				e.target = area.bottom
			}
			for j, words := range sectionLines(s) {
				if j > 0 && !full {
					break
				}
				letters, ground := p.label, e.leader.color
				if j > 0 {
					letters, ground = p.small, ink
				}
				e.lines, e.letters, e.colors = append(e.lines, words), append(e.letters, letters), append(e.colors, ground)
			}
			labels = append(labels, e)
		}
		if p.stack(labels, area.right-8, area.top, area.bottom+0.45*p.small.size) {
			return
		}
	}
}
