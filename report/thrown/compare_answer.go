package thrown

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/report"
)

// Answer describes several pairs in a few sentences: the ranges of the differences, on each lane if there are
// several, how many are visible, and which shot is the smoother. For one pair it is the headline.
func (c *Comparison) Answer() string {
	if len(c.Result.Pairs) == 1 {
		return c.pair(0).Headline()
	}
	const mostListed = 3
	if _, _, one := c.OneContrast(); !one && len(c.Result.Pairs) <= mostListed {
		var parts []string
		for p := range c.Pairs() {
			parts = append(parts, p.nameB+" against "+p.nameA+": "+rangesOf([]Pair{p})+".")
		}
		return strings.Join(parts, " ")
	}
	who := "Each b against its a"
	a, b, one := c.OneContrast()
	if one {
		who = b + " against " + a
	}
	var lanes []string
	byLane := map[string][]Pair{}
	for p := range c.Pairs() {
		lane := p.common(func(s Shot) string { return s.Lane })
		if byLane[lane] == nil {
			lanes = append(lanes, lane)
		}
		byLane[lane] = append(byLane[lane], p)
	}
	const mostLanes = 3
	if len(lanes) > mostLanes {
		lanes, byLane = []string{""}, map[string][]Pair{"": slices.Collect(c.Pairs())}
	}
	var parts []string
	for _, lane := range lanes {
		words := rangesOf(byLane[lane])
		if len(lanes) > 1 {
			words = "on " + lane + " " + words
		}
		parts = append(parts, words)
	}
	words := who + ": " + strings.Join(parts, "; ") + "."
	seen, smoother := 0, map[int]int{}
	for p := range c.Pairs() {
		if p.Visible {
			seen++
		}
		smoother[c.Result.Smoother(p.Pair)]++
	}
	n := len(c.Result.Pairs)
	switch v := c.Result.Visible; seen {
	case n:
	case 0:
		words = fmt.Sprintf("No visible difference (below %.2g ft and %.2g board). %s", report.Foot.In(v.FrictionRead), v.Boards, words)
	default:
		words += fmt.Sprintf(" %d of %d are visible.", seen, n)
	}
	if one {
		return words + smootherWords(smoother, n, a, b)
	}
	return words + c.smoothestWords()
}

// smoothestWords names the shots whose entry changes least and most when the line is missed.
func (c *Comparison) smoothestWords() string {
	least, most := math.Inf(1), math.Inf(-1)
	var smoothest, wildest string
	for p := range c.Pairs() {
		for i, name := range map[int]string{p.A: p.nameA, p.B: p.nameB} {
			r := c.missRange(i)
			if r < least || r == least && name < smoothest {
				least, smoothest = r, name
			}
			if r > most || r == most && name < wildest {
				most, wildest = r, name
			}
		}
	}
	if !(most-least >= c.Result.Visible.Boards) {
		return ""
	}
	return fmt.Sprintf(" A line that is missed by a board moves the entry least from %s, over %.1f boards, and most from %s, over %.1f.", smoothest, least, wildest, most)
}

// smootherWords says in how many pairs each shot is the smoother.
func smootherWords(count map[int]int, n int, a, b string) string {
	switch {
	case count[1] == 0 && count[-1] == 0:
		return " Neither is smoother when the line is missed by a board."
	case count[-1] == 0:
		return fmt.Sprintf(" %s is the smoother, when the line is missed by a board, in %d of %d.", a, count[1], n)
	case count[1] == 0:
		return fmt.Sprintf(" %s is the smoother, when the line is missed by a board, in %d of %d.", b, count[-1], n)
	}
	return fmt.Sprintf(" When the line is missed by a board, %s is the smoother in %d of %d and %s in %d.", a, count[1], n, b, count[-1])
}

// rangesOf returns the ranges of the differences of pairs.
func rangesOf(pairs []Pair) string {
	var read, pins []float64
	lost := 0
	for _, p := range pairs {
		if math.IsNaN(p.Difference.AtPins) {
			lost++
			continue
		}
		pins = append(pins, p.Difference.AtPins)
		if d := p.Difference.FrictionRead; !math.IsNaN(d) {
			read = append(read, report.Foot.In(d))
		}
	}
	var parts []string
	if len(read) > 0 {
		parts = append(parts, "friction read "+rangeText(read, "earlier", "later", "ft"))
	}
	if len(pins) > 0 {
		parts = append(parts, "at the pins "+rangeText(pins, "outside", "inside", "boards"))
	}
	if lost > 0 {
		parts = append(parts, fmt.Sprintf("%d not to be compared there", lost))
	}
	return strings.Join(parts, ", ")
}

// rangeText prints the range of differences, in words where all are of one side.
func rangeText(list []float64, negative, positive, unit string) string {
	low, high := slices.Min(list), slices.Max(list)
	from, to, side := fmt.Sprintf("%.1f", math.Abs(low)), fmt.Sprintf("%.1f", math.Abs(high)), positive
	switch {
	case low < 0 && high > 0 && from != "0.0" && to != "0.0":
		return fmt.Sprintf("%s %s %s to %s %s", from, unit, negative, to, positive)
	case low < 0 && from != "0.0":
		from, to, side = to, from, negative
	}
	if from == to {
		return fmt.Sprintf("%s %s %s", to, unit, side)
	}
	return fmt.Sprintf("%s to %s %s %s", from, to, unit, side)
}

// PairText describes a pair in three short lines: the friction read, the end of the ball, and the hits.
func (p Pair) PairText() []string {
	hits := p.hits(" → ")
	if math.IsNaN(p.Difference.AtPins) {
		return []string{"not to be compared", hits}
	}
	var lines []string
	if d := p.Difference.FrictionRead; !math.IsNaN(d) {
		lines = append(lines, "read "+rangeText([]float64{report.Foot.In(d)}, "earlier", "later", "ft"))
	}
	return append(lines, rangeText([]float64{p.Difference.AtPins}, "outside", "inside", "boards"), hits)
}

// hits returns the hits of both shots, or how they ended.
func (p Pair) hits(between string) string {
	a, b := p.shots()
	return cmp.Or(a.Hit(), "lost") + between + cmp.Or(b.Hit(), "lost")
}

// Place returns the row, by bowler and line, and the column, by lane, of a pair in a table.
func (p Pair) Place() (row, column string) {
	_, _, one := p.comparison.OneContrast()
	var names []string
	for _, of := range []func(Shot) string{func(s Shot) string { return s.Person }, func(s Shot) string { return s.Line }} {
		if name := p.common(of); name != "" {
			names = append(names, name)
		}
	}
	if !one {
		names = append(names, p.nameA+" → "+p.nameB)
	}
	return strings.Join(names, ", "), p.common(func(s Shot) string { return s.Lane })
}
