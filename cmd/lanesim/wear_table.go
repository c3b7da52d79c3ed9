package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/report"
)

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
	fmt.Fprintf(&b, "%s over %s of %s\n\n", color.Heading("pocket share"), report.Counting(w.result.Sessions, "session"), report.Counting(counted, "delivery"))
	header := []string{"shots"}
	for _, i := range used {
		header = append(header, names[i], "entry board")
	}
	blocks := report.Grid{Left: []bool{true}, Rows: [][]string{header}}
	for from := 0; from < counted; from += w.study.Block {
		row := []string{fmt.Sprintf("%d–%d", from+1, min(from+w.study.Block, counted))}
		for _, i := range used {
			share, board := report.Absent, report.Absent
			for _, k := range w.result.Blocks {
				if k.From == from && k.Setup == i {
					share, board = report.Percent(k.PocketShare, 0), report.Figure(k.EntryBoardMean)
				}
			}
			row = append(row, share, board)
		}
		blocks.Rows = append(blocks.Rows, row)
	}
	b.WriteString(blocks.String())

	b.WriteString("\n" + color.Heading("how long each line stays") + "\n\n")
	stays := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "below", "by shot", "95 % interval"}}}
	for _, s := range w.result.Stays {
		if slices.Contains(used, s.Setup) {
			stays.Rows = append(stays.Rows, []string{names[s.Setup], belowShare(s.Share), shotNumber(s.Median), shotRange(s.Interval)})
		}
	}
	b.WriteString(stays.String())
	if w.result.Sessions == 1 {
		b.WriteString("one session leaves this to chance: --sessions plays more\n")
	}

	if len(w.moves) > 0 {
		b.WriteString("\n" + color.Heading("moves at the end of the first session") + "\n\n")
		moves := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "stays put", "moved", "feet, boards", "arrows, boards"}}}
		for _, m := range w.moves {
			row := []string{names[m.player], report.Share(m.Before), report.Absent, report.Absent, report.Absent}
			if m.Found {
				row = []string{names[m.player], report.Share(m.Before), report.Share(m.After), report.Signed(m.Feet, 2), report.Signed(m.Arrows, 2)}
			}
			moves.Rows = append(moves.Rows, row)
		}
		b.WriteString(moves.String())
		for _, line := range w.moveWords(names) {
			b.WriteString(line + "\n")
		}
	}

	b.WriteString(w.tried.words(color))

	o := w.result.Oil
	b.WriteString("\n" + color.Heading("oil") + "\n\n")
	b.WriteString(report.Grid{Left: []bool{true}, Rows: [][]string{
		{"mL", ""},
		{"on the lane at first", report.Figure(millilitres(o.Start))},
		{"on the lane at the end", report.Figure(millilitres(o.Lane))},
		{"wiped off the balls", report.Figure(millilitres(o.Balls))},
		{"soaked in", report.Figure(millilitres(o.Soaked))},
	}}.String())
	return b.String()
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
		return report.Absent
	}
	return report.Share(v)
}

func shotRange(v [2]float64) string {
	if math.IsNaN(v[0]) {
		return report.Absent
	}
	return shotNumber(v[0]) + " to " + shotNumber(v[1])
}

func shotNumber(v float64) string {
	switch {
	case math.IsNaN(v):
		return report.Absent
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
					t.bowler, w.players[better.player].ball, w.players[worse.player].ball, report.Share(better.After), report.Share(worse.After)))
			}
		}
	}
	return lines
}
