package plots

import (
	"cmp"
	"errors"
	"fmt"
	"image/color"
	"math"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/report/measured"
	"lanesim/studies/fit"
	"lanesim/units"
)

// trackedFit is a shot with its track.
type trackedFit struct {
	Series
	points []fit.TrackPoint
	fit.ShotResult
}

// The largest number of shots that a figure of a fit shows on lanes, by its size: of more,
// those that fit worst. Residuals are shown for all.
const (
	mostFittedOnSheet = 12
	mostFittedOnPhone = 6
)

// DrawFit draws the measured tracks, the fitted shots and the residuals. It is an error if
// there is no shot.
func DrawFit(r *measured.Fit, size Size) (*Drawing, error) {
	var list []trackedFit
	for i, s := range r.Result.Shots {
		t := r.Study.Shots[i].Track
		name := "Shot " + t.Shot
		if len(r.Bowlers) > 1 {
			name += ", " + r.Bowlers[t.Bowler]
		}
		if len(r.Balls) > 1 {
			name += ", " + r.Balls[t.Ball]
		}
		list = append(list, trackedFit{Series{Name: name, Shot: s.Shot, Hand: s.Release.Hand}, t.Points, s})
	}
	f := Figure{Title: r.Title, Note: r.Note(), Lane: r.Study.Lane, Pocket: r.Study.Settings.Pocket, Size: size}
	return drawTracked(f, list, r.Result.Scatter, "fitted")
}

// DrawTracks draws tracks as points over the shots, and the differences, over the lane of a
// figure. bowlers and balls say whether labels name them.
func DrawTracks(over Figure, tracks []measured.Track, bowlers, balls bool) (*Drawing, error) {
	var list []trackedFit
	var all []fit.TrackResidual
	for _, t := range tracks {
		name := "Track " + t.Over.Track.Shot
		if bowlers {
			name += ", " + t.Bowler
		}
		if balls {
			name += ", " + t.Ball
		}
		all = append(all, t.Over.Residuals...)
		list = append(list, trackedFit{Series{Name: name, Shot: t.Over.Shot, Hand: t.Hand}, t.Over.Points,
			fit.ShotResult{Residuals: t.Over.Residuals, RMS: fit.Scatter{Boards: t.Over.BoardsOff()}}})
	}
	bias, scatter := fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Board })
	over.Series, over.Note = nil, measured.TracksNote(bias, scatter)
	about := fit.Scatter{Boards: scatter}
	_, about.Speed = fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Speed })
	_, about.Time = fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Time })
	return drawTracked(over, list, about, "thrown")
}

// drawTracked draws tracks as points and their shots, fitted or thrown, as lines over the
// oil: up to four shots on one lane, more on a small lane each. Below, it draws measured −
// computed of all shots against distance, with the scatter shaded.
//
// It is an error if there is no shot, or if one has no path or not one residual
// for each point.
func drawTracked(f Figure, list []trackedFit, scatter fit.Scatter, lines string) (*Drawing, error) {
	if len(list) == 0 {
		return nil, errors.New("plots: no fitted shot to draw")
	}
	for _, s := range list {
		if len(s.points) != len(s.Residuals) {
			return nil, fmt.Errorf("plots: shot %s has %d points and %d residuals", s.Name, len(s.points), len(s.Residuals))
		}
	}
	shown := worstTracked(list, f.Size)
	if len(shown) < len(list) {
		f.Note += fmt.Sprintf(" On lanes: the %d of %d shots that fit worst.", len(shown), len(list))
	}
	for _, s := range shown {
		f.Series = append(f.Series, s.Series)
	}
	v, err := newView(f)
	if err != nil {
		return nil, err
	}
	p := v.page()
	p.heading(v)
	if len(shown) <= maxOverlay {
		p.oneLane(v, false, func(l *lanePanel) {
			for i, s := range shown {
				fill := ink
				if len(shown) > 1 {
					fill = l.shotStroke(i).color
				}
				l.tracked(s, fill)
			}
		})
	} else {
		said := func(i int) string { return report.Fixed(shown[i].RMS.Boards, 2) + " boards off" }
		p.smallLanes(v, said, "; points: measured; line: "+lines+"; boards off: root mean square of the points' distances from it", func(l *lanePanel, i int) {
			l.cased(l.path(shown[i].Series.Shot), l.shotStroke(0), 2)
			l.tracked(shown[i], ink)
			l.drawPins()
		})
	}
	p.y += 0.8 * p.body.leading()
	p.leftOver(v, list, scatter, lines)
	return p.finish(), nil
}

// worstTracked lists the shots that get a lane, in their order.
func worstTracked(all []trackedFit, size Size) []trackedFit {
	most := mostFittedOnSheet
	if size == Phone {
		most = mostFittedOnPhone
	}
	if len(all) <= most {
		return all
	}
	ordered := slices.SortedFunc(slices.Values(all), func(a, b trackedFit) int { return cmp.Compare(a.RMS.Boards, b.RMS.Boards) })
	least := ordered[len(ordered)-most].RMS.Boards
	var list []trackedFit
	for _, s := range all {
		if s.RMS.Boards >= least && len(list) < most {
			list = append(list, s)
		}
	}
	return list
}

// trackDot is the radius of a measured point over the width of a path.
const trackDot = 0.85

// tracked draws a track's points, outliers as crosses.
func (l *lanePanel) tracked(s trackedFit, fill color.NRGBA) {
	for k, q := range s.points {
		y := lane.Lateral(q.Board)
		if s.Hand == ball.Left {
			y = -y
		}
		at := l.point(q.Distance, y)
		r := trackDot * l.pathWidth
		if s.Residuals[k].Outlier {
			l.cross(at)
			continue
		}
		l.disc(at, r+0.8*l.rule, paper)
		l.disc(at, r, fill)
		l.room.take(around(at, r))
	}
}

// binFeet is the length in ft over which residuals are averaged, and leastInBin the least
// number of readings in a mean.
const (
	binFeet    = 5.0
	leastInBin = 4
)

// leftOver draws measured − computed against distance, a panel for each kind of
// reading.
func (p *page) leftOver(v *view, shots []trackedFit, scatter fit.Scatter, lines string) {
	x := scale{span{0, v.end}, p.margin + p.axisLeft, p.width - p.margin - 0.6*p.small.width("00")}
	words := "shaded: one standard deviation; bars: means over 5 ft"
	if lines == "fitted" {
		words += ", which stay near 0 if the model fits; cross: outlier"
	}
	if len(v.Series) <= maxOverlay {
		x.from, x.to = p.plotSides(v) // below the lane
		words = "points: measured; lines: " + lines + "; " + words
	}
	drawn := 0
	for _, kind := range []struct {
		label   string
		scatter float64
		of      func(fit.TrackResidual) float64
		unit    float64
	}{
		{"boards, measured − computed (upward is inside)", scatter.Boards, func(r fit.TrackResidual) float64 { return r.Board }, 1},
		{"mph, measured − computed", scatter.Speed, func(r fit.TrackResidual) float64 { return r.Speed }, units.MPH},
		{"seconds, measured − computed", scatter.Time, func(r fit.TrackResidual) float64 { return r.Time }, 1},
	} {
		var all []residual
		for _, s := range shots {
			for k, q := range s.points {
				if value := kind.of(s.Residuals[k]) / kind.unit; finite(value) {
					all = append(all, residual{q.Distance / units.Foot, value, s.Residuals[k].Outlier})
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

// residual is a residual at a distance in ft.
type residual struct {
	x, y    float64
	outlier bool
}

// residualTicks is about the number of ticks beside a panel.
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
		if r.outlier {
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
