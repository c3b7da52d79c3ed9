package plots

import (
	"errors"
	"fmt"
	"image/color"
	"math"
	"strings"

	"lanesim/internal/theme"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/report/thrown"
	"lanesim/units"
)

// MaxWornLines is the largest number of bowlers' lines in a figure of wear.
const MaxWornLines = maxOverlay

// wornLine is a line thrown on the lane at different times.
type wornLine struct {
	*view
	name  string
	graph graph // of the end of the lane
}

// DrawWear draws the oil before, after and the difference, the last 20 ft of the lines
// enlarged, and the pocket shares against the deliveries of the session.
//
// It is an error if there is no oil, if there are no deliveries, or if a line has no shots, more than four
// or one without path.
func DrawWear(w *studied.Wear, size Size) (*Drawing, error) {
	l := w.Study.Lane
	if thickest(l.Oil) == 0 || w.Result.After == nil {
		return nil, errors.New("plots: no worn oil to draw")
	}
	used := w.Used()
	if len(used) == 0 {
		return nil, errors.New("plots: no deliveries on the worn lane to draw")
	}
	f := Figure{Title: w.Title, Note: w.Note(), Lane: l, Pocket: thrown.Pocket(w.Study.Settings, w.Players[0].Setup.Release), Size: size}
	var lines []wornLine
	for i, shots := range w.Lines {
		if n := len(shots); n == 0 || n > maxOverlay {
			return nil, fmt.Errorf("plots: %d shots of a line: it takes 1 to %d", n, maxOverlay)
		}
		one := f
		for j, shot := range shots {
			one.Series = append(one.Series, Series{Name: fmt.Sprintf("before shot %d", w.Study.Marks[j]+1-w.Study.Practice), Shot: shot, Hand: w.Players[i].Setup.Release.Hand})
		}
		v, err := newView(one)
		if err != nil {
			return nil, err
		}
		lines = append(lines, wornLine{v, w.Players[i].Name(w.Players), v.enlarged()})
	}
	before, err := newView(f)
	if err != nil {
		return nil, err
	}
	var all []Series
	for _, i := range used {
		all = append(all, Series{Hand: w.Players[i].Setup.Release.Hand})
	}
	before.side = sideOf(all)
	worn := *before
	worn.Lane.Oil = w.Result.After
	before.fullScale = max(before.oilFullScale(), worn.oilFullScale())
	worn.fullScale = before.fullScale
	p := before.page()
	p.heading(before)
	p.wornLanes(before, &worn)
	p.y += 0.8 * p.small.size
	p.wornEnds(lines)
	p.wornShares(w, used[:min(len(used), MaxSweepCurves)])
	return p.finish(), nil
}

// wornLanes draws the oil before and after, and what was taken and laid down.
func (p *page) wornLanes(before, after *view) {
	change := newOilChange(before.Lane.Oil, after.Lane.Oil)
	oil := func(l *lanePanel) { l.ground(threeBoards) }
	panels := []struct {
		name string
		view *view
		draw func(l *lanePanel)
	}{
		{"oil before", before, oil}, {"oil after", after, oil},
		{"taken and laid down", after, func(l *lanePanel) { l.changeGround(change, threeBoards) }},
	}
	const right = 12.0 // for the last distance
	p.axisNotes(before, p.margin+p.axisLeft, p.columnRight(len(panels))-right, p.smallLane)
	p.panels(len(panels), math.Inf(1), 0, func(i int, left, to float64) {
		p.text(p.label.shorten(panels[i].name, to-left), p.label, left, p.y, ink)
		p.y += 1.4 * p.small.size
		l := p.lanePanel(panels[i].view, left+p.axisLeft, to-right, p.y, p.smallLane)
		panels[i].draw(l)
		p.y += p.smallLane
		p.distances(l.x, 1.6*p.small.size)
	})
	p.closing(p.margin, 0)
	p.colorScale(before.oilScale(), p.margin)
	left := p.margin + p.scaleWidth(before.oilScale()) + 2*p.small.size
	if left+p.scaleWidth(change.scale()) > p.width-p.margin {
		left = p.margin
		p.y += p.small.leading()
	}
	p.colorScale(change.scale(), left)
	p.y += p.small.leading()
}

