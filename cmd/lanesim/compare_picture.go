package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/plots"
	"lanesim/report"
)

// draw draws the comparison: a block for each bowler, or several where a bowler
// has more shots than a block takes. Each block begins with the bowler's first
// shot.
func (c *comparison) draw(path string, size plots.Size) ([]file, error) {
	f := plots.CompareFigure{Title: c.Title, Pocket: report.Pocket(c.scenario[0].Settings), Visible: c.Result.Visible.Boards, Size: size}
	var blocks [][]int
	for _, all := range c.blocks() {
		for rest := all[1:]; len(rest) > 0; {
			n := min(plots.MaxCompared-1, len(rest))
			blocks = append(blocks, append([]int{all[0]}, rest[:n]...))
			rest = rest[n:]
		}
	}
	if len(blocks) > plots.MaxSeries/plots.MaxCompared {
		return nil, wrongInput("%d sets of shots are too many for a picture, which takes %d", len(blocks), plots.MaxSeries/plots.MaxCompared)
	}
	for _, shots := range blocks {
		f.Blocks = append(f.Blocks, c.block(shots))
	}
	f.Note = c.note(blocks)
	d, err := plots.Compare(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}

// block draws shots over the oil of the first.
func (c *comparison) block(shots []int) plots.CompareBlock {
	first := c.Shots[shots[0]]
	b := plots.CompareBlock{Lane: c.list[shots[0]].Lane}
	if c.sameBowler(shots) {
		b.Name = first.Bowler
	}
	for k, i := range shots {
		other := shots[0]
		if k == 0 {
			other = shots[1]
		}
		name, _ := c.Names(i, other)
		b.Series = append(b.Series, plots.Series{Name: name, Shot: c.Result.Shots[i].Shot, Hand: c.list[i].Release.Hand})
		b.ContactWidths = append(b.ContactWidths, c.list[i].Ball.Memory.ContactWidth)
	}
	return b
}

// sameBowler reports whether shots are of one bowler.
func (c *comparison) sameBowler(shots []int) bool {
	for _, i := range shots {
		if c.Shots[i].Bowler != c.Shots[shots[0]].Bowler {
			return false
		}
	}
	return true
}

// note is the sentence under the title: the headline of the only pair or, for
// several, the range of the answers.
func (c *comparison) note(blocks [][]int) string {
	said := ""
	if len(c.Result.Pairs) == 1 {
		for p := range c.Pairs() {
			said = p.Headline()
		}
	} else {
		said = c.answers(blocks)
	}
	if c.onSeveralLanes(blocks) {
		said += " The oil drawn is that of the first."
	}
	return said
}

// answers tells how the shots differ from the first of their block.
func (c *comparison) answers(blocks [][]int) string {
	who := "Each shot against the first of its panel"
	if a, b, ok := c.OneContrast(); ok {
		who = b + " against " + a
	}
	var read, pins []float64
	seen, lost := 0, 0
	for _, p := range c.Result.Pairs {
		if !drawnTogether(blocks, p.A, p.B) {
			continue
		}
		if p.Visible {
			seen++
		}
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
	words := who + ": " + strings.Join(parts, ", ") + "."
	if seen == 0 {
		v := c.Result.Visible
		return fmt.Sprintf("No difference that could be seen (below %.2g ft and %.2g board). %s", report.Foot.In(v.FrictionRead), v.Boards, words)
	}
	return words
}

// drawnTogether reports whether b is measured against a in one of the blocks.
func drawnTogether(blocks [][]int, a, b int) bool {
	return slices.ContainsFunc(blocks, func(shots []int) bool { return shots[0] == a && slices.Contains(shots, b) })
}

// rangeText prints the range of differences, in words where all are of one side.
func rangeText(list []float64, negative, positive, unit string) string {
	low, high := slices.Min(list), slices.Max(list)
	if low < 0 && high > 0 {
		return fmt.Sprintf("%.1f %s %s to %.1f %s", -low, unit, negative, high, positive)
	}
	word := positive
	if high <= 0 {
		low, high, word = -high, -low, negative
	}
	from, to := fmt.Sprintf("%.1f", low), fmt.Sprintf("%.1f", high)
	if from == to {
		return fmt.Sprintf("%s %s %s", to, unit, word)
	}
	return fmt.Sprintf("%s to %s %s %s", from, to, unit, word)
}

func (c *comparison) onSeveralLanes(blocks [][]int) bool {
	for _, shots := range blocks {
		for _, i := range shots {
			if c.Shots[i].Lane != c.Shots[shots[0]].Lane {
				return true
			}
		}
	}
	return false
}
