package plots

import (
	"errors"
	"fmt"
	"image"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"lanesim/internal/theme"
	"lanesim/report"
)

// SweepMap is a quantity over two fields that vary: Values[i][j] belongs to X[i] and Y[j],
// which increase; NaN where it does not exist.
type SweepMap struct {
	Label  string // with its unit; maps of one label have one scale
	Name   string // distinguishes it from others of the same label; may be empty
	X, Y   []float64
	Values [][]float64

	of mapOf // whose colours it has

	// Changed marks points that are thrown on another line than the bowler's own;
	// nil if none is.
	Changed [][]bool
}

// heading returns the text above the map.
func (m SweepMap) heading() string {
	if m.Name == "" {
		return m.Label
	}
	return m.Label + ": " + m.Name
}

// SweepMapFigure is the input of a figure of a sweep over two fields.
type SweepMapFigure struct {
	Title string
	Note  string // a sentence under the title
	X, Y  string // name the fields, with their units
	Maps  []SweepMap
	Size  Size
}

// SweepMaps draws each quantity as a map with labelled contour lines in one quiet hue with
// a scale. Between the points it is interpolated linearly in both directions. Where it does
// not exist the map is blank. Crosses mark points on another line than the bowler's own.
//
// It is an error if there is no map or more than [MaxSweepPanels], or if a map
// has fewer than two values of a field, or another number of values than points.
func SweepMaps(f SweepMapFigure) (*Drawing, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	p := titledPage(f.Title, f.Note, f.Size)
	p.panels(len(f.Maps), math.Inf(1), p.body.leading(), func(i int, left, right float64) { p.sweepMap(f, i, left, right) })
	p.y -= p.body.leading()
	return p.finish(), nil
}

// panels draws n panels in as many columns as the page has, none wider than widest, and moves the page
// on, with a gap below each row.
func (p *page) panels(n int, widest, below float64, draw func(i int, left, right float64)) {
	p.inColumns(n, min(p.laneColumns, n), panelGap, widest, below, draw)
}

// inColumns draws n panels in columns with gaps between.
func (p *page) inColumns(n, columns int, gap, widest, below float64, draw func(i int, left, right float64)) {
	column := min(widest, (p.inner()-gap*float64(columns-1))/float64(columns))
	for i := 0; i < n; i += columns {
		top, bottom := p.y, p.y
		for j := range min(columns, n-i) {
			p.y = top
			left := p.margin + float64(j)*(column+gap)
			draw(i+j, left, left+column)
			bottom = max(bottom, p.y)
		}
		p.y = bottom + below
	}
}

// panelGap is the width in points between columns of panels.
const panelGap = 20.0

// columnRight returns the right side of the first of n panels.
func (p *page) columnRight(n int) float64 {
	columns := float64(min(p.laneColumns, n))
	return p.margin + (p.inner()-panelGap*(columns-1))/columns
}

// check returns an error for maps that cannot be drawn.
func (f SweepMapFigure) check() error {
	if n := len(f.Maps); n == 0 || n > MaxSweepPanels {
		return fmt.Errorf("plots: %d maps: a figure takes 1 to %d", n, MaxSweepPanels)
	}
	for _, m := range f.Maps {
		if err := m.check(); err != nil {
			return err
		}
	}
	return nil
}

// shareMap returns a map, in percent, of shares from 0 to 1.
func shareMap(x, y []float64, share [][]float64, of mapOf) SweepMap {
	m := SweepMap{X: x, Y: y, of: of}
	for _, column := range share {
		percent := slices.Clone(column)
		floats.Scale(100, percent)
		m.Values = append(m.Values, percent)
	}
	return m
}

func (m SweepMap) check() error {
	if len(m.X) < 2 || len(m.Y) < 2 || len(m.Values) != len(m.X) {
		return errors.New("plots: a map needs two values of each field at least, and a column of values for each of the first")
	}
	for _, column := range m.Values {
		if len(column) != len(m.Y) {
			return errors.New("plots: a map needs a value for each point")
		}
	}
	for _, axis := range [][]float64{m.X, m.Y} {
		for i := 1; i < len(axis); i++ {
			if !(axis[i] > axis[i-1]) {
				return errors.New("plots: the values of a field must increase")
			}
		}
	}
	return nil
}

// Measures of a map.
const (
	mapShape     = 0.72 // height over width
	mapLevels    = 7    // about how many contour lines
	mapFine      = 120  // samples in either direction
	mapBarHeight = 0.8  // of the scale, over the size of type
	contourWidth = 1.3  // over that of a rule
)

