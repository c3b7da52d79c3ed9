package studies

import (
	"math"
	"strings"

	"lanesim/physics"
)

// each applies an operation to two changes, number by number.
func (c Change) each(d Change, f func(x, y float64) float64) Change {
	return Change{
		AtPins: f(c.AtPins, d.AtPins), FrictionRead: f(c.FrictionRead, d.FrictionRead), Breakpoint: f(c.Breakpoint, d.Breakpoint),
		EntryAngle: f(c.EntryAngle, d.EntryAngle), HookStart: f(c.HookStart, d.HookStart),
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

// plusSize adds the sizes of two changes.
func (c Change) plusSize(d Change) Change {
	return c.each(d, func(x, y float64) float64 { return math.Abs(x) + math.Abs(y) })
}

// atLeast returns the larger of each two numbers, and c's where d has none.
func (c Change) atLeast(d Change) Change {
	return c.each(d, func(x, y float64) float64 {
		if y > x {
			return y
		}
		return x
	})
}

// nothing is a change without numbers.
var nothing = Change{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}

// read reads the numbers off a shot; a shot that does not get to the pins has none.
func read(s physics.Shot) Change {
	r := nothing
	e := s.Events
	if e.Pins == nil {
		return r
	}
	r.AtPins, r.EntryAngle = e.Pins.Board, e.Pins.Heading
	for _, event := range []struct {
		of *float64
		at *physics.State
	}{{&r.HookStart, e.HookStart}, {&r.FrictionRead, e.FrictionRead}, {&r.Breakpoint, e.Breakpoint}} {
		if event.at != nil {
			*event.of = event.at.Distance
		}
	}
	return r
}

// firstLine is the first line of an error's text.
func firstLine(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}
