package plots

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"lanesim/internal/theme"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/studies/aim"
)

// MaxAims is the largest number of maps of lines in a figure.
const MaxAims = MaxSweepPanels

// Measures of the figure.
const (
	aimBarHeight  = 0.62 // of a bar of room, in sizes of type
	aimRoomGap    = 26   // points between the bars of different quantities
	aimDot        = 1.5  // radius of the best line's mark, over a path's width
	roomLineWidth = 1.2  // of the line at no miss, over that of a rule
)

// bestMark is the colour of the best line: vermillion stands out from the ramp in colour;
// in grey the mark's ring and label do.
var bestMark = theme.Vermillion

// DrawAim draws the best lines over the oil, the share of hits over the lines, with contours
// and the best line marked, and below how much the best lines may miss in one thing alone.
//
// It is an error if there is no line or more than [MaxAims], or if a map lacks values.
func DrawAim(a *studied.Aim, size Size) (*Drawing, error) {
	var list []studied.AimedBall
	var f SweepMapFigure
	for i, m := range a.Maps() {
		t := a.List[i]
		if t.None != nil {
			continue
		}
		share, of := m.Good, mapOfGood
		switch t.By {
		case aim.ByPocketShare:
			share, of = m.Pocket, mapOfPocket
		case aim.ByStrikeShare:
			share, of = m.Strikes, mapOfStrikes
		}
		list, f.Maps = append(list, t), append(f.Maps, shareMap(m.Laydown, m.Arrows, share, of))
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	levels, decimals := f.levels("")
	p := titledPage(a.Title, a.Note(), size)
	var failed error
	p.panels(len(list), math.Inf(1), 0.8*p.body.leading(), func(i int, left, right float64) {
		t := list[i]
		p.paragraph(aimName(a, t), p.label, left, right-left, 2, ink)
		failed = errors.Join(failed, p.aimBand(t, left, right))
		p.text(p.small.shorten("upward: board at the arrows", right-left), p.small, left, p.y, softInk)
		p.y += 1.9 * p.small.size
		area := p.mapArea(left+p.axisLeft, right, p.y)
		p.mapIn(f.Maps[i], area, levels, levels[1:], decimals, nil, func(x, y scale, room *placer) { p.aimMarks(t, x, y, room) })
		p.text(p.small.shorten("board at the laydown", area.width()), p.small, area.left, p.y, softInk)
		p.y += 1.6 * p.small.size
		p.mapScale(levels, decimals, area, ramps[f.Maps[i].of])
		p.paragraph(studied.ByWords(t.By)+", %", p.small, area.left, area.width(), 1, softInk)
	})
	if failed != nil {
		return nil, failed
	}
	p.rooms(a, list)
	return p.finish(), nil
}

// playerName returns the part of a player's name that differs from the others, "" if there
// is only one.
func playerName(all []studied.Player, i int) string {
	if len(all) < 2 {
		return ""
	}
	return all[i].Name(all)
}

// aimName returns the player of a map, if there are several.
func aimName(a *studied.Aim, t studied.AimedBall) string {
	switch {
	case len(a.Players) < 2:
		return ""
	case t.By != a.By:
		return t.Name(a.Players) + " (pocket alone)"
	}
	return t.Name(a.Players)
}

// aimBand draws the best line over the oil, with the shots that just still hit the pocket when
// the line is missed at the arrows to either side, and moves the page on.
func (p *page) aimBand(t studied.AimedBall, left, right float64) error {
	hand := t.Setup.Release.Hand
	v, err := newView(Figure{Lane: t.Setup.Lane, Pocket: t.Pocket, Series: []Series{
		{Shot: t.Band.Line, Hand: hand}, {Name: "outside", Shot: t.Band.Outside, Hand: hand}, {Name: "inside", Shot: t.Band.Inside, Hand: hand}}})
	if err != nil {
		return err
	}
	p.paragraph("The best line with its room at the arrows: "+t.LineText(t.Best), p.small, left, right-left, 0, ink)
	p.y += 0.5 * p.small.size
	l := p.lanePanel(v, left+p.axisLeft, right-0.7*p.small.size-12, p.y, 1.25*p.smallLane)
	l.ground(everyArrow)
	outside, inside := l.path(t.Band.Outside), l.path(t.Band.Inside)
	back := slices.Clone(inside)
	slices.Reverse(back)
	l.Drawing.area(slices.Concat(outside, back), theme.Room)
	for _, edge := range [][]point{outside, inside} {
		l.line(edge, stroke{color: bestMark, width: p.rule})
	}
	l.cased(l.path(t.Band.Line), stroke{color: bestMark, width: p.pathWidth}, 1.5)
	l.drawPins()
	p.y = l.area.bottom
	p.distances(l.x, p.small.leading())
	p.paragraph("upward: "+v.boardsLabel()+"; across: distance from the foul line, ft", p.small, left, right-left, 0, softInk)
	p.y += 0.8 * p.small.leading()
	return nil
}

// aimMarks marks the lines: the best with its words, others of its speed and axis rotation with
// numbers from 2 on.
func (p *page) aimMarks(t studied.AimedBall, x, y scale, room *placer) {
	place := func(l aim.Line) point { return point{x.at(l.Release.Laydown), y.at(l.Arrows)} }
	p.bestPlace(place(t.Best), room)
	number := 1
	for _, l := range t.RunnersUp {
		if l.Release.Speed != t.Best.Release.Speed || l.Release.AxisRotation != t.Best.Release.AxisRotation {
			continue
		}
		number++
		half := 0.62 * p.small.size
		if b := around(place(l), half); room.free(b) {
			p.hollow(place(l), half, p.rule, softInk)
			p.centred(fmt.Sprint(number), p.small, place(l), ink)
			room.take(b)
		}
	}
	words := fmt.Sprintf("%s over %s: %s", report.Board.Show(t.Best.Release.Laydown), report.Board.Show(t.Best.Arrows),
		report.Percent(t.Best.Of(t.By).Share(), 0))
	p.bestWords(place(t.Best), words, room)
}

// bestPlace marks a point of a map.
func (p *page) bestPlace(at point, room *placer) {
	radius := aimDot * p.pathWidth
	p.disc(at, radius+2, paper)
	p.disc(at, radius, bestMark)
	room.take(around(at, radius+2))
}

// bestWords labels a marked point, where there is room.
func (p *page) bestWords(at point, words string, room *placer) {
	radius := aimDot * p.pathWidth
	b, anchor, ok := room.place(p.label.width(words), p.label.height(), []point{at})
	if !ok {
		return
	}
	if end := b.leaderEnd(anchor); distance(end, anchor) > radius+4 {
		p.line([]point{anchor, end}, stroke{color: ink, width: p.rule})
		room.take(bounds([]point{anchor, end}))
		p.disc(at, radius, bestMark)
	}
	p.rectangle(b.grown(1), theme.Plate)
	p.text(words, p.label, b.left, b.top, ink)
}

// rooms draws bars to both sides of no miss, a block for each quantity.
func (p *page) rooms(a *studied.Aim, list []studied.AimedBall) {
	p.paragraph("How far the best line may miss in one thing alone and still hit the pocket", p.label, p.margin, p.inner(), 0, ink)
	p.y += 0.3 * p.label.size
	columns := len(studied.AimRooms)
	if p.narrow {
		columns = 1
	}
	p.inColumns(len(studied.AimRooms), columns, aimRoomGap, math.Inf(1), 0.4*p.body.leading(), func(k int, left, right float64) {
		p.room(a, list, k, left, right-left)
	})
}

// room draws the bars of one quantity.
func (p *page) room(a *studied.Aim, list []studied.AimedBall, k int, left, width float64) {
	const unlimited = "any" // labels a miss without limit
	r := studied.AimRooms[k]
	p.paragraph(r.Label, p.small, left, width, 1, ink)
	numbers := p.small.width(unlimited)
	most := 0.0
	for _, t := range list {
		for _, v := range studied.RoomIn(k, t.Room) {
			if finite(v) {
				most = max(most, v)
				numbers = max(numbers, p.small.width(report.Fixed(v, r.Unit.Decimals)))
			}
		}
	}
	if most == 0 {
		most = 1 // no bar has a length
	}
	middle, half := left+width/2, width/2-numbers-8
	for side, words := range r.Sides {
		at := middle + 6
		if side == 0 {
			at = middle - 6 - p.small.width(words)
		}
		p.text(words, p.small, at, p.y, softInk)
	}
	p.y += p.small.leading() + 2
	top := p.y
	for _, t := range list {
		if name := aimName(a, t); name != "" {
			p.text(p.small.shorten(name, width), p.small, left, p.y, softInk)
			p.y += p.small.leading() + 0.3*p.small.size
		}
		height := aimBarHeight * p.small.size
		for side, v := range studied.RoomIn(k, t.Room) {
			direction := float64(2*side - 1)
			text, long := report.Fixed(v, r.Unit.Decimals), half*min(v/most, 1)
			if math.IsNaN(v) {
				text, long = unlimited, half
			}
			end := middle + direction*long
			p.rectangle(box{min(middle, end), p.y, max(middle, end), p.y + height}, oilFull)
			at := end + 4
			if side == 0 {
				at = end - 4 - p.small.width(text)
			}
			p.text(text, p.small, at, p.y+height/2-p.small.height()/2, ink)
		}
		p.y += height + 0.5*p.small.size
		p.line([]point{{middle, p.y - height - 0.55*p.small.size}, {middle, p.y - 0.3*p.small.size}}, stroke{color: ink, width: roomLineWidth * p.rule})
	}
	p.y = max(p.y, top) + 0.3*p.small.size
}
