package plots

import (
	"image/color"

	stdfont "golang.org/x/image/font"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"

	"lanesim/internal/theme"
)

// Size is the medium for which a figure is laid out.
type Size int

// The sizes. A sheet is 10 in wide on paper and 1200 pixels as a picture; it
// can still be read when shown at 360. A phone's picture is laid out for a
// column of 360 pixels and rendered at three times that.
const (
	Sheet Size = iota
	Phone
)

// measures are the sizes for a [Size], in points (1/72 in).
type measures struct {
	width      float64 // of the figure
	margin     float64 // blank rim
	resolution int     // of the PNG, in dots per inch

	title, body, small float64 // sizes of type

	axisLeft    float64 // room left of a plot for its numbers
	labelsRight float64 // most room right of a plot for the shots' labels

	laneHeight     float64 // of a lane
	smallLane      float64 // of a lane among many
	laneColumns    int     // lanes side by side where there are many
	panelHeight    float64 // of a panel of motion
	pathWidth      float64 // of a shot's line
	hairline, rule float64 // of grid lines and of frames
	tick           float64 // half the length of a mark across a path
	narrow         bool    // whether numbers beside a plot need lines of their own
}

func (s Size) measures() measures {
	if s == Phone {
		return measures{
			width: 360, margin: 8, resolution: 216, narrow: true,
			title: 14, body: 10.5, small: 9.5,
			axisLeft: 26, labelsRight: 92,
			laneHeight: 215, smallLane: 120, laneColumns: 1, panelHeight: 50,
			pathWidth: 2.2, hairline: 0.5, rule: 0.8, tick: 5,
		}
	}
	return measures{
		width: 720, margin: 14, resolution: 120,
		title: 20, body: 14, small: 12.5,
		axisLeft: 36, labelsRight: 150,
		laneHeight: 290, smallLane: 132, laneColumns: 2, panelHeight: 58,
		pathWidth: 3, hairline: 0.6, rule: 1, tick: 7,
	}
}

// Colours of everything that is not a shot.
var (
	ink        = theme.Light.Ink
	softInk    = theme.Light.Soft
	faint      = theme.Light.Grid
	faintMark  = theme.Mark
	gutterFill = theme.Light.Gutter
	casing     = theme.Light.Casing
	paper      = theme.Light.Paper

	// The ends of the ramp for oil. A film below faintOil of the ramp, as balls carry it
	// beyond the pattern, fades into the paper of dry lane.
	oilThin, oilFull = theme.Light.Oil[0], theme.Light.Oil[1]
)

// oilColor returns the colour of a film at the share t of the film at the full end of the
// ramp.
func oilColor(t float64) color.NRGBA {
	if !(t > 0) {
		return paper
	}
	if t < faintOil {
		return theme.Blend(paper, oilThin, t/faintOil)
	}
	return theme.Blend(oilThin, oilFull, t)
}

// faintOil is the share of the ramp below which a film is faint.
const faintOil = 0.01

// maxOverlay is how many shots may share a panel; it is the number of styles.
const maxOverlay = theme.Shots

// stroke is how a line is drawn.
type stroke struct {
	color color.NRGBA
	width float64   // points
	dash  []float64 // lengths on, off, … in points; nil is a full line
}

// times is the stroke with another width.
func (s stroke) times(width float64) stroke {
	s.width *= width
	return s
}

// shotStroke returns the line of the i-th shot of a panel: since prints may be grey, it
// has a dash of its own beside its colour.
func (t measures) shotStroke(i int) stroke {
	i %= maxOverlay
	s := stroke{color: theme.Light.Paths[i], width: t.pathWidth}
	for _, length := range theme.Dashes[i] {
		s.dash = append(s.dash, length*t.pathWidth)
	}
	return s
}

// typeface is the family of all lettering.
const typeface = "Liberation"

var fonts = font.NewCache(liberation.Collection())

// lettering is a size of type in points, regular or bold.
type lettering struct {
	size float64
	bold bool
}

func (l lettering) face() font.Face {
	f := font.Font{Typeface: typeface, Variant: "Sans"}
	if l.bold {
		f.Weight = stdfont.WeightBold
	}
	return fonts.Lookup(f, vg.Points(l.size))
}
