package plots

import (
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/units"
)

// quantity is a quantity that a panel shows against distance.
type quantity struct {
	label string // with unit
	unit  string // after a number; empty if it has none
	value func(physics.State) float64

	decimals int     // of a value at a line's end
	least    float64 // shortest axis: keeps small changes of a steady value small
	fromZero bool
	angle    bool // a jump from 180° to −180° breaks the line
}

func quantities() []quantity {
	return []quantity{
		{label: "speed, mph", unit: " mph", decimals: 1, least: 2,
			value: func(s physics.State) float64 { return s.Speed / units.MPH }},
		{label: "rev rate, rpm", unit: " rpm", decimals: 0, least: 60,
			value: func(s physics.State) float64 { return s.RevRate / units.RPM }},
		{label: "axis rotation, degrees", unit: "°", decimals: 1, least: 10, angle: true,
			value: func(s physics.State) float64 { return s.AxisRotation / units.Degree }},
		{label: "axis tilt, degrees", unit: "°", decimals: 1, least: 6, angle: true,
			value: func(s physics.State) float64 { return s.AxisTilt / units.Degree }},
		{label: "slip, mph", unit: " mph", decimals: 1, least: 2, fromZero: true,
			value: func(s physics.State) float64 { return s.Slip / units.MPH }},
		{label: "friction coefficient", decimals: 3, least: 0.05, fromZero: true,
			value: func(s physics.State) float64 { return s.Friction }},
	}
}

// curve returns a shot's values against distance in ft, with NaN where the line breaks.
func (q quantity) curve(s physics.Shot) (x, y []float64) {
	for i, state := range s.Path {
		v := q.value(state)
		if n := len(y); q.angle && i > 0 && math.Abs(v-y[n-1]) > 180 {
			x, y = append(x, math.NaN()), append(y, math.NaN())
		}
		x, y = append(x, state.Distance/units.Foot), append(y, v)
	}
	return x, y
}

// span returns the axis that contains the quantity for all shots.
func (q quantity) span(all []Series) span {
	s := emptySpan()
	for _, series := range all {
		for _, state := range series.Shot.Path {
			s.include(q.value(state))
		}
	}
	if q.fromZero {
		s.include(0)
		s.max = max(s.max, s.min+q.least)
	}
	return s.atLeast(q.least).rounded(panelTicks)
}

// panelTicks is about how many steps the axis of a panel has.
const panelTicks = 3

// motion draws the panels, a set for every four shots. With words the moments
// of the shots are named above the first panel.
func (p *page) motion(v *view, words bool) {
	for i, g := range groups(len(v.Series), maxOverlay) {
		if i > 0 {
			p.y += p.body.leading()
		}
		p.motionSet(v, g, words || len(v.Series) > maxOverlay)
	}
}

func (p *page) motionSet(v *view, group [2]int, words bool) {
	shots := v.Series[group[0]:group[1]]
	left, right := p.plotSides(v)
	x := scale{span{0, v.end}, left, right}
	names, withNames := make([]string, len(shots)), len(v.Series) > 1
	if len(v.Series) > 1 {
		for i := range shots {
			names[i] = named(v.Series, group[0]+i)
		}
		if !p.namesFit(names, right) || len(v.Series) > maxOverlay {
			p.legend(names)
			withNames = false
		}
	}
	if words {
		p.phaseWords(shots, x)
	}
	for _, q := range quantities() {
		m := motionPanel{panel: p.panel(q.label, x, q.span(v.Series), p.panelHeight), q: q, shots: shots, names: names, withNames: withNames}
		m.draw()
		p.y += p.panelHeight + 0.55*p.small.size
	}
	p.y -= 0.55 * p.small.size
	p.distances(x, p.small.leading())
	p.closing(left, 0)
}

// namesFit reports whether the names fit whole beside the panels.
func (p *page) namesFit(names []string, plotRight float64) bool {
	room := p.width - p.margin - plotRight - leaderLength - p.small.width(widestValue) // with a number
	return !slices.ContainsFunc(names, func(n string) bool { return p.label.width(n) > room })
}

// widestValue is a text at least as wide as any number beside a panel with the space before
// it.
const widestValue = " 0.000"

// legend writes a strip of the shots' lines and full names.
func (p *page) legend(names []string) {
	var lines []textLine
	var strokes []stroke
	for i, n := range names {
		lines, strokes = append(lines, textLine{n, p.label, p.shotStroke(i).color}), append(strokes, p.shotStroke(i))
	}
	p.legendOf(lines, strokes)
}

// legendOf writes a strip of lines and what they are.
func (p *page) legendOf(lines []textLine, strokes []stroke) {
	sample, gap := 2.6*p.small.size, 0.5*p.small.size
	left := p.margin
	for i, n := range lines {
		for j, s := range n.wrap(n.text, p.inner()-sample-gap, 0) {
			w := n.width(s)
			if j > 0 || left > p.margin && left+sample+gap+w > p.width-p.margin {
				left = p.margin
				p.y += n.leading()
			}
			middle := p.y + n.height()/2
			if j == 0 {
				p.line([]point{{left, middle}, {left + sample, middle}}, strokes[i])
			}
			p.text(s, n.lettering, left+sample+gap, p.y, n.color)
			left += sample + gap + w + 1.6*p.small.size
		}
	}
	p.y += 1.7 * p.small.size
}

