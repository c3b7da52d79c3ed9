package main

import (
	"fmt"
	"math"
	"strings"

	"lanesim/physics"
	"lanesim/plots"
)

// draw draws the comparison: a block for each bowler, or several where a bowler
// has more shots than a block takes. Each block begins with the bowler's first
// shot.
func (c *comparison) draw(path string, size plots.Size) ([]file, error) {
	f := plots.CompareFigure{Title: c.title, Pocket: c.scenario[0].Settings.Pocket, Size: size}
	if f.Pocket == (physics.Window{}) {
		f.Pocket = physics.DefaultPocket
	}
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
	first := c.shots[shots[0]]
	b := plots.CompareBlock{Lane: c.list[shots[0]].Lane}
	if c.sameBowler(shots) {
		b.Name = first.bowler
	}
	for k, i := range shots {
		other := shots[0]
		if k == 0 {
			other = shots[1]
		}
		name, _ := c.names(i, other)
		b.Series = append(b.Series, plots.Series{Name: name, Shot: c.result.Shots[i].Shot, Hand: c.list[i].Release.Hand})
		b.ContactWidths = append(b.ContactWidths, c.list[i].Ball.Memory.ContactWidth)
	}
	return b
}

// sameBowler reports whether shots are of one bowler.
func (c *comparison) sameBowler(shots []int) bool {
	for _, i := range shots {
		if c.shots[i].bowler != c.shots[shots[0]].bowler {
			return false
		}
	}
	return true
}

// note is the sentence under the title: the headline of the only pair or, for
// several, what to look at.
func (c *comparison) note(blocks [][]int) string {
	said := ""
	if len(c.result.Pairs) == 1 {
		p := c.result.Pairs[0]
		a, b := c.names(p.A, p.B)
		said = c.result.Headline(0, a, b)
	} else {
		who := "Each shot against the first of its panel"
		if a, b, ok := c.oneContrast(); ok {
			who = b + " against " + a
		}
		said = fmt.Sprintf("%s: %s.", who, c.entries(blocks))
	}
	if c.onSeveralLanes(blocks) {
		said += " The oil drawn is that of the first."
	}
	return said
}

// oneContrast returns the names of a and b if they are the same in all pairs.
func (c *comparison) oneContrast() (a, b string, ok bool) {
	for k, p := range c.result.Pairs {
		x, y := c.names(p.A, p.B)
		if k > 0 && (x != a || y != b) {
			return "", "", false
		}
		a, b = x, y
	}
	return a, b, true
}

// entries tells by how many boards the shots enter from the first of their
// block.
func (c *comparison) entries(blocks [][]int) string {
	low, high, lost := math.Inf(1), math.Inf(-1), 0
	for _, shots := range blocks {
		a := c.result.Shots[shots[0]].Shot.Events.Pins
		for _, i := range shots[1:] {
			b := c.result.Shots[i].Shot.Events.Pins
			if a == nil || b == nil {
				lost++
				continue
			}
			low, high = min(low, b.Board-a.Board), max(high, b.Board-a.Board)
		}
	}
	var parts []string
	switch from, to := plusBoards(low), plusBoards(high); {
	case low > high:
	case from == to:
		parts = append(parts, from+" boards at the pins")
	default:
		parts = append(parts, from+" to "+to+" boards at the pins")
	}
	if lost > 0 {
		parts = append(parts, fmt.Sprintf("%d not to be compared there", lost))
	}
	return strings.Join(parts, ", ")
}

// plusBoards prints boards with their sign, a true minus.
func plusBoards(v float64) string { return strings.Replace(fmt.Sprintf("%+.1f", v), "-", "−", 1) }

func (c *comparison) onSeveralLanes(blocks [][]int) bool {
	for _, shots := range blocks {
		for _, i := range shots {
			if c.shots[i].lane != c.shots[shots[0]].lane {
				return true
			}
		}
	}
	return false
}
