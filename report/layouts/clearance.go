package layouts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/units"
)

// Clearance is a distance on a drilled ball that should not be small.
type Clearance struct {
	Kind, Lane  string // pin, bottoms, track or bow_tie; Lane is "" if it does not depend on the shot
	What        string
	Distance    float64 // m; negative over a hole
	Least       float64 // m, below which there is a warning
	First, Last float64 // m, to the first and to the last track; NaN for other kinds
}

func (c Clearance) short() bool { return c.Distance < c.Least }

// FindClearances returns the clearances of a ball with its layout: from the pin to the holes, between the
// holes, and on each lane from the holes to the tracks and to the bow-ties.
func FindClearances(l Layout, least ball.Clearances) []Clearance {
	d := l.Drilling
	var list []Clearance
	add := func(key, lane, what string, distance, least float64) {
		list = append(list, Clearance{key, lane, what, distance, least, math.NaN(), math.NaN()})
	}
	for _, h := range d.Holes {
		if l.Specification.Layout != nil {
			add("pin", "", "pin to the edge of the "+h.Name+" hole", h.ToEdge(d.Before.Frame.Pin, d.Radius), least.Pin)
		}
	}
	for i, h := range d.Holes {
		for _, other := range d.Holes[:i] {
			add("bottoms", "", "wall between "+other.Name+" and "+h.Name+" hole", ball.WallBetween(other, h, d.Radius), least.Bottoms)
		}
	}
	for _, f := range l.Flares {
		if f.Shot == nil {
			continue
		}
		for _, h := range d.Holes {
			c := Clearance{"track", f.Lane, h.Name + " hole to the nearest track", math.Inf(1), least.Track, math.NaN(), math.NaN()}
			for i, turn := range f.Turns {
				if len(turn.Points) == 0 {
					continue
				}
				track := make([]r3.Vec, len(turn.Points))
				for k, p := range turn.Points {
					track[k] = p.Direction
				}
				to := h.TrackToEdge(track, d.Radius)
				if i == 0 {
					c.First = to
				}
				c.Last = to
				c.Distance = min(c.Distance, to)
			}
			if !math.IsInf(c.Distance, 1) {
				list = append(list, c)
			}
		}
		if len(f.BowTies) == 0 {
			continue
		}
		for _, h := range d.Holes {
			nearest := math.Inf(1)
			for _, b := range f.BowTies {
				nearest = min(nearest, h.ToEdge(b.Place, d.Radius))
			}
			add("bow_tie", f.Lane, h.Name+" hole to the nearest bow-tie", nearest, least.BowTie)
		}
	}
	return list
}

// notFelt says that shots ignore the holes in the contact.
const notFelt = "holes are not felt by the contact: the shot rolls over them as over the cover"

func clearanceText(c Clearance) string {
	switch {
	case c.Distance < 0:
		return "over the hole"
	case c.Kind == "bottoms" && c.Distance < meeting:
		return "none, the holes meet"
	}
	text := fractionOf(c.Distance, markedParts)
	if c.short() {
		least, _ := units.Fraction(c.Least, markedParts)
		text += " (" + Millimetres(c.Distance) + "), below " + least
	}
	return text
}

// meeting is the wall in m below which holes count as meeting.
const meeting = units.Inch / 64

// ClearanceWarning lists the clearances below their least values, "" if there are none.
func ClearanceWarning(l Layout) string {
	var near []string
	over := false
	for _, c := range l.Clearances {
		if !c.short() {
			continue
		}
		text := c.What
		if c.Lane != "" {
			text += " on " + c.Lane
		}
		near = append(near, text+" "+clearanceText(c))
		over = over || c.Kind == "track" && c.Distance < 0
	}
	if len(near) == 0 {
		return ""
	}
	text := fmt.Sprintf("%s for %s: small clearances (least distances assumed, set under settings.clearances): %s", l.Ball, l.Bowler, strings.Join(near, "; "))
	if over {
		text += ". Here " + notFelt
	}
	return text + "."
}

// clearanceSection lists the clearances that do not depend on a lane, and those on the lanes of flares.
func clearanceSection(l Layout, flares []Flare) Section {
	s := Section{Heading: "Clearance, to the edges as drilled"}
	over := false
	for _, c := range l.Clearances {
		if c.Lane != "" && !slices.ContainsFunc(flares, func(f Flare) bool { return f.Lane == c.Lane }) {
			continue
		}
		name := c.What
		if c.Lane != "" && len(l.Flares) > 1 {
			name += ", " + c.Lane
		}
		value := clearanceText(c)
		if !math.IsNaN(c.First) {
			side := func(v float64) string {
				return strings.TrimSuffix(strings.TrimPrefix(clearanceText(Clearance{Distance: v, Least: math.Inf(-1)}), about), " in")
			}
			value += "; first " + side(c.First) + ", last " + side(c.Last)
		}
		s.add(name, value)
		over = over || c.Kind == "track" && c.Distance < 0
	}
	if over {
		s.add("A track runs over a hole; "+notFelt+".", "")
	}
	return s
}

// OverHoles warns of the holes that the track of a shot crosses, "" if there are none. The track is in the
// body axes of the drilled ball.
func OverHoles(track []physics.TrackPoint, d ball.Drilling) string {
	f := d.After.Frame
	line := make([]r3.Vec, len(track))
	for i, p := range track {
		line[i] = r3.Add(r3.Scale(p.Point[0], f.Pin), r3.Add(r3.Scale(p.Point[1], f.Intermediate), r3.Scale(p.Point[2], f.PSA)))
	}
	var over []string
	for _, h := range d.Holes {
		if h.TrackToEdge(line, d.Radius) < 0 {
			over = append(over, h.Name)
		}
	}
	switch len(over) {
	case 0:
		return ""
	case 1:
		return "the track runs over the " + over[0] + " hole; " + notFelt + "."
	}
	return "the track runs over the holes " + strings.Join(over, ", ") + "; " + notFelt + "."
}