// phaseWords names the moments of the shots on a row above the first panel.
func (p *page) phaseWords(shots []Series, x scale) {
	var marks []mark
	for _, s := range shots {
		for _, ph := range phases(s.Shot) {
			marks = append(marks, mark{phase: ph, at: point{x.at(ph.distance / units.Foot), 0}})
		}
	}
	var targets, widths []float64
	var words []string
	space := 0.8 * p.small.size
	for _, c := range clusters(marks, 5*p.small.size) {
		word := c.label(len(shots) == 1 && p.width > 500)
		words = append(words, word)
		targets = append(targets, (c.marks[0].at.x+c.marks[len(c.marks)-1].at.x)/2)
		widths = append(widths, p.small.width(word)+space)
	}
	if len(words) == 0 {
		return
	}
	lefts, ok := spreadLabels(targets, widths, p.margin, p.width-p.margin)
	if !ok {
		return
	}
	for i, w := range words {
		p.text(w, p.small, lefts[i]+space/2, p.y, softInk)
	}
	p.y += 1.3 * p.small.size
}

// motionPanel is one quantity against distance.
type motionPanel struct {
	*panel
	q     quantity
	shots []Series
	names []string

	withNames bool // whether the lines are named at their ends
}

func (m *motionPanel) draw() {
	m.numbers(panelTicks)
	if len(m.shots) == 1 {
		for _, ph := range phases(m.shots[0].Shot) {
			m.down(m.x.at(ph.distance/units.Foot), stroke{faintMark, m.rule, []float64{3, 2.5}})
		}
	}
	m.axes()

	room := placer{frame: m.area}
	curves := make([][]point, len(m.shots))
	for i, s := range m.shots {
		curves[i] = m.curve(m.q.curve(s.Shot))
		room.paths = append(room.paths, runs(curves[i])...)
	}
	for i, c := range curves {
		m.line(c, m.shotStroke(i).times(0.8))
		if len(m.shots) > 1 {
			m.ticks(m.shots[i].Shot)
		}
	}
	m.labels(curves, room)
}

// ticks marks the moments of a shot across its line.
func (m *motionPanel) ticks(s physics.Shot) {
	for _, at := range []*physics.State{s.Events.HookStart, s.Events.FrictionRead, s.Events.Breakpoint, s.Events.RollStart} {
		if at == nil {
			continue
		}
		v := m.q.value(*at)
		if !finite(v) {
			continue
		}
		x, y, r := m.x.at(at.Distance/units.Foot), m.y.at(v), 0.6*m.tick
		m.line([]point{{x, max(y-r, m.area.top)}, {x, min(y+r, m.area.bottom)}}, m.edge())
	}
}

// labels names the lines at their ends.
func (m *motionPanel) labels(curves [][]point, room placer) {
	var stacked []endLabel
	for i, c := range curves {
		all := runs(c)
		if len(all) == 0 {
			m.noSpin(i, &room)
			continue
		}
		last := all[len(all)-1]
		end := last[len(last)-1]
		leader := m.shotStroke(i).times(0.6)
		said := textLine{m.endValue(m.shots[i]) + m.q.unit, m.label, leader.color}
		if m.names[i] == "" {
			said.lettering, said.color = m.small, ink
		} else if m.withNames {
			said.text = m.names[i] + " " + m.endValue(m.shots[i])
		}
		if m.area.right-end.x < m.small.size {
			stacked = append(stacked, endLabel{end.y, leader, []textLine{said}})
			continue
		}
		if b, _, ok := room.place(said.width(said.text), said.height(), []point{end}); ok {
			m.write([]textLine{said}, b.left, b.top)
		}
	}
	if len(stacked) > 1 && len(stacked) == len(m.shots) && m.sameEnds() {
		all := textLine{"all " + m.endValue(m.shots[0]) + m.q.unit, m.small, ink}
		stacked = []endLabel{{stacked[0].target, stroke{color: faintMark, width: m.hairline}, []textLine{all}}}
	}
	m.nameEnds(stacked)
}

// sameEnds reports whether the lines end at one printed value.
func (m *motionPanel) sameEnds() bool {
	return !slices.ContainsFunc(m.shots, func(s Series) bool { return m.endValue(s) != m.endValue(m.shots[0]) })
}

// endValue is the last value of a line.
func (m *motionPanel) endValue(s Series) string {
	for _, state := range slices.Backward(s.Shot.Path) {
		if v := m.q.value(state); finite(v) {
			return report.Fixed(v, m.q.decimals)
		}
	}
	return ""
}

// noSpin labels a missing line with the reason.
func (m *motionPanel) noSpin(i int, room *placer) {
	words := "no spin, so no axis"
	if m.names[i] != "" {
		words = m.small.shorten(m.names[i], m.labelsRight) + ": " + words
	}
	middle := m.area.centre()
	if b, _, ok := room.place(m.small.width(words), m.small.height(), []point{middle}); ok {
		m.text(words, m.small, b.left, b.top, softInk)
	}
}
