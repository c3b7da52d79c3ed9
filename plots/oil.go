package plots

import (
	"image"
	"image/color"
	"math"

	"lanesim/lane"
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

// oilFullScale returns the film, in units, at the full end of the ramp: a
// round number at or above the thickest film, or 0 on a dry lane.
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

// Words of the scale of the oil.
const (
	dryLane   = "dry lane"
	oilBefore = "oil film 0"
)

// oilScaleParts measures the scale: the words after its strip, the strip's
// length, the gap beside it and the whole width.
func (p *page) oilScaleParts(v *view) (after string, length, gap, width float64) {
	full := v.oilFullScale()
	if full == 0 {
		return dryLane, 0, 0, p.small.width(dryLane)
	}
	_, decimals := span{0, full}.ticks(2)
	after = decimal(full, decimals) + " units"
	length, gap = 6.5*p.small.size, 0.4*p.small.size
	return after, length, gap, p.small.width(oilBefore) + gap + length + gap + p.small.width(after)
}

func (p *page) oilScaleWidth(v *view) float64 {
	_, _, _, width := p.oilScaleParts(v)
	return width
}

// oilScale draws the ramp with its ends in units, from left on the row whose
// top is at top. On a dry lane it says so.
func (p *page) oilScale(v *view, left, top float64) {
	after, length, gap, width := p.oilScaleParts(v)
	p.text(after, p.small, left+width-p.small.width(after), top, softInk)
	if length == 0 {
		return
	}
	start := p.text(oilBefore, p.small, left, top, softInk).right + gap
	p.colorStrip(start, top, length, oilColor)
}

// colorStrip draws the colours of what goes from 0 to 1.
func (p *page) colorStrip(left, top, length float64, of func(t float64) color.NRGBA) {
	bar := box{left, top + 0.1*p.small.size, left + length, top + 0.85*p.small.size}
	const steps = 96
	strip := image.NewNRGBA(image.Rect(0, 0, steps, 1))
	for i := range steps {
		strip.SetNRGBA(i, 0, of((float64(i)+0.5)/steps))
	}
	p.elements = append(p.elements, imageElement{bar, strip})
	p.frame(bar, stroke{color: softInk, width: p.hairline})
}
