package plots

import (
	"errors"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies/fit"
	"lanesim/units"
)

// fitFigure says what is to be drawn of a fit to measured tracks.
type fitFigure struct {
	Title string
	Note  string // a sentence under the title

	Lane  lane.Lane
	Shots []trackedFit

	// Scatter of the readings about the fit: it is shaded behind what is left
	// over.
	Scatter fit.Scatter

	// Pocket is the window of boards at the pins that is marked as the
	// pocket; zero means [physics.DefaultPocket].
	Pocket physics.Window

	// Thrown says that nothing was fitted: the lines are shots as they were thrown.
	Thrown bool

	Size Size
}

// trackedFit is a shot with its track.
type trackedFit struct {
	Name   string
	Hand   ball.Hand
	Points []fit.TrackPoint
	Fitted fit.ShotResult
}

// How many shots a figure of a fit shows on lanes, by its size: of more, those
// that fit worst. What is left over is shown of all.
const (
	mostFittedOnSheet = 12
	mostFittedOnPhone = 6
)

// draw draws tracks as points and the fitted shots as lines over the oil: up to
// four shots on one lane, more on a small lane each. Below, it draws measured −
// computed of all shots against distance.
//
// It is an error if there is no shot, or if one has no path or not one residual
// for each point.
func (f fitFigure) draw() (*Drawing, error) {
	if len(f.Shots) == 0 {
		return nil, errors.New("plots: no fitted shot to draw")
	}
	for _, s := range f.Shots {
		if len(s.Points) != len(s.Fitted.Residuals) {
			return nil, fmt.Errorf("plots: shot %s has %d points and %d residuals", s.Name, len(s.Points), len(s.Fitted.Residuals))
		}
	}
	shown := f.shown()
	note := f.Note
	if len(shown) < len(f.Shots) {
		note += fmt.Sprintf(" On lanes: the %d of %d shots that fit worst.", len(shown), len(f.Shots))
	}
	figure := Figure{Title: f.Title, Note: note, Lane: f.Lane, Pocket: f.Pocket, Size: f.Size}
	for _, s := range shown {
		figure.Series = append(figure.Series, Series{Name: s.Name, Shot: s.Fitted.Shot, Hand: s.Hand})
	}
	v, err := newView(figure)
	if err != nil {
		return nil, err
	}
	p := v.page()
	p.heading(v)
	if len(shown) <= maxOverlay {
		p.fitLane(v, shown)
	} else {
		p.fitLanes(v, shown, f.Thrown)
	}
	p.y += 0.8 * p.body.leading()
	p.leftOver(v, f)
	return p.finish(), nil
}

// shown lists the shots that get a lane, in their order.
func (f fitFigure) shown() []trackedFit {
	most := mostFittedOnSheet
	if f.Size == Phone {
		most = mostFittedOnPhone
	}
	if len(f.Shots) <= most {
		return f.Shots
	}
	off := make([]float64, len(f.Shots))
	for i, s := range f.Shots {
		off[i] = s.Fitted.RMS.Boards
	}
	ordered := slices.Clone(off)
	slices.Sort(ordered)
	least := ordered[len(ordered)-most]
	var list []trackedFit
	for i, s := range f.Shots {
		if off[i] >= least && len(list) < most {
			list = append(list, s)
		}
	}
	return list
}

// trackDot is the radius of a measured point over the width of a path.
const trackDot = 0.85

// tracked draws a track's points, stray ones as crosses.
func (l *lanePanel) tracked(s trackedFit, fill color.NRGBA) {
	for k, q := range s.Points {
		y := lane.Lateral(q.Board)
		if s.Hand == ball.Left {
			y = -y
		}
		at := l.point(q.Distance, y)
		r := trackDot * l.pathWidth
		if s.Fitted.Residuals[k].Outlier {
			l.cross(at)
			continue
		}
		l.disc(at, r+0.8*l.rule, paper)
		l.disc(at, r, fill)
		l.room.take(around(at, r))
	}
}

// fitLane draws few shots on one lane.
func (p *page) fitLane(v *view, shots []trackedFit) {
	left, right := p.plotSides(v)
	p.axisNotes(v, left, right, p.laneHeight)
	l := p.lanePanel(v, left, right, p.y, p.laneHeight)
	l.ground(everyArrow)
	marks := l.paths(v.Series)
	for i, s := range shots {
		fill := ink
		if len(shots) > 1 {
			fill = l.shotStroke(i).color
		}
		l.tracked(s, fill)
	}
	l.drawPins()
	ends := l.earlyEnds()
	for _, c := range clusters(marks, 5*l.small.size) {
		l.noteCluster(c, false)
	}
	l.noteOilEnd()
	l.endLabels(ends)
	p.y += p.laneHeight
	p.lowerAxis(v, l.x)
}

