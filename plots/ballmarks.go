package plots

import (
	"image/color"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/report/layouts"
	"lanesim/units"
)

// markShape is how a point of the layout is drawn.
type markShape int

const (
	roundMark markShape = iota
	squareMark
	plusMark
	smallPlus
	smallCross
)

// noticeableMove is by how much in m drilling has to move an axis before the
// drilled ball's axis is marked on its own: a sixteenth of an inch, which the
// marks on a sheet can just show.
const noticeableMove = units.Inch / 16

// ballMark is a point to mark.
type ballMark struct {
	at    r3.Vec
	shape markShape
	word  string
	minor bool // named on the side shown only
}

// marks lists the points of the layout.
func (b *ballPanel) marks() []ballMark {
	d := b.f.Drilling
	before, after := d.Before.Frame, d.After.Frame
	list := []ballMark{{at: before.PAP, shape: plusMark, word: "PAP"}}
	if laidOut(b.f.Layout) {
		list = append(list, ballMark{at: before.Pin, shape: roundMark, word: "pin"})
		if !b.f.Symmetric() {
			list = append(list, ballMark{at: before.PSA, shape: squareMark, word: "PSA"})
		}
	}
	if b.grip {
		list = append(list, ballMark{at: before.Grip, shape: smallPlus, word: "grip centre", minor: true})
	}
	if b.brief {
		return list // the axes of the drilled ball are not marked in the shop
	}
	if len(d.Holes) > 0 && (d.PinMoved > noticeableMove || !laidOut(b.f.Layout)) {
		list = append(list, ballMark{at: after.Pin, shape: smallCross, word: "low-RG axis, drilled", minor: true})
	}
	if len(d.Holes) > 0 && (d.PSAMoved > noticeableMove || !laidOut(b.f.Layout) || b.f.Symmetric()) {
		list = append(list, ballMark{at: after.PSA, shape: smallCross, word: "high-RG axis, drilled", minor: true})
	}
	return list
}

// drawLayout draws arcs, angles and points, and returns the labels to place, the most
// important first.
func (b *ballPanel) drawLayout() []ballName {
	var points, arcs, angles, rest []ballName
	if laidOut(b.f.Layout) {
		arcs, angles = b.arcs()
	}
	for _, m := range b.marks() {
		q, near := b.view.at(m.at)
		b.mark(m.shape, q, near)
		word := m.word
		switch {
		case !near && (m.minor || b.rings && m.word != "PAP"):
			continue
		case !near:
			word += ", far side"
		}
		n := ballName{lines: []string{word}, anchors: []point{q}, bold: !m.minor}
		if m.minor {
			if b.before != nil && b.before(m.at) {
				continue // named on another view
			}
			n.color = softInk
			rest = append(rest, n)
		} else {
			points = append(points, n)
		}
	}
	if b.grip {
		for _, h := range b.f.Drilling.Holes {
			if b.view.near(h.Mouth) {
				points = append(points, ballName{lines: []string{h.Name}, anchors: b.around(h)})
			}
		}
	}
	all := append(points, append(arcs, angles...)...)
	all = append(all, b.ringNames()...)
	if b.brief && b.grip {
		return all
	}
	all = append(all, rest...)
	return append(all, b.lineNames()...)
}

// around returns places at the edge of a hole.
func (b *ballPanel) around(h ball.DrilledHole) []point {
	edge := mouth(h, h.Diameter, b.f.Drilling.Radius)
	all := make([]point, 0, 8)
	for i := 0; i < len(edge); i += len(edge) / 8 {
		q, _ := b.view.at(edge[i])
		all = append(all, q)
	}
	return all
}

