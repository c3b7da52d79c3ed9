package plots

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/units"
)

// lanes draws the lane or, beyond four shots, a lane for each.
func (p *page) lanes(v *view) {
	if len(v.Series) <= maxOverlay {
		l := p.oneLane(v, len(v.Series) == 1, func(*lanePanel) {})
		p.stage = l.stage()
		return
	}
	said := func(i int) string { return v.endLine(v.Series[i]) }
	p.smallLanes(v, said, "", func(l *lanePanel, i int) {
		s := v.Series[i]
		marks := l.paths(v.Series[i : i+1])
		l.drawPins()
		l.crossEnd(s)
		for _, c := range clusters(marks, 1) {
			l.noteCluster(c, false)
		}
	})
}

// oneLane draws the shots on one lane, with what else is over them, and moments with their
// distances if asked.
func (p *page) oneLane(v *view, withDistances bool, over func(l *lanePanel)) *lanePanel {
	left, right := p.plotSides(v)
	p.axisNotes(v, left, right, p.laneHeight)
	l := p.lanePanel(v, left, right, p.y, p.laneHeight)
	l.ground(everyArrow)
	marks := l.paths(v.Series)
	over(l)
	l.drawPins()
	ends := l.earlyEnds()
	for _, c := range clusters(marks, 5*l.small.size) {
		l.noteCluster(c, withDistances)
	}
	l.noteOilEnd()
	l.endLabels(ends)
	p.y += p.laneHeight
	p.lowerAxis(v, l.x)
	return l
}

// smallLanes draws a small lane for each shot, all to the same scales, with what is said of
// it beside its name, and explains them below.
func (p *page) smallLanes(v *view, said func(i int) string, explained string, draw func(l *lanePanel, i int)) {
	const gap, right = 14, 12.0 // right: for the pocket and the head pin
	columns := p.laneColumns
	column := (p.inner() - gap*float64(columns-1)) / float64(columns)
	p.axisNotes(v, p.axisLeft, column-right, p.smallLane)
	for first := 0; first < len(v.Series); first += columns {
		row := min(columns, len(v.Series)-first)
		for j := range row {
			i, left := first+j, p.margin+float64(j)*(column+gap)
			w := p.small.width(said(i))
			p.text(p.label.shorten(named(v.Series, i), column-w-p.small.size), p.label, left, p.y, ink)
			p.text(said(i), p.small, left+column-w, p.y, softInk)
		}
		p.y += 1.4 * p.small.size
		top := p.y
		for j := range row {
			left := p.margin + float64(j)*(column+gap)
			p.y = top
			l := p.lanePanel(v, left+p.axisLeft, left+column-right, top, p.smallLane)
			l.ground(threeBoards)
			draw(l, first+j)
			p.y += p.smallLane
			p.distances(l.x, 1.6*p.small.size)
		}
	}
	p.caption("distance from the foul line, ft" + explained + "; at the pins the bar marks the pocket, the ring the head pin")
	p.lastScale(v)
}

// crossEnd marks where a shot ended, if that is before the pins.
func (l *lanePanel) crossEnd(s Series) {
	last := s.Shot.Path[len(s.Shot.Path)-1]
	if at := l.point(last.Distance, last.Lateral); l.x.to-at.x > l.small.size {
		l.cross(at)
	}
}

// plotSides returns the left and right side of plots that run over the page.
func (p *page) plotSides(v *view) (left, right float64) {
	need := p.small.width("head pin")
	for i, s := range v.Series {
		if len(v.Series) > 1 {
			need = max(need, p.label.widest(p.label.wrap(named(v.Series, i), p.labelsRight-leaderLength, 2)))
			need = max(need, p.label.width(named(v.Series, i))+p.small.width(widestValue))
		}
		if len(v.Series) > 1 && !p.narrow {
			need = max(need, p.small.width(v.endLine(s)))
		} else {
			need = max(need, p.small.widest(v.endNumbers(s)))
		}
	}
	return p.margin + p.axisLeft, p.width - p.margin - min(need+leaderLength, p.labelsRight)
}

// leaderLength is the width in points between a plot and the labels on its right.
const leaderLength = 30

// axisNotes writes the row above a lane: the meaning of the upward axis, and how far the
// lateral scale is stretched.
func (p *page) axisNotes(v *view, left, right, height float64) {
	p.axisNotesSaying(v.boardsLabel(), v, left, right, height)
}

