package plots

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/internal/theme"
	"lanesim/report"
	"lanesim/report/layouts"
)

// BallFigure is the input of a figure of a ball for the driller.
type BallFigure struct {
	Title string
	layouts.Layout
	Flare   layouts.Flare // on some lane; of the zero value no tracks are drawn
	Numbers bool          // whether numbers and cautions are written below the views
	Size    Size
}

// laidOut reports whether the ball has a layout. A ball with equal moments and no layout
// has no pin and no PSA to mark.
func laidOut(l layouts.Layout) bool { return l.Specification.Layout != nil }

// Colours of the marks on a ball, from the palette of the shots. Labels and dashes carry
// the same meaning.
var (
	pinArcColor = theme.Blue
	psaArcColor = theme.Vermillion
	valArcColor = theme.BluishGreen
)

// ballMeasures are sizes on the figure of a ball, in points.
type ballMeasures struct {
	columns int
	gap     float64 // between columns
	radius  float64 // of a view's rim
	rim     float64 // of blank for labels above and below it
}

func (t measures) ballMeasures() ballMeasures {
	if t.narrow {
		return ballMeasures{columns: 1, radius: 116, rim: 34}
	}
	return ballMeasures{columns: 2, gap: 18, radius: 128, rim: 32}
}

// Ball draws where pin, PSA, PAP and holes lie on a ball, in views of the
// grip, of the PAP and, if something lies there, of the other end of the axis,
// with the tracks that a shot leaves. It is an error if the drilling has no
// radius.
func Ball(f BallFigure) (*Drawing, error) {
	if !(f.Drilling.Radius > 0) || math.IsInf(f.Drilling.Radius, 0) {
		return nil, errors.New("plots: a ball without a radius cannot be drawn")
	}
	p := titledPage(f.Title, describeBall(f), f.Size)
	b := &ballPage{page: p, f: f, m: p.ballMeasures()}
	b.width = (p.width - 2*p.margin - float64(b.m.columns-1)*b.m.gap) / float64(b.m.columns)
	b.views()
	if f.Numbers {
		b.line([]point{{b.margin, b.y}, {b.margin + b.inner(), b.y}}, b.edge())
		b.y += 0.5 * b.small.size
		for _, c := range layouts.LayoutCautions() {
			b.paragraph(c, b.small, b.margin, b.inner(), 0, ink)
		}
	}
	return p.finish(), nil
}

// ballPage is the page of a ball.
type ballPage struct {
	*page
	f     BallFigure
	m     ballMeasures
	width float64 // of a column
	brief bool    // distances in inches only
}

// left returns the left edge of a column. A left-hander's page is the mirror
// image, so that each view lies on the side from which it is seen.
func (b *ballPage) left(column int) float64 {
	if b.f.Drilling.Hand == ball.Left {
		column = b.m.columns - 1 - column
	}
	return b.margin + float64(column)*(b.width+b.m.gap)
}

// views draws the views of the ball and the numbers beside and below them.
func (b *ballPage) views() {
	f := b.f.Drilling.After.Frame
	list := gripAndPAP(f)
	if back := lookingAt(r3.Scale(-1, f.PAP), f.Fingers); b.hidden(list) {
		list = append(list, ballPanel{view: back, heading: "Looking at the other end of the axis, fingers up", rings: true})
	}
	lefts, tops := make([]float64, b.m.columns), make([]float64, b.m.columns)
	for i := range tops {
		lefts[i], tops[i] = b.left(i), b.y
	}
	for i := range list {
		column := i % b.m.columns
		list[i].ballPage = b
		if i > 0 {
			list[i].before = func(v r3.Vec) bool {
				return slices.ContainsFunc(list[:i], func(p ballPanel) bool { return p.view.near(v) })
			}
		}
		tops[column] = list[i].draw(lefts[column], tops[column])
	}
	sections := []layouts.Section{b.legend()}
	if b.f.Numbers {
		sections = append(sections, layouts.LayoutSections(b.f.Layout, []layouts.Flare{b.f.Flare})...)
	}
	b.y = b.columns(sections, lefts, tops, b.width)
}

// gripAndPAP are the views of the grip and of the PAP.
func gripAndPAP(f ball.Frame) []ballPanel {
	return []ballPanel{
		{view: lookingAt(f.Grip, r3.Vec{Z: 1}), heading: "Looking at the grip, fingers up", grip: true},
		{view: lookingAt(f.PAP, f.Fingers), heading: "Looking at the PAP, fingers up", layout: true},
	}
}

// hidden reports whether a mark is on none of the views.
func (b *ballPage) hidden(list []ballPanel) bool {
	if len(b.f.Flare.Turns) > 0 {
		return true
	}
	var all []r3.Vec
	if laidOut(b.f.Layout) {
		all = append(all, b.f.Drilling.Before.Frame.Pin)
		if !b.f.Symmetric() {
			all = append(all, b.f.Drilling.Before.Frame.PSA)
		}
	}
	for _, h := range b.f.Drilling.Holes {
		all = append(all, h.Mouth)
	}
	return slices.ContainsFunc(all, func(p r3.Vec) bool {
		return !slices.ContainsFunc(list, func(panel ballPanel) bool { return panel.view.near(p) })
	})
}

// legend explains the views.
func (b *ballPage) legend() layouts.Section {
	s := layouts.Section{Heading: "How to read the views", Rows: []layouts.Row{
		{Name: "Each shows half of the ball in Lambert's equal-area projection: areas keep their share up to the rim."},
		{Name: "Solid: on the side shown. Hollow and dashed: on the far side, seen through the ball."},
	}}
	if len(b.f.Flare.BowTies) > 0 {
		s.Rows = append(s.Rows, layouts.Row{Name: "Bow-tie: the middle of the crossings of the track with that of the turn before."})
	}
	if len(b.f.Flare.Turns) > 0 {
		s.Rows = append(s.Rows, layouts.Row{Name: fmt.Sprintf("Tracks on the side shown: dark where the ball carries oil (a film above %s µm, a quarter of an oil unit, assumed), light where it is dry.", report.Fixed(layouts.OilyFilm*1e6, 3))})
	}
	return s
}

// describeBall returns the sentence under the title.
func describeBall(f BallFigure) string {
	var s []string
	if laidOut(f.Layout) {
		s = append(s, "Look at where "+map[bool]string{false: "pin and PSA lie", true: "the pin lies"}[f.Symmetric()]+" relative to the holes.")
	}
	return strings.Join(append(s, f.Flare.Words()), " ")
}