// mark draws a point of the layout, hollow or thin on the far side.
func (b *ballPanel) mark(shape markShape, at point, near bool) {
	size := 0.36 * b.small.size
	fill, line := ink, stroke{color: ink, width: 1.8 * b.rule}
	if !near {
		fill, line = paper, stroke{color: softInk, width: 1.2 * b.rule}
	}
	square := around(at, size)
	switch shape {
	case roundMark:
		round := ring(at, 1.1*size, rimCorners)
		b.area(round, fill)
		b.outline(round, stroke{color: line.color, width: b.rule})
	case squareMark:
		b.rectangle(square, fill)
		b.frame(square, stroke{color: line.color, width: b.rule})
	case plusMark, smallPlus:
		long := 1.5 * size
		if shape == smallPlus {
			long, line.width = 0.8*size, b.rule
		}
		b.line([]point{{at.x - long, at.y}, {at.x + long, at.y}}, line)
		b.line([]point{{at.x, at.y - long}, {at.x, at.y + long}}, line)
	case smallCross:
		if !near {
			return
		}
		b.cross(at, 0.8*size, stroke{color: softInk, width: 1.3 * b.rule})
	}
	b.room.take(square)
}

// arcs draws the three distances and the three angles of the layout and
// returns their names, which the view of the PAP shows.
func (b *ballPanel) arcs() (lengths, angles []ballName) {
	d := b.f.Drilling
	f := d.Before.Frame
	m := d.Before.Measures
	foot := r3.Sub(f.Pin, r3.Scale(r3.Dot(f.Pin, f.TowardGrip), f.TowardGrip))
	var toVAL []r3.Vec
	if r3.Norm(foot) > sameDirection {
		toVAL = greatArc(f.Pin, r3.Unit(foot))
	}
	for _, a := range []struct {
		word   string
		points []r3.Vec
		length float64
		color  color.NRGBA
	}{
		{"pin to PAP", greatArc(f.Pin, f.PAP), m.Distances.PinToPAP, pinArcColor},
		{"PSA to PAP", greatArc(f.PSA, f.PAP), m.Distances.PSAToPAP, psaArcColor},
		{"pin to VAL", toVAL, m.Distances.PinToVAL, valArcColor},
	} {
		if a.points == nil || a.word == "PSA to PAP" && b.f.Symmetric() {
			continue
		}
		anchors := b.draft(a.points, stroke{color: a.color, width: 2 * b.rule})
		if b.layout {
			n := ballName{lines: []string{a.word, layouts.InchFraction(a.length), layouts.Millimetres(a.length)}, anchors: anchors, color: a.color}
			if b.brief {
				n.lines = []string{a.word}
			}
			lengths = append(lengths, n)
		}
	}
	if !b.layout {
		return nil, nil
	}
	if b.f.Symmetric() {
		b.cgLine(f)
	}
	for _, a := range layoutAngles(f, d.Hand, d.Radius) {
		if a.word == psaWord && (b.f.Symmetric() || b.brief) {
			continue
		}
		b.nearLine(a.mark, stroke{color: ink, width: b.rule}, true)
		n := ballName{lines: []string{a.word + " " + layouts.Degrees(a.angle)}}
		if b.brief {
			n.lines = []string{a.word}
		}
		for _, share := range []float64{0.5, 0.3, 0.7, 0.1, 0.9} {
			if q, near := b.view.at(a.mark[int(share*float64(len(a.mark)))]); near {
				n.anchors = append(n.anchors, q)
			}
		}
		angles = append(angles, n)
	}
	return lengths, angles
}

// draft draws a line, dashed on the far side, and returns points along its part on the side
// shown or, if there is none, along the rest.
func (b *ballPanel) draft(points []r3.Vec, s stroke) []point {
	c := b.view.curve(points)
	far := s
	far.width, far.dash = 0.7*s.width, []float64{3, 3}
	for _, run := range c.far {
		b.line(run, far)
	}
	b.nearLine(points, s, true)
	runs := c.near
	if len(runs) == 0 {
		runs = c.far
	}
	var anchors []point
	for _, run := range runs {
		for _, share := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			anchors = append(anchors, run[int(math.Round(share*float64(len(run)-1)))])
		}
	}
	return anchors
}

// psaWord names the angle at the PAP from the VAL to the PSA.
const psaWord = "VAL to PSA"

// cgLine draws the beginning of the line from the pin through the marked centre of
// gravity, from which the drilling angle of a ball without asymmetry counts.
func (b *ballPanel) cgLine(f ball.Frame) {
	const long = 50 * units.Degree
	b.draft(sweep(f.Pin, f.PSA, long), stroke{color: psaArcColor, width: 1.4 * b.rule, dash: []float64{5, 3}})
}