// levels returns round numbers between which the bands of all maps of a label
// lie.
func (f SweepMapFigure) levels(label string) (at []float64, decimals int) {
	values := emptySpan()
	for _, m := range f.Maps {
		for _, column := range m.Values {
			for _, v := range column {
				if m.Label == label {
					values.include(v)
				}
			}
		}
	}
	switch {
	case values.min > values.max:
		return nil, 0
	case values.min == values.max:
		values = values.atLeast(max(math.Abs(values.max), 1) / 10)
	}
	step := niceStep((values.max - values.min) / mapLevels)
	around := values.rounded(mapLevels)
	for i := math.Round(around.min / step); i <= math.Round(around.max/step); i++ {
		at = append(at, i*step)
	}
	_, decimals = span{0, step * mapLevels}.ticks(mapLevels)
	return at, decimals
}

// sample returns the value at a place between the points.
func (m SweepMap) sample(x, y float64) float64 {
	cell := func(axis []float64, at float64) (int, float64) {
		i, _ := slices.BinarySearch(axis, at)
		i = min(max(i-1, 0), len(axis)-2)
		return i, (at - axis[i]) / (axis[i+1] - axis[i])
	}
	i, u := cell(m.X, x)
	j, w := cell(m.Y, y)
	v := m.Values
	return (1-u)*((1-w)*v[i][j]+w*v[i][j+1]) + u*((1-w)*v[i+1][j]+w*v[i+1][j+1])
}

// sweepMap draws a map between left and right and moves the page on.
func (p *page) sweepMap(f SweepMapFigure, index int, left, right float64) {
	m := f.Maps[index]
	levels, decimals := f.levels(m.Label)
	p.paragraph(m.heading(), p.label, left, right-left, 2, ink)
	p.text(p.small.shorten("upward: "+f.Y, right-left), p.small, left, p.y, softInk)
	p.y += 1.9 * p.small.size
	if levels == nil {
		p.paragraph("does not exist for any of the shots", p.small, left, right-left, 1, softInk)
		return
	}
	at, yDecimals := span{m.Y[0], m.Y[len(m.Y)-1]}.ticks(6)
	inset := p.axisLeft
	for _, v := range at {
		inset = max(inset, p.small.width(report.Fixed(v, yDecimals))+6)
	}
	area := p.mapArea(left+inset, right, p.y)
	p.mapIn(m, area, levels, levels, decimals, func(x, y scale) { p.crosses(m, x, y) }, nil)
	p.text(p.small.shorten(f.X, area.right-left), p.small, area.left, p.y, softInk)
	p.y += 1.6 * p.small.size
	p.mapScale(levels, decimals, area, ramps[m.of])
}

// mapArea returns the area of a map.
func (p *page) mapArea(left, right, top float64) box {
	right -= 0.7 * p.small.size
	return box{left, top, right, top + mapShape*(right-left)}
}

// mapIn draws a map in an area with labelled contour lines at the given levels, and moves
// the page below the numbers of the lower axis. The two functions, if any, draw what lies
// under the frame and over it; what lies over it keeps labels off.
func (p *page) mapIn(m SweepMap, area box, levels, contours []float64, decimals int, under func(x, y scale), over func(x, y scale, room *placer)) {
	x := scale{span{m.X[0], m.X[len(m.X)-1]}, area.left, area.right}
	y := scale{span{m.Y[0], m.Y[len(m.Y)-1]}, area.bottom, area.top}
	fine := m.fine()
	p.elements = append(p.elements, imageElement{area, fine.picture(levels, ramps[m.of])})
	lines := fine.contours(contours, func(u, w float64) point {
		return point{area.left + u*area.width(), area.bottom - w*area.height()}
	})
	room := placer{frame: area.grown(-2)}
	for _, c := range lines {
		if c.length() < 2.5*p.small.size {
			continue // a speck, where values are close to a level
		}
		p.line(c.points, stroke{color: softInk, width: contourWidth * p.rule})
		room.paths = append(room.paths, c.points)
	}
	if under != nil {
		under(x, y)
	}
	p.frame(area, stroke{color: softInk, width: p.rule})
	if over != nil {
		over(x, y, &room)
	}
	p.contourLabels(lines, decimals, &room)
	at, yDecimals := y.ticks(6)
	for _, v := range at {
		h := y.at(v)
		p.line([]point{{area.left - 4, h}, {area.left, h}}, p.edge())
		// The lowest keeps clear of the first number below.
		p.endingAt(report.Fixed(v, yDecimals), p.small, point{area.left - axisGap, min(h, area.bottom-0.12*p.small.size)}, softInk)
	}
	p.y = area.bottom
	p.distances(x, p.small.leading())
}