// fitLanes draws a small lane for each shot, all to the same scales.
func (p *page) fitLanes(v *view, shots []trackedFit, thrown bool) {
	const gap, right = 14, 12.0
	columns := p.laneColumns
	column := (p.width - 2*p.margin - gap*float64(columns-1)) / float64(columns)
	p.axisNotes(v, p.axisLeft, column-right, p.smallLane)
	for i := 0; i < len(shots); i += columns {
		row := shots[i:min(i+columns, len(shots))]
		for j, s := range row {
			left := p.margin + float64(j)*(column+gap)
			said := decimal(s.Fitted.RMS.Boards, 2) + " boards off"
			w := p.small.width(said)
			p.text(p.label.shorten(s.Name, column-w-p.small.size), p.label, left, p.y, ink)
			p.text(said, p.small, left+column-w, p.y, softInk)
		}
		p.y += 1.4 * p.small.size
		for j, s := range row {
			left := p.margin + float64(j)*(column+gap)
			l := p.lanePanel(v, left+p.axisLeft, left+column-right, p.y, p.smallLane)
			l.ground(threeBoards)
			l.cased(l.path(s.Fitted.Shot), l.shotStroke(0), 2)
			l.tracked(s, ink)
			l.drawPins()
			at := p.y
			p.y += p.smallLane
			p.distances(l.x, 1.6*p.small.size)
			if j < len(row)-1 {
				p.y = at
			}
		}
	}
	line := "fitted"
	if thrown {
		line = "thrown"
	}
	words := "distance from the foul line, ft; points: measured; line: " + line + "; boards off: root mean square of the points about it; at the pins the bar marks the pocket, the ring the head pin"
	p.caption(words)
	p.oilScale(v, p.margin, p.y)
	p.y += p.small.leading()
}

// binFeet is the length of the stretches in ft over which what is left over is
// averaged, and leastInBin how many readings a mean takes.
const (
	binFeet    = 5.0
	leastInBin = 4
)

// leftOver draws measured − computed against distance, a panel for each kind of
// reading.
func (p *page) leftOver(v *view, f fitFigure) {
	x := scale{span{0, v.end}, p.margin + p.axisLeft, p.width - p.margin - 0.6*p.small.width("00")}
	words := "shaded: one standard deviation; bars: means over 5 ft, which stay near 0 if the model fits; cross: stray"
	if len(v.Series) <= maxOverlay {
		x.from, x.to = p.plotSides(v) // below the lane
		words = "points: measured; lines: fitted; " + words
	}
	if f.Thrown {
		words = strings.NewReplacer("lines: fitted", "lines: thrown", ", which stay near 0 if the model fits; cross: stray", "").Replace(words)
	}
	drawn := 0
	for _, kind := range []struct {
		label   string
		scatter float64
		of      func(fit.TrackResidual) float64
		unit    float64
	}{
		{"boards, measured − computed (upward is inside)", f.Scatter.Boards, func(r fit.TrackResidual) float64 { return r.Board }, 1},
		{"mph, measured − computed", f.Scatter.Speed, func(r fit.TrackResidual) float64 { return r.Speed }, units.MPH},
		{"seconds, measured − computed", f.Scatter.Time, func(r fit.TrackResidual) float64 { return r.Time }, 1},
	} {
		var all []residual
		for _, s := range f.Shots {
			for k, q := range s.Points {
				if value := kind.of(s.Fitted.Residuals[k]) / kind.unit; finite(value) {
					all = append(all, residual{q.Distance / units.Foot, value, s.Fitted.Residuals[k].Outlier})
				}
			}
		}
		if all == nil {
			continue
		}
		if drawn++; drawn > 1 {
			p.y += 0.7 * p.small.size
		}
		p.residuals(kind.label, all, kind.scatter/kind.unit, v, x)
	}
	p.distances(x, p.small.leading())
	p.caption("distance from the foul line, ft; " + words)
}

// residual is what is left over at a distance in ft.
type residual struct {
	x, y  float64
	stray bool
}

// residualTicks is about how many numbers stand beside a panel.
const residualTicks = 4

// residuals draws a panel and moves the page on.
func (p *page) residuals(label string, all []residual, scatter float64, v *view, x scale) {
	axis := emptySpan()
	for _, r := range all {
		axis.include(r.y)
		axis.include(-r.y)
	}
	axis.include(scatter)
	axis.include(-scatter)
	m := p.panel(label, x, axis.rounded(residualTicks), 1.6*p.panelHeight)
	area, y := m.area, m.y
	m.shade(-scatter, scatter)
	m.numbers(residualTicks)
	m.oilEnds(v, 0)
	m.axes()
	m.across(y.at(0), p.edge())
	dots := p.shotStroke(0)
	type bin struct {
		sum, n float64
	}
	bins := map[int]bin{}
	for _, r := range all {
		q := point{x.at(r.x), y.at(r.y)}
		if r.stray {
			p.cross(q, 0.5*p.tick, stroke{color: ink, width: 1.5 * p.rule})
		} else {
			p.disc(q, 0.5*p.pathWidth, dots.color)
		}
		k := int(math.Floor(r.x/binFeet + 0.5))
		b := bins[k]
		bins[k] = bin{b.sum + r.y, b.n + 1}
	}
	for k := 0; float64(k)*binFeet <= v.end+binFeet; k++ {
		b := bins[k]
		if b.n < leastInBin {
			continue
		}
		h := y.at(b.sum / b.n)
		from, to := max(x.at((float64(k)-0.4)*binFeet), area.left), min(x.at((float64(k)+0.4)*binFeet), area.right)
		p.line([]point{{from, h}, {to, h}}, stroke{color: paper, width: 4 * p.rule})
		p.line([]point{{from, h}, {to, h}}, stroke{color: ink, width: 2.2 * p.rule})
	}
	p.y += area.height()
}
