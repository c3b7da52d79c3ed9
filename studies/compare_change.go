package studies

import (
	"math"
	"strings"

	"lanesim/physics"
)

// each applies an operation to two changes, number by number.
func (c Change) each(d Change, f func(x, y float64) float64) Change {
	return Change{f(c.AtPins, d.AtPins), f(c.Breakpoint, d.Breakpoint), f(c.EntryAngle, d.EntryAngle), f(c.HookStart, d.HookStart)}
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
var nothing = Change{math.NaN(), math.NaN(), math.NaN(), math.NaN()}

// readings are the four numbers of one shot.
type readings struct {
	Change
	kind physics.BreakpointKind
}

// read reads them off a shot; a shot that does not get to the pins has none.
func read(s physics.Shot) readings {
	r := readings{Change: nothing}
	e := s.Events
	if e.Pins == nil {
		return r
	}
	r.AtPins, r.EntryAngle = e.Pins.Board, e.Pins.Heading
	if e.HookStart != nil {
		r.HookStart = e.HookStart.Distance
	}
	if e.Breakpoint != nil {
		r.Breakpoint, r.kind = e.Breakpoint.Distance, e.Breakpoint.Kind
	}
	return r
}

// minus is the difference of two shots. Breakpoints of different kinds have
// none.
func (r readings) minus(s readings) Change {
	c := r.Change.minus(s.Change)
	if r.kind != s.kind {
		c.Breakpoint = math.NaN()
	}
	return c
}

// firstLine is the first line of an error's text.
func firstLine(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}
