package main

import (
	"fmt"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies"
)

// between prints an interval of differences of shares.
func between(i studies.Interval) string { return report.Points(i.Low) + " to " + report.Points(i.High) }

// table tells the spread to people.
func (w *spreadWork) table(color report.Paint) string {
	var b strings.Builder
	if w.title != "" {
		b.WriteString(color.Heading(w.title) + "\n\n")
	}
	fmt.Fprintf(&b, "%s of %s\n\n", color.Heading("pocket share"), w.deliveries())
	b.WriteString(w.shareTable().String())
	b.WriteString("\n" + color.Heading("at the pins") + "\n\n")
	b.WriteString(w.entryTable().String())
	for i := range w.result.Setups {
		if misses, told := w.missTable(i); told {
			fmt.Fprintf(&b, "\n%s\n\n%s", color.Heading("what each miss costs: "+w.players[i].name(w.players)), misses)
			if words := w.missWords(i); words != "" {
				b.WriteString(words + "\n")
			}
		}
	}
	if len(w.result.Differences) > 0 {
		fmt.Fprintf(&b, "\n%s\n\n%s", color.Heading("pocket shares of one bowler compared, over the same deliveries"), w.differenceTable(color))
	}
	w.carry.write(&b, w, color)
	return b.String()
}

// deliveries says how many there were.
func (w *spreadWork) deliveries() string {
	if len(w.players) == 1 {
		return report.Counting(w.result.Shots, "delivery")
	}
	return report.Counting(w.result.Shots, "delivery") + " each"
}

func (w *spreadWork) shareTable() report.Grid {
	t := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "pocket", "95 % interval", "good angle", "pocket missed", "not at the pins"}}}
	for i, s := range w.result.Setups {
		t.Rows = append(t.Rows, []string{w.players[i].name(w.players),
			report.Share(s.Pocket.Share()), report.Share(s.PocketInterval.Low) + " to " + report.Share(s.PocketInterval.High), report.Share(s.GoodAngle.Share()),
			fmt.Sprint(s.Ends[physics.Pins] - s.Pocket.Hits), ends(s)})
	}
	return t
}

// ends counts the deliveries that did not get to the pins, by how they ended.
func ends(s studies.ScatteredSetup) string {
	var parts []string
	for _, status := range []physics.Status{physics.Gutter, physics.FoulLine, physics.Stopped, physics.Lifted, physics.TimeLimit} {
		if n := s.Ends[status]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, status))
		}
	}
	if parts == nil {
		return "0"
	}
	return strings.Join(parts, ", ")
}

func (w *spreadWork) entryTable() report.Grid {
	t := report.Grid{Left: []bool{true}, Rows: [][]string{
		{"", "mean", "sd", "5 %", "25 %", "50 %", "75 %", "95 %"},
	}}
	row := func(name string, d studies.Distribution, in func(float64) float64) {
		cells := []string{name, report.Fixed(in(d.Mean), 2), report.Fixed(in(d.SD), 2)}
		for _, q := range d.Quantiles {
			cells = append(cells, report.Fixed(in(q), 2))
		}
		t.Rows = append(t.Rows, cells)
	}
	for i, s := range w.result.Setups {
		name := w.players[i].name(w.players)
		row(name+": entry board", s.EntryBoard, same)
		row(name+": entry angle, deg", s.EntryAngle, degrees)
	}
	return t
}

// missTable tells what each deviation costs, and whether there is one.
func (w *spreadWork) missTable(i int) (string, bool) {
	s := w.result.Setups[i]
	header := []string{"", "−σ, boards", "+σ, boards", "of boards", "± (s.e.)", "without it, points", "95 % interval"}
	sobol := false
	for _, m := range s.Misses {
		sobol = sobol || m.Indices != nil
	}
	if sobol {
		header = append(header, "board S", "board T", "pocket S", "pocket T")
	}
	t := report.Grid{Left: []bool{true}, Rows: [][]string{header}}
	any := false
	for _, m := range s.Misses {
		if m.Without.Of() == 0 && m.Plus == 0 && m.Minus == 0 {
			continue // does not vary
		}
		any = true
		row := []string{missNames[m.Of], report.Signed(m.Minus, 2), report.Signed(m.Plus, 2), report.Share(max(0, m.Board.Value)), report.Share(m.Board.Error),
			report.Points(m.Without.Difference()), between(m.Without.Interval())}
		if x := m.Indices; x != nil {
			for _, e := range []studies.Estimate{x.BoardFirst, x.BoardTotal, x.PocketFirst, x.PocketTotal} {
				row = append(row, fmt.Sprintf("%s ± %s", report.Fixed(e.Value, 2), report.Fixed(e.Error, 2)))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t.String(), any
}

// missNames are what a bowler calls the deviations.
var missNames = map[studies.Varied]string{
	studies.VariedLaydown: "laydown", studies.VariedAngle: "launch angle", studies.VariedSpeed: "speed",
	studies.VariedRevRate: "rev rate", studies.VariedAxisRotation: "axis rotation", studies.VariedAxisTilt: "axis tilt",
	studies.VariedPhase: "phase of the release",
}

// missWords names the deviation that costs most, if chance does not explain it.
func (w *spreadWork) missWords(i int) string {
	var best *studies.Miss
	several := 0
	list := w.result.Setups[i].Misses
	for k := range list {
		m := &list[k]
		if m.Without.Of() == 0 {
			continue
		}
		several++
		if best == nil || m.Without.Difference() > best.Without.Difference() {
			best = m
		}
	}
	switch {
	case best == nil:
		return ""
	case !best.Without.SignificantAmong(several) || best.Without.Difference() <= 0:
		return fmt.Sprintf("no single miss costs more than chance explains over %s, as the largest of %d", report.Counting(best.Without.Of(), "delivery"), several)
	}
	return fmt.Sprintf("%s costs most: without it %s of the first %d deliveries end in the pocket rather than %s", missNames[best.Of],
		report.Share(withoutShare(best.Without)), best.Without.Of(), report.Share(withoutShare(best.Without)-best.Without.Difference()))
}

// contrast names two players by what differs between them.
func contrast(a, b player) (string, string) {
	pair := []player{a, b}
	return a.name(pair), b.name(pair)
}

// sharedBy names what two players that are compared share, as far as others differ.
func (w *spreadWork) sharedBy(d studies.ShareDifference) string {
	a, b := w.players[d.A], w.players[d.B]
	parts := []string{a.bowler}
	for _, of := range []func(player) string{func(t player) string { return t.ball }, func(t player) string { return t.lane }} {
		several := false
		for _, t := range w.players {
			several = several || of(t) != of(a)
		}
		if several && of(a) == of(b) {
			parts = append(parts, of(a))
		}
	}
	return strings.Join(parts, ", ")
}

func (w *spreadWork) differenceTable(color report.Paint) string {
	t := report.Grid{Left: []bool{true, true, true, false, false, true}, Rows: [][]string{{"", "a", "b", "b − a, points", "95 % interval", ""}}}
	t.Style = func(row, column int, text string) string {
		if row > 0 && column == 5 {
			return color.Notable(text)
		}
		return text
	}
	for _, d := range w.result.Differences {
		a, b := contrast(w.players[d.A], w.players[d.B])
		who := w.sharedBy(d)
		said := ""
		if !d.Significant() {
			said = "not significant"
		}
		t.Rows = append(t.Rows, []string{who, a, b, report.Points(d.Difference()), between(d.Interval()), said})
	}
	return t.String()
}
