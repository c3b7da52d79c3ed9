package plots

import (
	"image"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// point is a place on a drawing: points (1/72 in) from its left and from its
// top edge.
type point struct{ x, y float64 }

// Drawing is a figure laid out, ready to be written.
type Drawing struct {
	Width, Height float64 // in points (1/72 in)

	resolution int // dots per inch of the PNG
	title      string
	note       string // the sentence under the title
	elements   []element

	headElements int     // how many of the elements are title and note
	headEnd      float64 // where they end

	stage Stage
}

// Texts returns every piece of text on the drawing, in the order drawn.
func (d *Drawing) Texts() []string {
	var all []string
	for _, e := range d.elements {
		if t, ok := e.(textElement); ok {
			all = append(all, t.text)
		}
	}
	return all
}

// element is a part of a drawing.
type element interface {
	// paint draws the element on a canvas whose origin is at the bottom
	// left; height is the drawing's.
	paint(c vg.Canvas, height float64)

	// onPaper draws it on a page of a PDF.
	onPaper(p *pdfPage)
}

type lineElement struct {
	points []point
	stroke stroke
}

type areaElement struct {
	points []point // a closed outline
	fill   color.NRGBA
}

type imageElement struct {
	box box
	img image.Image
}

// textElement is one line of text that starts at left on the baseline.
type textElement struct {
	text           string
	letters        lettering
	left, baseline float64
	color          color.NRGBA
}

func toPath(points []point, height float64) vg.Path {
	path := make(vg.Path, 0, len(points)+1)
	for i, p := range points {
		q := vg.Point{X: vg.Points(p.x), Y: vg.Points(height - p.y)}
		if i == 0 {
			path.Move(q)
		} else {
			path.Line(q)
		}
	}
	return path
}

func (e lineElement) paint(c vg.Canvas, height float64) {
	c.SetColor(e.stroke.color)
	c.SetLineWidth(vg.Points(e.stroke.width))
	dash := make([]vg.Length, len(e.stroke.dash))
	for i, d := range e.stroke.dash {
		dash[i] = vg.Points(d)
	}
	c.SetLineDash(dash, 0)
	c.Stroke(toPath(e.points, height))
}

func (e areaElement) paint(c vg.Canvas, height float64) {
	c.SetColor(e.fill)
	path := toPath(e.points, height)
	path.Close()
	c.Fill(path)
}

func (e imageElement) paint(c vg.Canvas, height float64) {
	c.DrawImage(vg.Rectangle{
		Min: vg.Point{X: vg.Points(e.box.left), Y: vg.Points(height - e.box.bottom)},
		Max: vg.Point{X: vg.Points(e.box.right), Y: vg.Points(height - e.box.top)},
	}, e.img)
}

func (e textElement) paint(c vg.Canvas, height float64) {
	c.SetColor(e.color)
	at := vg.Point{X: vg.Points(e.left), Y: vg.Points(height - e.baseline)}
	c.FillString(e.letters.face(), at, e.text)
}

// line adds a line through the points. Where a point is not finite, the line
// has a gap.
func (d *Drawing) line(points []point, s stroke) {
	for _, run := range runs(points) {
		d.elements = append(d.elements, lineElement{run, s})
	}
}

// runs splits a line at points that are not finite and leaves out isolated points.
func runs(points []point) [][]point {
	var all [][]point
	start := 0
	cut := func(end int) {
		if end-start > 1 {
			all = append(all, points[start:end])
		}
		start = end + 1
	}
	for i, p := range points {
		if !finite(p.x) || !finite(p.y) {
			cut(i)
		}
	}
	cut(len(points))
	return all
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (d *Drawing) area(points []point, fill color.NRGBA) {
	d.elements = append(d.elements, areaElement{points, fill})
}

func (d *Drawing) rectangle(b box, fill color.NRGBA) {
	d.area(b.corners(), fill)
}

func (d *Drawing) frame(b box, s stroke) { d.outline(b.corners(), s) }

// outline draws a closed line, with its first corner joined.
func (d *Drawing) outline(corners []point, s stroke) {
	d.line(append(slices.Clip(corners), corners[0], corners[1]), s)
}

// ring returns the corners of a circle.
func ring(centre point, radius float64, corners int) []point {
	list := make([]point, corners)
	for i := range list {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(corners))
		list[i] = point{centre.x + radius*cos, centre.y + radius*sin}
	}
	return list
}

func (d *Drawing) disc(centre point, radius float64, fill color.NRGBA) {
	d.area(ring(centre, radius, 24), fill)
}

// hollow draws a disc of paper with a rim.
func (d *Drawing) hollow(centre point, radius, rim float64, c color.NRGBA) {
	d.disc(centre, radius, c)
	d.disc(centre, radius-rim, paper)
}

// cross draws two lines that cross at a point.
func (d *Drawing) cross(at point, arm float64, s stroke) {
	d.line([]point{{at.x - arm, at.y - arm}, {at.x + arm, at.y + arm}}, s)
	d.line([]point{{at.x - arm, at.y + arm}, {at.x + arm, at.y - arm}}, s)
}

// text adds a line of text with its box's top left corner at (left, top) and
// returns its box.
func (d *Drawing) text(s string, l lettering, left, top float64, c color.NRGBA) box {
	s = printable(s)
	d.elements = append(d.elements, textElement{
		text: s, letters: l, left: left, baseline: top + l.ascent(), color: c,
	})
	return box{left, top, left + l.width(s), top + l.height()}
}

// centred adds a line of text about a point.
func (d *Drawing) centred(s string, l lettering, at point, c color.NRGBA) {
	d.text(s, l, at.x-l.width(s)/2, at.y-l.height()/2, c)
}

// endingAt adds a line of text that ends at a point.
func (d *Drawing) endingAt(s string, l lettering, at point, c color.NRGBA) {
	d.text(s, l, at.x-l.width(s), at.y-l.height()/2, c)
}

// boxes returns the boxes that the texts fill.
func (d *Drawing) boxes() []box {
	var all []box
	for _, e := range d.elements {
		if t, ok := e.(textElement); ok && t.text != "" {
			top := t.baseline - t.letters.ascent()
			all = append(all, box{t.left, top, t.left + t.letters.width(t.text), top + t.letters.height()})
		}
	}
	return all
}
