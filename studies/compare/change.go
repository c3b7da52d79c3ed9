package compare

import (
	"math"

	"lanesim/physics"
	"lanesim/units"
)

// each applies a function to two changes, number by number.
func (c Change) each(d Change, f func(x, y float64) float64) Change {
	return Change{
		AtPins: f(c.AtPins, d.AtPins), FrictionRead: f(c.FrictionRead, d.FrictionRead), Breakpoint: f(c.Breakpoint, d.Breakpoint),
		HookStart: f(c.HookStart, d.HookStart), EntryAngle: f(c.EntryAngle, d.EntryAngle),
	}
}

func (c Change) plus(d Change) Change {
	return c.each(d, func(x, y float64) float64 { return x + y })
}

func (c Change) minus(d Change) Change {
	return c.each(d, func(x, y float64) float64 { return x - y })
}

func (c Change) times(f float64) Change {
	return c.each(c, func(x, _ float64) float64 { return f * x })
}

// where returns the change with NaN for the numbers that are NaN in d.
func (c Change) where(d Change) Change {
	return c.each(d, func(x, y float64) float64 {
		if math.IsNaN(y) {
			return y
		}
		return x
	})
}

// readings are the numbers of one shot. An event that does not occur has a reading, too, usually the end of
// the shot. So shares can be computed when a mixed shot lacks an event.
type readings struct {
	Change
	exists Change // 0 where the event occurred, else NaN
	lost   bool   // did not reach the pins
}

// readingsOf returns the readings of a shot.
func readingsOf(s physics.Shot, r physics.Release) readings {
	exists := func(s *physics.State) float64 {
		if s == nil {
			return math.NaN()
		}
		return 0
	}
	e := s.Events
	v := readings{lost: e.Pins == nil, exists: Change{
		AtPins: exists(e.Pins), FrictionRead: exists(e.FrictionRead), Breakpoint: exists(e.Breakpoint), HookStart: exists(e.HookStart), EntryAngle: exists(e.Pins),
	}}

	var end physics.State
	for _, at := range []*physics.State{e.Gutter, e.Pins} {
		if at != nil {
			end = *at
		}
	}
	farthestOut := r.LaydownDistance // for a ball that never moves outward
	if end.Heading < 0 {
		farthestOut = end.Distance
	}
	first := func(otherwise float64, events ...*physics.State) float64 {
		for _, at := range events {
			if at != nil {
				return at.Distance
			}
		}
		return otherwise
	}
	v.Change = Change{
		AtPins: end.Board, FrictionRead: first(end.Distance, e.FrictionRead), Breakpoint: first(farthestOut, e.Breakpoint),
		HookStart: first(end.Distance, e.HookStart, e.RollStart), EntryAngle: end.Heading,
	}
	return v
}

// difference returns the mean of b − a over the phases and its standard deviation.
func difference(a, b *phasedShot) (mean, spread Change) {
	n := max(len(a.readings), len(b.readings))
	each := make([]Change, n)
	for k := range each {
		x, y := a.reading(k), b.reading(k)
		each[k] = y.Change.minus(x.Change).plus(x.exists).plus(y.exists)
		spread = spread.plus(each[k])
	}
	mean = b.mean().minus(a.mean()).where(spread)
	spread = spread.times(0)
	for _, d := range each {
		off := d.minus(mean)
		spread = spread.plus(off.each(off, func(x, y float64) float64 { return x * y }))
	}
	return mean, spread.each(spread, func(x, _ float64) float64 { return math.Sqrt(x / float64(max(n-1, 1))) })
}

// finer divides the tolerance of the shots that estimate the numerical error; their own error is a small part
// of the difference.
const finer = 30.0

// errorMargin multiplies the error estimated from two tolerances: mixed shots, which are not thrown again,
// may have a larger one.
const errorMargin = 2.0

// leastError is the least numerical error at the default tolerance, since two shots may agree by chance.
var leastError = Change{AtPins: 0.01, FrictionRead: 0.02 * units.Foot, Breakpoint: 0.01 * units.Foot, EntryAngle: 0.006 * units.Degree, HookStart: 0.03 * units.Foot}

// numericalError estimates the numerical error of a pair. The least error falls nearly in proportion to the
// tolerance; the square root of the tolerance is used, to be safe.
func numericalError(a, b variants, tolerance float64) Change {
	least := leastError.times(math.Sqrt(tolerance / physics.DefaultTolerance))
	size := func(v variants) Change { return v.full.mean().minus(v.finer.mean()) }
	return size(a).each(size(b), func(x, y float64) float64 { return errorMargin * (math.Abs(x) + math.Abs(y)) }).each(least, math.Max)
}
