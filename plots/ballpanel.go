package plots

import (
	"image/color"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/internal/theme"
	"lanesim/report/layouts"
	"lanesim/units"
)

// ballPanel is one view of the ball with its labels.
type ballPanel struct {
	*ballPage
	view    ballView
	heading string
	room    placer

	grip, layout, rings bool // the marks that the view labels

	// before reports whether a view drawn before shows a direction; nil for
	// the first.
	before func(r3.Vec) bool
}

// draw draws the panel with its top left corner at (left, top) and returns
// where it ends.
func (b *ballPanel) draw(left, top float64) float64 {
	for _, s := range b.label.wrap(b.heading, b.width, 0) {
		b.text(s, b.label, left+(b.width-b.label.width(s))/2, top, ink)
		top += b.label.leading()
	}
	high := 2 * (b.m.radius + b.m.rim)
	b.view.radius = b.m.radius
	b.view.middle = point{left + b.width/2, top + high/2}
	b.room.frame, b.room.clear = box{left, top, left + b.width, top + high}, b.brief

	b.ground()
	if b.grip {
		b.scaleBar()
	}
	b.drawTracks()
	for _, h := range b.f.Drilling.Holes {
		b.hole(h)
	}
	for _, n := range b.drawLayout() {
		b.name(n)
	}
	return top + high + 0.5*b.small.size
}

// ballName is a label: its lines and the points that it may label.
type ballName struct {
	lines   []string
	anchors []point
	bold    bool
	led     bool        // always with a leader line
	color   color.NRGBA // of the first line; ink if not given
}

// name writes a label where there is room, with a leader line to its mark if it is not next
// to it.
func (b *ballPanel) name(n ballName) {
	lines := make([]textLine, len(n.lines))
	for i, s := range n.lines {
		lines[i] = textLine{s, lettering{b.small.size, n.bold}, ink}
	}
	if n.color != (color.NRGBA{}) {
		lines[0].color = n.color
	}
	leader, _ := b.place(&b.room, lines, n.anchors, theme.BallPlate, func(place box, anchor point) bool {
		return n.led || distance(place.nearest(anchor), anchor) > beside
	})
	if b.brief && leader != nil {
		b.room.paths = append(b.room.paths, leader)
	}
}

// ground draws the ball's outline and the lines of the grip.
func (b *ballPanel) ground() {
	rim := ring(b.view.middle, b.view.radius, rimCorners)
	b.area(rim, theme.BallFill)
	fine := stroke{color: faintMark, width: b.hairline}
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	for _, c := range [][]r3.Vec{greatCircle(x, y), greatCircle(x, z)} {
		b.nearLine(c, fine, b.brief)
	}
	f := b.f.Drilling.After.Frame
	val := greatCircle(f.PAP, f.Fingers)
	b.nearLine(val, b.edge(), b.brief)
	for _, run := range b.view.curve(val).far {
		b.line(run, stroke{color: faintMark, width: b.hairline, dash: []float64{3, 3}})
	}
	b.outline(rim, stroke{color: softInk, width: 1.4 * b.rule})
	b.room.paths = append(b.room.paths, append(rim, rim[0]))
}

// scaleBar draws the length of an inch at the middle of a view.
func (b *ballPanel) scaleBar() {
	long := b.view.radius / math.Sqrt2 * units.Inch / b.f.Drilling.Radius
	f := b.room.frame
	const words = "1 in, mid-view"
	left, y := f.left+4, f.bottom-1.6*b.small.size
	textLeft := left
	if b.f.Drilling.Hand == ball.Left {
		left = f.right - 4 - long
		textLeft = f.right - 4 - b.small.width(words)
	}
	s := stroke{color: ink, width: 1.2 * b.rule}
	b.line([]point{{left, y}, {left + long, y}}, s)
	for _, x := range []float64{left, left + long} {
		b.line([]point{{x, y - 3}, {x, y + 3}}, s)
	}
	label := b.text(words, b.small, textLeft, y+4, softInk)
	b.room.take(box{min(left, label.left), y - 3, max(left+long, label.right), label.bottom})
}

// rimCorners is the number of corners of a drawn circle on the ball.
const rimCorners = 120

// drawTracks draws the tracks on the side shown: the dry ones light, and the oily ones dark
// over them.
func (b *ballPanel) drawTracks() {
	dry := stroke{color: faintMark, width: 0.9 * b.rule}
	oily := stroke{color: theme.OilyTrack, width: 1.5 * b.rule}
	for _, wet := range []bool{false, true} {
		for _, turn := range b.f.Flare.Turns {
			for _, piece := range pieces(turn, wet) {
				if wet {
					b.nearLine(piece, oily, true)
				} else {
					b.nearLine(piece, dry, false)
				}
			}
		}
	}
}

// pieces returns the oily or the dry stretches of a turn; each begins with the
// last point of the one before.
func pieces(t layouts.Turn, oily bool) [][]r3.Vec {
	var all [][]r3.Vec
	for i := 1; i < len(t.Points); i++ {
		if t.Points[i].Oily() != oily {
			continue
		}
		if i == 1 || t.Points[i-1].Oily() != oily {
			all = append(all, []r3.Vec{t.Points[i-1].Direction})
		}
		last := len(all) - 1
		all[last] = append(all[last], t.Points[i].Direction)
	}
	return all
}

// nearLine draws the part of a line on the side shown; labels keep off it if keepOff is
// set.
func (b *ballPanel) nearLine(points []r3.Vec, s stroke, keepOff bool) {
	for _, run := range b.view.curve(points).near {
		b.line(run, s)
		if keepOff {
			b.room.paths = append(b.room.paths, thinned(run))
		}
	}
}

// thinned leaves out most of the points of a line that labels must keep off.
func thinned(line []point) []point {
	const every = 4
	var kept []point
	for i, p := range line {
		if i%every == 0 || i == len(line)-1 {
			kept = append(kept, p)
		}
	}
	return kept
}

// hole draws the mouth of a hole and its insert.
func (b *ballPanel) hole(h ball.DrilledHole) {
	near := b.view.near(h.Mouth)
	outline := func(diameter float64, width float64) []point {
		var all []point
		for _, p := range mouth(h, diameter, b.f.Drilling.Radius) {
			q, _ := b.view.at(p)
			all = append(all, q)
		}
		s := stroke{color: softInk, width: b.hairline, dash: []float64{3, 2}}
		if near {
			b.area(all, gutterFill)
			s = stroke{color: ink, width: width}
		}
		b.outline(all, s)
		return all
	}
	all := outline(h.Diameter, b.rule)
	if h.Insert != nil && h.Insert.Inner > 0 && near {
		outline(h.Insert.Inner, b.hairline)
	}
	if near {
		b.room.take(bounds(all))
	}
}

// mouth returns the edge of a hole of a diameter in m on the sphere, as unit vectors.
func mouth(h ball.DrilledHole, diameter, radius float64) []r3.Vec {
	const corners = 48
	list := make([]r3.Vec, corners)
	for i := range list {
		list[i] = h.EdgePoint(diameter, radius, 2*math.Pi*float64(i)/corners)
	}
	return list
}
