package plots

import (
	"image/color"
	"math"
	"slices"

	"lanesim/internal/theme"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// lanePanel is one lane on a page.
type lanePanel struct {
	*page
	v    *view
	x, y scale // ft and boards
	area box   // the lane with its gutters
	room placer

	marks []mark // drawn so far
}

func (p *page) lanePanel(v *view, left, right, top, height float64) *lanePanel {
	return &lanePanel{
		page: p, v: v,
		x:    scale{span{0, v.end}, left, right},
		y:    scale{span{v.low, v.high}, top + height, top},
		area: box{left, top, right, top + height},
	}
}

// stretch is the lateral scale over the lengthwise scale.
func (l *lanePanel) stretch() float64 {
	along := (l.x.to - l.x.from) / (l.x.max - l.x.min)
	across := math.Abs(l.y.to-l.y.from) / (l.y.max - l.y.min) * units.Foot / lane.BoardWidth
	return across / along
}

func (l *lanePanel) point(distance, lateral float64) point {
	return point{l.x.at(distance / units.Foot), l.y.at(l.v.board(lateral))}
}

// Boards that are numbered: those of the arrows, or three of them where there is little
// room.
var (
	everyArrow  = []float64{5, 10, 15, 20, 25, 30, 35}
	threeBoards = []float64{5, 20, 35}
)

// ground draws what lies under the paths: gutters, oil, arrows, axes.
func (l *lanePanel) ground(boards []float64) {
	v, a := l.v, l.area
	bottom, top := l.y.at(0.5), l.y.at(lane.Boards+0.5)
	l.room.frame = box{a.left, top, a.right, bottom}.grown(-clearance)
	l.rectangle(box{a.left, a.top, a.right, top}, gutterFill)
	l.rectangle(box{a.left, bottom, a.right, a.bottom}, gutterFill)
	if full := v.oilFullScale(); full > 0 {
		to := min(v.Lane.Oil.Length(), v.end*units.Foot)
		oil := box{a.left, top, l.x.at(to / units.Foot), bottom}
		l.elements = append(l.elements, imageElement{oil, v.paint(to, func(x, y float64) color.NRGBA {
			return oilColor(v.Lane.Oil.Thickness(x, y) / units.OilUnit / full)
		})})
		if to < v.end*units.Foot {
			end := []point{{oil.right, top}, {oil.right, bottom}}
			l.line(end, stroke{softInk, l.hairline, []float64{2, 2}})
			l.room.paths = append(l.room.paths, end)
		}
	}
	l.arrows()
	edge := l.edge()
	l.line([]point{{a.left, bottom}, {a.right, bottom}}, edge)
	l.line([]point{{a.left, top}, {a.right, top}}, edge)
	l.line([]point{{a.right, top}, {a.right, bottom}}, edge)
	foul := stroke{color: ink, width: 2 * l.rule}
	l.line([]point{{a.left, a.top}, {a.left, a.bottom}}, foul)

	for _, b := range boards {
		l.numberLeft(b, 0, a.left, l.y.at(b))
	}
}

// Targets on the lane: every fifth board from 5 to 35, lying 12 ft out at the
// sides to 16 ft in the middle (rule-book dimensions as published on secondary
// pages).
const (
	firstArrow, lastArrow, arrowStep = 5, 35, 5
	sideArrowFeet, centreArrowFeet   = 12, 16
)

func (l *lanePanel) arrows() {
	const middle = (firstArrow + lastArrow) / 2
	length, half := 1.1*l.tick, 0.42*l.tick
	for b := firstArrow; b <= lastArrow; b += arrowStep {
		out := math.Abs(float64(b-middle)) / (lastArrow - middle)
		tip := point{l.x.at(centreArrowFeet - out*(centreArrowFeet-sideArrowFeet)), l.y.at(float64(b))}
		l.Drawing.area([]point{tip, {tip.x - length, tip.y - half}, {tip.x - length, tip.y + half}}, faintMark)
		l.room.paths = append(l.room.paths, []point{{tip.x - length, tip.y}, tip})
	}
}

// closest is the least distance in points between neighbouring points of a drawn path;
// nearer points add bytes but nothing visible.
const closest = 0.4

// path returns a shot's path on the drawing.
func (l *lanePanel) path(s physics.Shot) []point {
	var points []point
	for i, state := range s.Path {
		q := l.point(state.Distance, state.Lateral)
		n := len(points)
		if n > 0 && i < len(s.Path)-1 && distance(points[n-1], q) < closest {
			continue
		}
		points = append(points, q)
	}
	return points
}

// paths draws the shots, each over a light casing, and their phases.
func (l *lanePanel) paths(shots []Series) []mark {
	all := make([][]point, len(shots))
	for i, s := range shots {
		all[i] = l.path(s.Shot)
		l.room.paths = append(l.room.paths, runs(all[i])...)
		l.line(all[i], stroke{color: casing, width: l.pathWidth + 2})
	}
	for i := range shots {
		l.line(all[i], l.shotStroke(i))
	}
	var marks []mark
	for i, s := range shots {
		for _, ph := range phases(s.Shot) {
			m := l.tickAcross(all[i], ph)
			l.tickLine(m.ends[:])
			l.room.take(bounds(m.ends[:]).grown(l.rule))
			marks = append(marks, m)
		}
	}
	l.marks = append(l.marks, marks...)
	return marks
}

// cased draws a line over a light casing that is wider by so much.
func (l *lanePanel) cased(points []point, s stroke, wider float64) {
	l.line(points, stroke{color: casing, width: s.width + wider})
	l.line(points, s)
}

// tickLine draws a mark.
func (l *lanePanel) tickLine(points []point) {
	l.cased(points, stroke{color: ink, width: 1.8 * l.rule}, 1.6*l.rule)
}

// tickAcross finds the mark of a phase across its path.
func (l *lanePanel) tickAcross(path []point, ph phase) mark {
	at := l.point(ph.distance, ph.lateral)
	best, direction := math.Inf(1), point{1, 0}
	for i := 1; i < len(path); i++ {
		middle := point{(path[i-1].x + path[i].x) / 2, (path[i-1].y + path[i].y) / 2}
		long := distance(path[i-1], path[i])
		if d := distance(middle, at); d < best && long > 0 {
			best = d
			direction = point{(path[i].x - path[i-1].x) / long, (path[i].y - path[i-1].y) / long}
		}
	}
	dx, dy := -direction.y*l.tick, direction.x*l.tick
	return mark{ph, at, [2]point{{at.x - dx, at.y - dy}, {at.x + dx, at.y + dy}}}
}

// note writes a label where there is room near one of the anchors. It has a leader line if
// it is not next to its anchor or could be taken for that of one of the others, and a light
// plate if it covers a path. It reports whether there was room.
func (l *lanePanel) note(lines []textLine, anchors []point, others ...point) bool {
	_, ok := l.place(&l.room, lines, anchors, theme.Plate, func(b box, anchor point) bool {
		away := distance(b.nearest(anchor), anchor)
		return away > beside || slices.ContainsFunc(others, func(o point) bool { return distance(b.nearest(o), o) < away+beside })
	})
	return ok
}

// beside is the distance in points within which a label needs no leader line.
const beside = 9

// place writes a label where there is room near one of the anchors and returns the anchor.
// It has a plate if it covers a path, and a leader line if led.
func (p *page) place(room *placer, lines []textLine, anchors []point, plate color.NRGBA, led func(b box, anchor point) bool) (leader []point, ok bool) {
	width := 0.0
	for _, s := range lines {
		width = max(width, s.width(s.text))
	}
	b, anchor, ok := room.place(width, textHeight(lines), anchors)
	if !ok {
		return nil, false
	}
	if room.covers(b) {
		p.rectangle(b.grown(1), plate)
	}
	if led(b, anchor) {
		leader = []point{anchor, b.leaderEnd(anchor)}
		p.line(leader, stroke{color: softInk, width: p.hairline})
	}
	p.write(lines, b.left, b.top)
	return leader, true
}
