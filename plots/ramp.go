package plots

import (
	"image/color"

	"lanesim/internal/theme"
)

// ramp has the ends of a ramp of colours.
type ramp [2]color.NRGBA

// mapOf is the measure of a map, which gives its colours, so that maps of different
// measures never look alike.
type mapOf int

// The measures that have colours of their own.
const (
	mapOfOther   mapOf = iota
	mapOfGood          // share in the pocket at a good angle
	mapOfPocket        // share in the pocket
	mapOfStrikes       // share of strikes
)

var ramps = map[mapOf]ramp{
	mapOfOther: theme.Light.Oil, mapOfGood: theme.GoodRamp, mapOfPocket: theme.PocketRamp, mapOfStrikes: theme.StrikeRamp,
}

// band is the colour of the i-th of n bands.
func (r ramp) band(i, n int) color.NRGBA {
	return theme.Blend(r[0], r[1], (float64(i)+0.5)/float64(n))
}
