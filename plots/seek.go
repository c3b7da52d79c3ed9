package plots

import (
	"errors"
	"math"
	"strings"

	"lanesim/report/studied"
	"lanesim/studies/seek"
	"lanesim/units"
)

// DrawSeek draws, for each candidate found, its shots over the oil with the wanted values.
// It is an error if there are no shots.
func DrawSeek(s *studied.Seek, size Size) (*Drawing, error) {
	if len(s.Shots) == 0 {
		return nil, errors.New("plots: nothing that was found could be drawn")
	}
	var views []*view
	for k, shots := range s.Shots {
		setup := s.Found[k].Setup
		var series []Series
		for _, shot := range shots {
			series = append(series, Series{Shot: shot, Hand: setup.Release.Hand})
		}
		v, err := newView(Figure{Title: s.Title, Note: s.Answer(), Lane: setup.Lane, Series: series, Pocket: s.Pocket, Size: size})
		if err != nil {
			return nil, err
		}
		views = append(views, v)
	}
	unite(views)
	p := views[0].page()
	p.heading(views[0])
	const right = 16.0 // for the pocket and the head pin
	p.axisNotes(views[0], p.margin+p.axisLeft, p.columnRight(len(views))-right, p.smallLane)
	p.panels(len(views), math.Inf(1), 0.6*p.body.leading(), func(i int, left, to float64) {
		v := views[i]
		p.paragraph(studied.Place(i), p.label, left, to-left, 1, ink)
		p.paragraph(strings.Join(s.Settings(i), ", "), p.small, left, to-left, 0, softInk)
		p.paragraph(strings.Join(s.Outcome(i), "; "), p.small, left, to-left, 0, ink)
		p.y += 0.4 * p.small.size
		l := p.lanePanel(v, left+p.axisLeft, to-right, p.y, p.smallLane)
		l.ground(threeBoards)
		for _, shot := range v.Series {
			l.line(l.path(shot.Shot), l.shotStroke(0).times(0.5))
		}
		l.drawPins()
		l.wanted(s.Want)
		p.y += p.smallLane
		p.distances(l.x, p.small.leading())
	})
	p.caption("distance from the foul line, ft; each at four phases of the release, which is unknown; dashed: wanted friction read and breakpoint; rings: wanted boards; the bar at the pins marks the pocket")
	p.lastScale(views[0])
	return p.finish(), nil
}

// wanted marks the wanted values of a shot.
func (l *lanePanel) wanted(w seek.Want) {
	dashed := stroke{ink, l.rule, []float64{4, 3}}
	bottom, top := l.y.at(l.v.low), l.y.at(l.v.high)
	down := func(distance float64) {
		x := l.x.at(distance / units.Foot)
		l.line([]point{{x, top}, {x, bottom}}, dashed)
	}
	if !math.IsNaN(w.FrictionRead) {
		down(w.FrictionRead)
	}
	switch board, distance := w.Breakpoint, w.BreakpointDistance; {
	case !math.IsNaN(board) && !math.IsNaN(distance):
		l.wishedAt(point{l.x.at(distance / units.Foot), l.y.at(board)})
	case !math.IsNaN(board):
		l.line([]point{{l.x.from, l.y.at(board)}, {l.x.to, l.y.at(board)}}, dashed)
	case !math.IsNaN(distance):
		down(distance)
	}
	if !math.IsNaN(w.EntryBoard) {
		l.wishedAt(point{l.x.to - l.wishRadius(), l.y.at(w.EntryBoard)}) // clear of the pocket and the head pin
	}
}

func (l *lanePanel) wishRadius() float64 { return 0.7 * l.tick }

// wishedAt draws a ring around a point where the ball should pass.
func (l *lanePanel) wishedAt(at point) {
	round := ring(at, l.wishRadius(), 24)
	l.tickLine(append(round, round[0]))
}
