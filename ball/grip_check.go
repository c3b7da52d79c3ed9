package ball

import (
	"fmt"
	"math"

	"lanesim/internal/portable"
	"lanesim/units"
)

// GripError says what is wrong with a grip. Field is the path of the value
// within the grip, such as "middle.insert.outer".
type GripError struct {
	Field string
	Rule  string
}

func (e *GripError) Error() string { return "grip." + e.Field + ": " + e.Rule }

// check returns a [*GripError] if a size is impossible on a ball of the given
// radius in m. It does not look at where the holes lie.
func (g Grip) check(radius float64) error {
	if (g.Middle == nil) != (g.Ring == nil) || g.Thumb != nil && g.Middle == nil {
		return &GripError{"middle", "drill both finger holes, or no hole at all"}
	}
	if g.Middle == nil {
		return nil
	}
	values := []checked{{"bridge", g.Bridge, g.Bridge >= 0, "cannot be negative"},
		{"shell_density", g.ShellDensity, g.ShellDensity > 0, "must be above 0"}}
	if g.Thumb != nil {
		values = append(values, checked{"span.middle", g.MiddleSpan, g.MiddleSpan > 0, "must be above 0"},
			checked{"span.ring", g.RingSpan, g.RingSpan > 0, "must be above 0"})
	}
	for _, h := range g.named() {
		values = append(values, h.values(radius)...)
	}
	for _, c := range values {
		if !c.ok || math.IsInf(c.value, 0) || math.IsNaN(c.value) {
			return &GripError{c.field, c.rule}
		}
	}
	return nil
}

// checked is a value, whether it is possible, and the rule for it.
type checked struct {
	field string
	value float64
	ok    bool
	rule  string
}

func (h namedHole) values(radius float64) []checked {
	pitch := portable.Hypot(h.Forward, h.Lateral)
	list := []checked{
		{h.name + ".diameter", h.Diameter, h.Diameter > 0, "must be above 0"},
		{h.name + ".forward", pitch, h.Diameter/2+pitch < radius, fmt.Sprintf("the hole leaves the ball: pitch and half the hole's width must be below the ball's radius of %.4g in", radius/units.Inch)},
		{h.name + ".depth", h.Depth, h.Depth > 0 && h.Depth < radius, fmt.Sprintf("must lie between 0 and the ball's radius of %.4g in", radius/units.Inch)},
	}
	if h.Insert == nil {
		return list
	}
	i, path := *h.Insert, h.name+".insert."
	return append(list,
		checked{path + "outer", i.Outer, i.Outer >= 0 && i.Outer <= h.Diameter, fmt.Sprintf("the insert must fit into the hole of %.4g in", h.Diameter/units.Inch)},
		checked{path + "inner", i.Inner, i.Inner >= 0 && i.Inner < i.outer(h.Hole), fmt.Sprintf("must be below the insert's outer diameter of %.4g in", i.outer(h.Hole)/units.Inch)},
		checked{path + "length", i.Length, i.Length > 0 && i.Length <= h.Depth, fmt.Sprintf("must lie between 0 and the hole's depth of %.4g in", h.Depth/units.Inch)},
		checked{path + "density", i.Density, i.Density > 0, "must be above 0"},
	)
}