// wornEnds draws the last feet of the lines at different times, all to one scale.
func (p *page) wornEnds(ends []wornLine) {
	if len(ends) == 0 {
		return
	}
	axis := emptySpan()
	for _, e := range ends {
		axis.join(e.graph.axis)
	}
	axis = span{math.Floor(axis.min), math.Ceil(axis.max)}
	p.legend(allNamed(ends[0].Series))
	p.panels(len(ends), math.Inf(1), 0.4*p.small.size, func(i int, left, right float64) {
		e := ends[i]
		p.text(p.label.shorten(e.name, right-left), p.label, left, p.y, ink)
		p.y += 1.4 * p.small.size
		x := scale{span{0, e.end}, left + p.axisLeft, right - 12}
		e.graph.axis = axis
		e.graph.label = p.small.shorten(strings.Replace(e.graph.label, " enlarged, board", ", "+e.boardsLabel(), 1), right-x.from)
		p.endGraph(e.graph, e.view, x, nil)
	})
	p.caption("lines: shots without misses on the oil at that time; across: distance from the foul line, ft")
	p.y += 0.8 * p.small.size
}

// wornShares draws the shares of players against the deliveries.
func (p *page) wornShares(w *studied.Wear, players []int) {
	x := span{}
	panel := SweepPanel{Label: "pocket share of a block, %"}
	for _, i := range players {
		c := SweepCurve{Name: w.Players[i].Name(w.Players)}
		if len(players) == 1 {
			c.Name = ""
		}
		for _, b := range w.Result.Blocks {
			if b.Setup == i {
				c.X, c.Y = append(c.X, float64(b.To+1)), append(c.Y, 100*b.Pocket.Share())
				x.include(float64(b.To + 1))
			}
		}
		panel.Curves = append(panel.Curves, c)
	}
	p.sweepPanels(SweepFigure{X: "deliveries of the session", Panels: []SweepPanel{panel}}, x)
}

// oilChange is the difference of two films.
type oilChange struct {
	before, after *lane.OilMap
	full          float64 // units at the ends of the scale
}

// laidSharing is the scale of oil taken over that of oil laid down, which is far less.
const laidSharing = 10.0

func newOilChange(before, after *lane.OilMap) *oilChange {
	c := &oilChange{before: before, after: after}
	most := 0.0
	for i, x := range after.Distances {
		for j := range after.Columns {
			y := after.Right + float64(j)*after.Spacing
			change := (after.Film[i*after.Columns+j] - before.Thickness(x, y)) / units.OilUnit
			most = max(most, -change, laidSharing*change)
		}
	}
	c.full = 1
	if most > 0 {
		c.full = span{0, most}.rounded(8).max
	}
	return c
}

// color of a change in units.
func (c *oilChange) color(change float64) color.NRGBA {
	end, t := oilFull, -change/c.full
	if change > 0 {
		end, t = theme.LaidDown, laidSharing*change/c.full
	}
	// The square root makes small changes visible.
	return theme.Blend(paper, end, math.Sqrt(t))
}

// changeGround draws the lane with the change of the oil.
func (l *lanePanel) changeGround(c *oilChange, boards []float64) {
	bare := *l.v
	bare.Lane.Oil = nil
	whole := l.v
	l.v = &bare
	l.ground(boards)
	l.v = whole
	bottom, top := l.y.at(0.5), l.y.at(lane.Boards+0.5)
	to := min(c.after.Length(), l.v.end*units.Foot)
	area := box{l.area.left, top, l.x.at(to / units.Foot), bottom}
	l.elements = append(l.elements, imageElement{area, l.v.paint(to, func(x, y float64) color.NRGBA {
		return c.color((c.after.Thickness(x, y) - c.before.Thickness(x, y)) / units.OilUnit)
	})})
	l.frame(area, stroke{color: softInk, width: l.rule})
	if end := c.before.Length() / units.Foot; end < l.v.end {
		l.line([]point{{l.x.at(end), top}, {l.x.at(end), bottom}}, stroke{softInk, l.hairline, []float64{2, 2}})
	}
}

// scale is the ramp of the change.
func (c *oilChange) scale() colorScale {
	_, decimals := span{0, c.full}.ticks(2)
	return colorScale{"taken " + report.Fixed(c.full, decimals), "laid down " + report.Fixed(c.full/laidSharing, decimals+1) + " units", func(t float64) color.NRGBA {
		if t = 2*t - 1; t > 0 {
			t /= laidSharing
		}
		return c.color(t * c.full)
	}}
}