// crosses marks the points on another line, or only some of them where they are dense.
func (p *page) crosses(m SweepMap, x, y scale) {
	arm := 0.22 * p.small.size
	apart := func(n int, width float64) int { return max(int(math.Ceil(5*arm*float64(n-1)/width)), 1) }
	for i := 0; i < len(m.Changed); i += apart(len(m.X), x.to-x.from) {
		for j := 0; j < len(m.Changed[i]); j += apart(len(m.Y), y.from-y.to) {
			if !m.Changed[i][j] {
				continue
			}
			p.cross(point{x.at(m.X[i]), y.at(m.Y[j])}, arm, stroke{color: ink, width: p.rule})
		}
	}
}

// mapScale draws the bands with their bounds.
func (p *page) mapScale(levels []float64, decimals int, area box, colors ramp) {
	n := len(levels) - 1
	bar := box{area.left, p.y, area.right, p.y + mapBarHeight*p.small.size}
	width := bar.width() / float64(n)
	for i := range n {
		p.rectangle(box{bar.left + float64(i)*width, bar.top, bar.left + float64(i+1)*width, bar.bottom}, colors.band(i, n))
	}
	p.frame(bar, stroke{color: softInk, width: p.hairline})
	p.y = bar.bottom + 3
	free := math.Inf(-1)
	for i, v := range levels {
		text := report.Fixed(v, decimals)
		w := p.small.width(text)
		at := min(max(bar.left+float64(i)*width-w/2, area.left-w/2), area.right+0.7*p.small.size-w)
		if at < free {
			continue
		}
		p.text(text, p.small, at, p.y, softInk)
		free = at + w + 0.6*p.small.size
	}
	p.y += p.small.leading()
}

// contourLabels writes its value on each contour line, near its middle, on a plate that
// interrupts the line. Short lines have no label.
func (p *page) contourLabels(lines []contour, decimals int, room *placer) {
	for _, c := range lines {
		text := report.Fixed(c.level, decimals)
		w, h := p.small.width(text), p.small.height()
		if c.length() < 4*w {
			continue
		}
		// From the middle outward, the first place that is free.
		for step := range len(c.points) {
			i := len(c.points)/2 + (step+1)/2*(1-2*(step%2))
			if i < 0 || i >= len(c.points) {
				continue
			}
			at := c.points[i]
			b := box{at.x - w/2, at.y - h/2, at.x + w/2, at.y + h/2}
			if !room.free(b) {
				continue
			}
			room.take(b)
			p.rectangle(b.grown(1), theme.Plate)
			p.text(text, p.small, b.left, b.top, ink)
			break
		}
	}
}

// fineMap is a map on an even grid: values[i][j] at i to the right and j upward.
type fineMap struct{ values [][]float64 }

func (m SweepMap) fine() fineMap {
	f := fineMap{make([][]float64, mapFine+1)}
	for i := range f.values {
		x := m.X[0] + (m.X[len(m.X)-1]-m.X[0])*float64(i)/mapFine
		f.values[i] = make([]float64, mapFine+1)
		for j := range f.values[i] {
			y := m.Y[0] + (m.Y[len(m.Y)-1]-m.Y[0])*float64(j)/mapFine
			f.values[i][j] = m.sample(x, y)
		}
	}
	return f
}

// picture paints the bands, some pixels for each step.
func (f fineMap) picture(levels []float64, colors ramp) image.Image {
	const pixels = 4
	height, width := mapFine*pixels, mapFine*pixels
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for a := range width {
		for b := range height {
			u, w := (float64(a)+0.5)/float64(width)*mapFine, (float64(height-1-b)+0.5)/pixels
			i, j := int(u), int(w)
			u, w = u-float64(i), w-float64(j)
			v := (1-u)*((1-w)*f.values[i][j]+w*f.values[i][j+1]) + u*((1-w)*f.values[i+1][j]+w*f.values[i+1][j+1])
			c := paper
			if finite(v) {
				band, _ := slices.BinarySearch(levels, v)
				c = colors.band(min(max(band-1, 0), len(levels)-2), len(levels)-1)
			}
			img.SetNRGBA(a, b, c)
		}
	}
	return img
}
