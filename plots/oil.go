package plots

import (
	"image"
	"image/color"
	"math"

	"lanesim/lane"
	"lanesim/report"
	"lanesim/units"
)

// Resolution of the picture of the oil, in pixels per foot down-lane and per
// board: finer than any measured film, coarse enough for small files.
const (
	oilPixelsPerFoot  = 8
	oilPixelsPerBoard = 6
)

// thickest returns the thickest film of the map in units.
func thickest(o *lane.OilMap) float64 {
	most := 0.0
	if o != nil {
		for _, f := range o.Film {
			most = max(most, f/units.OilUnit)
		}
	}
	return most
}

// oilFullScale returns the film, in units, at the full end of the ramp: a round number at
// or above the thickest film, 0 for a dry lane.
func (v *view) oilFullScale() float64 {
	if v.fullScale > 0 {
		return v.fullScale
	}
	most := thickest(v.Lane.Oil)
	if most == 0 {
		return 0
	}
	return span{0, most}.rounded(8).max
}

// paint colours the places of the lane, in m, between the foul line and a distance:
// left to right down-lane, upward in the figure's count of boards.
func (v *view) paint(to float64, of func(x, y float64) color.NRGBA) image.Image {
	w := max(int(math.Round(to/units.Foot*oilPixelsPerFoot)), 1)
	h := lane.Boards * oilPixelsPerBoard
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for j := range h {
		board := lane.Boards + 0.5 - (float64(j)+0.5)/oilPixelsPerBoard
		y := v.lateral(board)
		for i := range w {
			img.SetNRGBA(i, j, of((float64(i)+0.5)/float64(w)*to, y))
		}
	}
	return img
}

// colorScale is a strip of colours with the words at its ends.
type colorScale struct {
	before, after string
	of            func(t float64) color.NRGBA // from 0 to 1; nil draws no strip
}

// oilScale returns the colour scale of the oil with its ends in units, or the word dry for
// a dry lane.
func (v *view) oilScale() colorScale {
	full := v.oilFullScale()
	if full == 0 {
		return colorScale{after: "dry lane"}
	}
	_, decimals := span{0, full}.ticks(2)
	return colorScale{"oil film 0", report.Fixed(full, decimals) + " units", oilColor}
}

// colorStrip is the length of the strip, and stripGap the gap on either side, in sizes of type.
const colorStrip, stripGap = 6.5, 0.4

func (p *page) scaleWidth(s colorScale) float64 {
	if s.of == nil {
		return p.small.width(s.after)
	}
	return p.small.width(s.before) + (colorStrip+2*stripGap)*p.small.size + p.small.width(s.after)
}

// colorScale draws a scale from left on the page's row.
func (p *page) colorScale(s colorScale, left float64) {
	p.text(s.after, p.small, left+p.scaleWidth(s)-p.small.width(s.after), p.y, softInk)
	if s.of == nil {
		return
	}
	start := p.text(s.before, p.small, left, p.y, softInk).right + stripGap*p.small.size
	bar := box{start, p.y + 0.1*p.small.size, start + colorStrip*p.small.size, p.y + 0.85*p.small.size}
	const steps = 96
	strip := image.NewNRGBA(image.Rect(0, 0, steps, 1))
	for i := range steps {
		strip.SetNRGBA(i, 0, s.of((float64(i)+0.5)/steps))
	}
	p.elements = append(p.elements, imageElement{bar, strip})
	p.frame(bar, stroke{color: softInk, width: p.hairline})
}

// lastScale draws the scale of the oil as the last row of a figure.
func (p *page) lastScale(v *view) {
	p.colorScale(v.oilScale(), p.margin)
	p.y += p.small.leading()
}