func (p *page) axisNotesSaying(words string, v *view, left, right, height float64) {
	b := p.text(words, p.small, p.margin, p.y, softInk)
	probe := p.lanePanel(v, left, right, 0, height)
	note := fmt.Sprintf("sideways scale stretched ×%s", report.Fixed(probe.stretch(), 1))
	at := p.width - p.margin - p.small.width(note)
	if at < b.right+2*p.small.size {
		p.y += p.small.leading()
		at = p.margin
	}
	p.text(note, p.small, at, p.y, softInk)
	p.y += 1.45 * p.small.size
}

// lowerAxis writes distances and the scale of the oil below a lane.
func (p *page) lowerAxis(v *view, x scale) {
	p.distances(x, p.small.leading())
	b := p.text("distance from the foul line, ft", p.small, x.from, p.y, softInk)
	left := p.width - p.margin - p.scaleWidth(v.oilScale())
	if left < b.right+p.small.size {
		p.y += p.small.leading()
		left = x.from
	}
	p.colorScale(v.oilScale(), left)
	p.y += p.small.leading()
}

// earlyEnds labels shots that end before the right edge, at their ends. It
// returns the others, by index.
func (l *lanePanel) earlyEnds() []int {
	var reach []int
	for i, s := range l.v.Series {
		last := s.Shot.Path[len(s.Shot.Path)-1]
		at := l.point(last.Distance, last.Lateral)
		if !finite(at.x) || !finite(at.y) || l.x.to-at.x < l.small.size {
			reach = append(reach, i)
			continue
		}
		l.cross(at)
		lines := []textLine{{l.v.endLine(s), l.small, ink}}
		if len(l.v.Series) > 1 {
			lines = append([]textLine{{l.label.shorten(named(l.v.Series, i), l.labelsRight), l.label, l.shotStroke(i).color}}, lines...)
		}
		if !l.note(lines, []point{at}) {
			reach = append(reach, i)
		}
	}
	return reach
}

// cross marks where a shot ended before the pins.
func (l *lanePanel) cross(at point) {
	r := 0.75 * l.tick
	for _, s := range []stroke{{color: casing, width: 4 * l.rule}, {color: ink, width: 2 * l.rule}} {
		l.Drawing.cross(at, r, s)
	}
	l.room.take(around(at, r+l.rule))
}

// endNumbers are the numbers at a shot's end, a line each.
func (v *view) endNumbers(s Series) []string {
	if e := s.Shot.Events.Pins; e != nil {
		return []string{"board " + report.Board.Show(v.board(e.Lateral)), "angle " + report.Degree.Show(e.Heading) + "°"}
	}
	last := s.Shot.Path[len(s.Shot.Path)-1]
	word := string(s.Shot.Status)
	if word == "" {
		word = "ends"
	}
	return []string{word, "at " + feet(last.Distance)}
}

// endLine is endNumbers in one line.
func (v *view) endLine(s Series) string {
	n := v.endNumbers(s)
	if s.Shot.Events.Pins == nil {
		return n[0] + " " + n[1]
	}
	return n[0] + ", " + strings.TrimPrefix(n[1], "angle ")
}

// noteCluster writes the word of a cluster near one of its marks.
func (l *lanePanel) noteCluster(c cluster, withDistance bool) {
	var anchors, others []point
	for _, m := range c.marks {
		anchors = append(anchors, m.ends[:]...)
	}
	for _, m := range l.marks {
		if m.word != c.word {
			others = append(others, m.ends[:]...)
		}
	}
	l.note([]textLine{{c.label(withDistance), l.small, ink}}, anchors, others...)
}

// noteOilEnd writes where the oil ends beside the line that shows it.
func (l *lanePanel) noteOilEnd() {
	o := l.v.Lane.Oil
	if thickest(o) == 0 || o.Length() >= l.v.end*units.Foot {
		return
	}
	x := l.x.at(o.Length() / units.Foot)
	var anchors []point
	for _, b := range []float64{37, 3, 30, 10, 20} {
		anchors = append(anchors, point{x, l.y.at(b)})
	}
	l.note([]textLine{{"oil ends " + feet(o.Length()), l.small, softInk}}, anchors)
}

// textLine is a line of text in its type and colour.
type textLine struct {
	text string
	lettering
	color color.NRGBA
}

// endLabel is a label on the right of a plot.
type endLabel struct {
	target float64 // preferred height
	leader stroke
	lines  []textLine
}

