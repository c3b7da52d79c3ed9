package plots

import (
	"errors"
	"fmt"
	"math"

	"lanesim/report"
)

// SweepCurve is a quantity against the field that varies; NaN where it does not exist.
type SweepCurve struct {
	Name string // may be empty if it is the only one
	X, Y []float64

	// Changed marks points thrown on another line than the bowler's own; nil if there are
	// none.
	Changed []bool
}

func (c SweepCurve) changed(j int) bool { return j < len(c.Changed) && c.Changed[j] }

// SweepPanel is one quantity of the shots.
type SweepPanel struct {
	Label  string // with its unit
	Curves []SweepCurve
}

// SweepFigure is the input of a figure of a sweep over one field: a panel for each
// quantity, all over one axis.
type SweepFigure struct {
	Title  string
	Note   string // a sentence under the title
	X      string // names the field, with its unit
	Panels []SweepPanel
	Size   Size
}

// Bounds of pictures of sweeps.
const (
	// MaxSweepCurves is the largest number of curves in a panel.
	MaxSweepCurves = maxOverlay

	// MaxSweepPanels is the largest number of panels or maps in a figure.
	MaxSweepPanels = 8
)

// Measures of a panel of a sweep: its height over that of a panel of motion, and
// the most points that are marked one by one.
const (
	sweepPanelHeight = 2.1
	mostDots         = 40
	sweepTicks       = 4
)

// Sweep draws quantities against the field that varies. Single points are marked if there
// are few; points on another line than the bowler's own are open. A curve has a gap where
// the quantity does not exist, and between the bowler's own line and another.
//
// It is an error if there is no panel, if there are more than [MaxSweepPanels]
// or if a panel has no curves, more than [MaxSweepCurves] or other names than
// the first.
func Sweep(f SweepFigure) (*Drawing, error) {
	if n := len(f.Panels); n == 0 || n > MaxSweepPanels {
		return nil, fmt.Errorf("plots: %d quantities of a sweep: a figure takes 1 to %d", n, MaxSweepPanels)
	}
	x := emptySpan()
	for _, panel := range f.Panels {
		if n := len(panel.Curves); n == 0 || n > MaxSweepCurves || n != len(f.Panels[0].Curves) {
			return nil, fmt.Errorf("plots: %d curves of %s: a panel takes 1 to %d, the same in all", n, panel.Label, MaxSweepCurves)
		}
		for i, c := range panel.Curves {
			if len(c.X) != len(c.Y) || c.Name != f.Panels[0].Curves[i].Name {
				return nil, errors.New("plots: curves of a sweep need a value for each point, and the same names in all panels")
			}
			for _, at := range c.X {
				x.include(at)
			}
		}
	}
	if !(x.max > x.min) {
		return nil, errors.New("plots: the field needs two different values")
	}
	p := titledPage(f.Title, f.Note, f.Size)
	p.sweepPanels(f, x)
	return p.finish(), nil
}

// sweepPanels draws the panels over one axis.
func (p *page) sweepPanels(f SweepFigure, x span) {
	var names []string
	for _, c := range f.Panels[0].Curves {
		names = append(names, c.Name)
	}
	left := p.margin + p.axisLeft
	axes := make([]span, len(f.Panels))
	for i, panel := range f.Panels {
		axes[i] = panel.axis()
		at, decimals := axes[i].ticks(sweepTicks)
		for _, v := range at {
			left = max(left, p.margin+6+p.small.width(report.Fixed(v, decimals)))
		}
	}
	right := p.width - p.margin - 0.6*p.small.width("00000")
	if named := len(names) > 1; named && !p.narrow && p.label.widest(names)+leaderLength <= p.labelsRight {
		right = p.width - p.margin - p.label.widest(names) - leaderLength
	} else if named {
		p.legend(names)
		clear(names)
	}
	across := scale{x, left, right}
	for i, panel := range f.Panels {
		p.sweepPanel(panel, axes[i], across, names)
	}
	p.y -= 0.55 * p.small.size
	p.distances(across, p.small.leading())
	p.text(p.small.shorten(f.X, p.width-p.margin-left), p.small, left, p.y, softInk)
	p.y += p.small.leading()
}

// axis spans the values of a panel.
func (s SweepPanel) axis() span {
	axis := emptySpan()
	for _, c := range s.Curves {
		for _, v := range c.Y {
			axis.include(v)
		}
	}
	if axis.min > axis.max {
		return span{0, 1}
	}
	if axis.min == axis.max {
		// Only one value: the axis has a tick on either side of it.
		wide := niceStep(max(axis.max, -axis.max, 1) / 10)
		return span{axis.min - wide, axis.max + wide}.rounded(sweepTicks)
	}
	return axis.rounded(sweepTicks)
}

// sweepPanel draws one quantity and moves the page on.
func (p *page) sweepPanel(s SweepPanel, axis span, x scale, names []string) {
	m := p.panel(s.Label, x, axis, sweepPanelHeight*p.panelHeight)
	m.numbers(sweepTicks)
	m.axes()
	var labels []endLabel
	for i, c := range s.Curves {
		points := m.curve(c.X, c.Y)
		var line []point
		for j := range c.X {
			if j > 0 && c.changed(j) != c.changed(j-1) {
				line = append(line, point{points[j].x, math.NaN()})
			}
			line = append(line, points[j])
		}
		style := p.shotStroke(i).times(0.8)
		p.line(line, style)
		last := -1
		for j, at := range points {
			if !finite(at.y) {
				continue
			}
			last = j
			alone := (j == 0 || !finite(points[j-1].y)) && (j == len(points)-1 || !finite(points[j+1].y))
			switch {
			case c.changed(j):
				p.hollow(at, 1.6*style.width, 0.7*style.width, style.color)
			case len(points) <= mostDots || alone:
				p.disc(at, 0.9*style.width, style.color)
			}
		}
		if names[i] == "" || last < 0 {
			continue
		}
		labels = append(labels, endLabel{points[last].y, style.times(0.75), []textLine{{names[i], p.label, style.color}}})
	}
	m.nameEnds(labels)
	p.y = m.area.bottom + 1.1*p.small.size
}
