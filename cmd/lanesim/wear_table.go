package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/report"
)

func percent(v float64) string {
	if math.IsNaN(v) {
		return absent
	}
	return fmt.Sprintf("%.0f%%", 100*v)
}

// table tells the session to people.
func (w *wornSession) table(color report.Paint) string {
	var b strings.Builder
	if w.title != "" {
		b.WriteString(color.Heading(w.title) + "\n\n")
	}
	names := make([]string, len(w.players))
	for i, t := range w.players {
		names[i] = t.name(w.players)
	}
	used := w.used()

	counted := len(w.study.Order) - w.study.Practice
	fmt.Fprintf(&b, "%s over %s of %s\n\n", color.Heading("pocket share"), counting(w.result.Sessions, "session"), counting(counted, "delivery"))
	header := []string{"shots"}
	for _, i := range used {
		header = append(header, names[i], "entry board")
	}
	blocks := table{left: []bool{true}, rows: [][]string{header}}
	for from := 0; from < counted; from += w.study.Block {
		row := []string{fmt.Sprintf("%d–%d", from+1, min(from+w.study.Block, counted))}
		for _, i := range used {
			share, board := absent, absent
			for _, k := range w.result.Blocks {
				if k.From == from && k.Setup == i {
					share, board = percent(k.PocketShare), figure(k.EntryBoardMean)
				}
			}
			row = append(row, share, board)
		}
		blocks.rows = append(blocks.rows, row)
	}
	b.WriteString(blocks.String())

	b.WriteString("\n" + color.Heading("how long each line stays") + "\n\n")
	stays := table{left: []bool{true}, rows: [][]string{{"", "below", "by shot", "95 % interval"}}}
	for _, s := range w.result.Stays {
		if slices.Contains(used, s.Setup) {
			stays.rows = append(stays.rows, []string{names[s.Setup], belowShare(s.Share), shotNumber(s.Median), shotRange(s.Interval)})
		}
	}
	b.WriteString(stays.String())
	if w.result.Sessions == 1 {
		b.WriteString("one session leaves this to chance: --sessions plays more\n")
	}

	if len(w.moves) > 0 {
		b.WriteString("\n" + color.Heading("moves at the end of the first session") + "\n\n")
		moves := table{left: []bool{true}, rows: [][]string{{"", "stays put", "moved", "feet, boards", "arrows, boards"}}}
		for _, m := range w.moves {
			row := []string{names[m.player], tenths(m.Before), absent, absent, absent}
			if m.Found {
				row = []string{names[m.player], tenths(m.Before), tenths(m.After), plus(m.Feet), plus(m.Arrows)}
			}
			moves.rows = append(moves.rows, row)
		}
		b.WriteString(moves.String())
		for _, line := range w.moveWords(names) {
			b.WriteString(line + "\n")
		}
	}

	b.WriteString(w.tried.words(color))

	o := w.result.Oil
	b.WriteString("\n" + color.Heading("oil") + "\n\n")
	b.WriteString(table{left: []bool{true}, rows: [][]string{
		{"mL", ""},
		{"on the lane at first", figure(millilitres(o.Start))},
		{"on the lane at the end", figure(millilitres(o.Lane))},
		{"wiped off the balls", figure(millilitres(o.Balls))},
		{"soaked in", figure(millilitres(o.Soaked))},
	}}.String())
	return b.String()
}

// counting prints a number of things.
func counting(n int, thing string) string {
	switch {
	case n == 1:
		return "1 " + thing
	case strings.HasSuffix(thing, "y"):
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(thing, "y"))
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// used lists the players who bowl.
func (w *wornSession) used() []int {
	var list []int
	for i := range w.players {
		if slices.Contains(w.study.Order, i) {
			list = append(list, i)
		}
	}
	return list
}

// belowShare prints the share down to which a line stays; one that never hit in its
// first deliveries has none.
func belowShare(v float64) string {
	if v == 0 {
		return absent
	}
	return tenths(v)
}

func shotRange(v [2]float64) string {
	if math.IsNaN(v[0]) {
		return absent
	}
	return shotNumber(v[0]) + " to " + shotNumber(v[1])
}

func shotNumber(v float64) string {
	switch {
	case math.IsNaN(v):
		return absent
	case math.IsInf(v, 0):
		return "never"
	}
	return fmt.Sprintf("%.0f", v)
}

// moveWords tells, for each bowler, which ball serves better than which, and which
// line no move improves, as far as that is beyond chance.
func (w *wornSession) moveWords(names []string) []string {
	var lines []string
	for i, m := range w.moves {
		t := w.players[m.player]
		if m.Found && !m.Gain.Significant() {
			lines = append(lines, names[m.player]+": no move brings back more than chance explains.")
		}
		for _, n := range w.moves[i+1:] {
			other := w.players[n.player]
			if other.bowler != t.bowler || !m.Found || !n.Found {
				continue
			}
			better, worse := n, m
			if m.After > n.After {
				better, worse = m, n
			}
			if worse.Against(better.Moved).Significant() {
				lines = append(lines, fmt.Sprintf("%s: %s serves better now than %s, %s against %s.",
					t.bowler, w.players[better.player].ball, w.players[worse.player].ball, tenths(better.After), tenths(worse.After)))
			}
		}
	}
	return lines
}