func (e endLabel) height() float64 { return 0.15*e.lines[0].size + textHeight(e.lines) }

// textHeight is the height of lines below each other.
func textHeight(lines []textLine) float64 {
	h := 0.0
	for _, l := range lines {
		h += l.leading()
	}
	return h
}

// write puts lines of text below each other.
func (d *Drawing) write(lines []textLine, left, top float64) {
	for _, l := range lines {
		d.text(l.text, l.lettering, left, top, l.color)
		top += l.leading()
	}
}

// endLabels labels shots at the pins, and the pins themselves.
func (l *lanePanel) endLabels(shots []int) {
	for _, lines := range []int{2, 1} {
		if l.stack(l.endLabelList(shots, lines), l.area.right, l.area.top, l.area.bottom+l.small.leading()) {
			return
		}
	}
}

// endLabelList lists the labels, with names of at most the given number of lines.
func (l *lanePanel) endLabelList(shots []int, lines int) []endLabel {
	v := l.v
	var all []endLabel
	thin := stroke{color: faintMark, width: l.hairline}
	if v.pins {
		for _, m := range v.pinMarks() {
			all = append(all, endLabel{l.y.at(m.board), thin, []textLine{{m.word, l.small, softInk}}})
		}
	}
	for _, i := range shots {
		s := v.Series[i]
		last := s.Shot.Path[len(s.Shot.Path)-1]
		e := endLabel{target: l.y.at(v.board(last.Lateral)), leader: l.shotStroke(i).times(0.6)}
		if !finite(e.target) {
			e.target = l.area.bottom
		}
		numbers := v.endNumbers(s)
		if len(v.Series) > 1 {
			for _, s := range l.label.wrap(named(v.Series, i), l.width-l.margin-l.area.right-leaderLength, lines) {
				e.lines = append(e.lines, textLine{s, l.label, l.shotStroke(i).color})
			}
			if !l.narrow {
				numbers = []string{v.endLine(s)}
			}
		}
		for _, n := range numbers {
			e.lines = append(e.lines, textLine{n, l.small, ink})
		}
		all = append(all, e)
	}
	return all
}

// pinMark is a mark at a board at the pins.
type pinMark struct {
	word  string
	board float64
	width float64 // boards; 0 for the head pin
}

func (v *view) pinMarks() []pinMark {
	const headPin = (lane.Boards + 1) / 2
	marks := []pinMark{{"head pin", headPin, 0}}
	middle, width := (v.Pocket.Min+v.Pocket.Max)/2, v.Pocket.Max-v.Pocket.Min
	if v.side != rightForMixed {
		return append(marks, pinMark{"pocket", middle, width})
	}
	return append(marks, pinMark{"pocket (" + ball.Right.String() + ")", middle, width},
		pinMark{"pocket (" + ball.Left.String() + ")", lane.Boards + 1 - middle, width})
}

// drawPins marks the pocket and the head pin beside the lane's end.
func (l *lanePanel) drawPins() {
	if !l.v.pins {
		return
	}
	for _, m := range l.v.pinMarks() {
		at := point{l.area.right + 6, l.y.at(m.board)}
		if m.width == 0 {
			l.hollow(at, 0.5*l.tick, l.rule, ink)
			continue
		}
		half := math.Abs(l.y.at(m.board+m.width/2) - at.y)
		l.rectangle(box{at.x - 2.2, at.y - half, at.x + 2.2, at.y + half}, ink)
	}
}

// stack writes labels to the right of a plot, one below the other and as near to their
// targets as possible, each with a line in the style of its curve. It reports whether there
// was room.
func (p *page) stack(labels []endLabel, plotRight, top, bottom float64) bool {
	targets, heights := make([]float64, len(labels)), make([]float64, len(labels))
	for i, e := range labels {
		targets[i], heights[i] = e.target, e.height()
	}
	tops, ok := spreadLabels(targets, heights, top, bottom)
	if !ok {
		return false
	}
	for i, e := range labels {
		from := point{plotRight + 11, e.target}
		first := tops[i] + e.lines[0].height()/2
		if len(e.lines) > 1 {
			first = tops[i] + e.height()/2
		}
		bend := point{plotRight + leaderLength - 12, first}
		p.line([]point{from, bend, {plotRight + leaderLength - 3, first}}, e.leader)
		p.write(e.lines, plotRight+leaderLength, tops[i])
	}
	return true
}
