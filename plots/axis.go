package plots

import "math"

// span is an interval of numbers on an axis.
type span struct{ min, max float64 }

// include widens the span to hold v, unless v is no number.
func (s *span) include(v float64) {
	if finite(v) {
		s.min, s.max = min(s.min, v), max(s.max, v)
	}
}

func emptySpan() span { return span{math.Inf(1), math.Inf(-1)} }

// atLeast widens the span evenly to the given length; an empty one becomes
// one from 0.
func (s span) atLeast(length float64) span {
	if s.min > s.max {
		return span{0, length}
	}
	if short := length - (s.max - s.min); short > 0 {
		s.min -= short / 2
		s.max += short / 2
	}
	return s
}

// niceStep returns the smallest of 1, 2, 2.5 or 5 times a power of ten that
// is at least the given step.
func niceStep(step float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(step)))
	for _, m := range [...]float64{1, 2, 2.5, 5} {
		if m*power >= step*(1-tickRounding) {
			return m * power
		}
	}
	return 10 * power
}

// tickRounding is the share of a step by which rounding may move a tick: a
// few units in the last place times the ticks counted from 0, generously.
const tickRounding = 1e-6

// ticks returns round numbers within the span, about as many as asked, and
// the decimals to print them with.
func (s span) ticks(about int) (at []float64, decimals int) {
	step := niceStep((s.max - s.min) / float64(about))
	for i := math.Ceil(s.min/step - tickRounding); i*step <= s.max+tickRounding*step; i++ {
		at = append(at, i*step)
	}
	for decimals < 6 && math.Abs(step*math.Pow10(decimals)-math.Round(step*math.Pow10(decimals))) > tickRounding {
		decimals++
	}
	return at, decimals
}

// rounded widens the span to whole steps of the ticks that it would have.
func (s span) rounded(about int) span {
	step := niceStep((s.max - s.min) / float64(about))
	return span{
		step * math.Floor(s.min/step+tickRounding),
		step * math.Ceil(s.max/step-tickRounding),
	}
}

// scale maps numbers to a stretch of the drawing.
type scale struct {
	span
	from, to float64 // where min and max lie, in points
}

func (s scale) at(v float64) float64 {
	return s.from + (v-s.min)/(s.max-s.min)*(s.to-s.from)
}