// angleMark is an angle of a layout with the little arc that marks it.
type angleMark struct {
	word  string
	angle float64 // rad
	mark  []r3.Vec
}

// layoutAngles returns the angles of a layout that exist: if pin and PAP coincide or lie
// opposite, neither the drilling angle nor the VAL angle does.
func layoutAngles(f ball.Frame, hand ball.Hand, radius float64) []angleMark {
	const nearMark, farMark = 0.17, 0.27 // rad from the corner
	var list []angleMark
	if l, ok := f.Layout(hand, radius); ok {
		list = append(list, angleMark{"VAL angle", l.VALAngle, aroundPoint(f.PAP, f.Fingers, f.TowardGrip, nearMark, l.VALAngle)})
		toPAP, _ := tangentToward(f.Pin, f.PAP)
		toPSA, _ := tangentToward(f.Pin, f.PSA)
		across := r3.Sub(toPSA, r3.Scale(r3.Dot(toPSA, toPAP), toPAP))
		if r3.Norm(across) > sameDirection {
			list = append(list, angleMark{"drilling angle", l.DrillingAngle, aroundPoint(f.Pin, toPAP, r3.Unit(across), nearMark, arcBetween(toPAP, toPSA))})
		} else {
			list = append(list, angleMark{"drilling angle", l.DrillingAngle, []r3.Vec{aroundPoint(f.Pin, toPAP, toPAP, nearMark, 0)[0]}})
		}
	}
	if angle, ok := layouts.PSAAngle(f); ok {
		list = append(list, angleMark{psaWord, angle, aroundPoint(f.PAP, f.Fingers, f.TowardGrip, farMark, angle)})
	}
	return list
}

// ringNames marks and names the bow-ties, and names the first and the last oily
// turn that can be seen.
func (b *ballPanel) ringNames() []ballName {
	if b.grip {
		return nil
	}
	var list []ballName // of the views of both ends of the axis, which make up the ball
	for _, tie := range b.f.Flare.BowTies {
		if q, near := b.view.at(tie.Place); near {
			tied := ring(q, 0.5*b.small.size, rimCorners)
			b.outline(tied, stroke{color: ink, width: 1.2 * b.rule})
			b.room.take(bounds(tied))
			list = append(list, ballName{lines: []string{"bow-tie"}, anchors: []point{q}, bold: true, led: true})
		}
	}
	var oily []int
	for i, t := range b.f.Flare.Turns {
		if t.Oiled {
			oily = append(oily, i)
		}
	}
	if !b.rings || len(oily) < 2 {
		return list
	}
	list = append(list, b.turnName("first turn", oily[0]))
	for _, i := range slices.Backward(oily[1:]) {
		if n := b.turnName("turn "+strconv.Itoa(i+1), i); len(n.anchors) > 0 {
			return append(list, n)
		}
	}
	return list
}

// turnName names a turn of the track where it is oily.
func (b *ballPanel) turnName(word string, i int) ballName {
	n := ballName{lines: []string{word}, led: true}
	const places, enough = 24, 8 // examined, and used as anchors
	points := b.f.Flare.Turns[i].Points
	for k := range places {
		p := points[k*(len(points)-1)/places]
		if q, near := b.view.at(p.Direction); near && p.Oily() && len(n.anchors) < enough {
			n.anchors = append(n.anchors, q)
		}
	}
	return n
}

// lineNames names the lines of the grip.
func (b *ballPanel) lineNames() []ballName {
	f := b.f.Drilling.After.Frame
	along := func(word string, a, c r3.Vec) ballName {
		var anchors []point
		for _, t := range []float64{75, 60, 45, 85, 30} {
			for _, side := range []float64{1, -1} {
				sin, cos := math.Sincos(side * t * units.Degree)
				if q, near := b.view.at(r3.Add(r3.Scale(cos, a), r3.Scale(sin, c))); near {
					anchors = append(anchors, q)
				}
			}
		}
		return ballName{lines: []string{word}, anchors: anchors, color: softInk}
	}
	switch {
	case b.grip:
		return []ballName{along("centre line", f.Grip, r3.Vec{Z: 1}), along("midline", f.Grip, r3.Vec{Y: 1})}
	case b.layout:
		return []ballName{along("VAL", f.PAP, f.Fingers)}
	}
	return nil
}
