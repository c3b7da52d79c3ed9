package plots

import (
	"image/color"

	colours "lanesim/internal/theme"
)

// ramp is a quiet single hue for what a map shows, light enough at its full end for
// dark type on it, in colour and in grey.
type ramp struct{ thin, full color.NRGBA }

// mapOf is what a map has a colour for: maps of different measures never look alike.
type mapOf int

// The measures that have colours of their own.
const (
	mapOfOther   mapOf = iota
	mapOfGood          // share in the pocket at a good angle
	mapOfPocket        // share in the pocket
	mapOfStrikes       // share of strikes
)

var ramps = map[mapOf]ramp{
	mapOfOther:   {oilThin, oilFull},
	mapOfGood:    {color.NRGBA{0xf3, 0xef, 0xf7, 0xff}, color.NRGBA{0xb4, 0x97, 0xc8, 0xff}}, // violet
	mapOfPocket:  {color.NRGBA{0xee, 0xf5, 0xee, 0xff}, color.NRGBA{0x86, 0xb5, 0x8c, 0xff}}, // green
	mapOfStrikes: {color.NRGBA{0xfa, 0xf3, 0xe6, 0xff}, color.NRGBA{0xd9, 0xae, 0x6c, 0xff}}, // amber
}

// band is the colour of the i-th of n bands.
func (r ramp) band(i, n int) color.NRGBA {
	return colours.Blend(r.thin, r.full, (float64(i)+0.5)/float64(n))
}
