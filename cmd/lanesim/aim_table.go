package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/plots"
	"lanesim/report"
	"lanesim/studies"
)

// byWords say what a measure is the share of.
func byWords(m studies.LineMeasure) string {
	if m == studies.ByPocketShare {
		return "share in the pocket"
	}
	return "share in the pocket at a good angle"
}

// percentOf prints a count's share with its interval.
func percentOf(c studies.Count) []string {
	i := studies.WilsonInterval(c)
	return []string{report.Share(c.Share()), report.Share(i.Low) + " to " + report.Share(i.High)}
}

// table tells the lines to people.
func (a *aiming) table(color report.Paint) string {
	var b strings.Builder
	if a.title != "" {
		b.WriteString(color.Heading(a.title) + "\n")
	}
	for _, t := range a.list {
		fmt.Fprintf(&b, "\n%s\n\n", color.Heading(t.name(a.players)))
		if t.none != nil {
			b.WriteString(t.none.Error() + "\n")
			continue
		}
		b.WriteString(t.linesTable().String())
		b.WriteString("\n" + t.sentence() + "\n\n")
		b.WriteString(t.roomTable().String())
	}
	for _, r := range a.ranking() {
		fmt.Fprintf(&b, "\n%s %s on %s, by the %s\n\n", color.Heading("balls"), r.bowler, r.lane, byWords(r.by))
		b.WriteString(r.table().String())
	}
	fmt.Fprintf(&b, "\nShares are counted from %d deliveries, with their 95 %% interval; all lines and balls\nhave the same deviations.\n", a.shots)
	b.WriteString(a.tried.words(color))
	return b.String()
}

// linesTable tells the best line, the others and the bowler's own; speed and axis
// rotation where lines differ in them.
func (t aimed) linesTable() report.Grid {
	type named struct {
		name string
		line studies.Line
	}
	lines := []named{{"best", t.Best}}
	for i, l := range t.RunnersUp {
		lines = append(lines, named{fmt.Sprint(i + 2), l})
	}
	if t.Own != nil {
		lines = append(lines, named{"as written", *t.Own})
	}
	several := slices.ContainsFunc(lines, func(n named) bool {
		r, best := n.line.Release, t.Best.Release
		return r.Speed != best.Speed || r.AxisRotation != best.AxisRotation
	})
	header := []string{"", "laydown", "arrows", "angle, deg"}
	if several {
		header = append(header, "speed, mph", "rotation, deg")
	}
	rows := [][]string{append(header, "pocket", "95 %", "and good angle", "95 %", "behind")}
	for i, n := range lines {
		r := n.line.Release
		row := []string{n.name, report.Figure(r.Laydown), report.Figure(n.line.Arrows), report.Figure(degrees(r.Angle))}
		if several {
			row = append(row, report.Figure(milesPerHour(r.Speed)), report.Figure(degrees(r.AxisRotation)))
		}
		row = append(append(row, percentOf(n.line.Pocket)...), percentOf(n.line.Good)...)
		if i > 0 {
			row = append(row, behindWords(n.line.Against(t.Best, t.By)))
		}
		rows = append(rows, row)
	}
	left := make([]bool, len(rows[0]))
	left[0], left[len(left)-1] = true, true
	return report.Grid{Left: left, Rows: rows}
}

// behindWords tell by how much a line or a ball is behind the best.
func behindWords(p studies.Paired) string {
	i := p.Interval()
	words := fmt.Sprintf("%s (%s to %s)", report.Share(-p.Difference()), report.Share(-i.High), report.Share(-i.Low))
	if !p.Significant() {
		words += " not significant"
	}
	return words
}

// sentence says where the best line goes.
func (t aimed) sentence() string {
	s := t.Best.Shot.Summary
	if s.EntryBoard == nil {
		return "The best line itself does not reach the pins."
	}
	text := fmt.Sprintf("The best line enters on board %s at %s°", report.Figure(*s.EntryBoard), report.Figure(degrees(*s.EntryAngle)))
	if p := t.Best.Shot.Events.Breakpoint; p != nil {
		text += fmt.Sprintf(", breakpoint board %s at %s ft", report.Figure(p.Board), report.Figure(stateFeet(*p)))
	}
	text += "."
	if !t.Best.Shot.Summary.Pocket {
		text += " That is beside the pocket,\ninto which its deliveries scatter: it has no room alone."
	}
	return text
}

// aimRooms are what a line's room is told in: both sides of no miss.
var aimRooms = []struct {
	label    string
	sides    [2]string
	decimals int
	of       func(r studies.Room) [2]float64
}{
	{"boards at the arrows", [2]string{"left", "right"}, 2, func(r studies.Room) [2]float64 { return [2]float64{r.Left, r.Right} }},
	{"speed, mph", [2]string{"slower", "faster"}, 2, func(r studies.Room) [2]float64 {
		return [2]float64{milesPerHour(r.Slower), milesPerHour(r.Faster)}
	}},
	{"rev rate, rpm", [2]string{"less", "more"}, 1, func(r studies.Room) [2]float64 {
		return [2]float64{revsPerMinute(r.Less), revsPerMinute(r.More)}
	}},
}

func (t aimed) roomTable() report.Grid {
	rows := [][]string{{"may miss alone and still hit the pocket", "", "", "", ""}}
	for _, r := range aimRooms {
		v := r.of(t.Room)
		row := []string{r.label}
		for side, words := range r.sides {
			row = append(row, words, report.Figure(v[side]))
			if math.IsNaN(v[side]) {
				row[len(row)-1] = "any"
			}
		}
		rows = append(rows, row)
	}
	return report.Grid{Left: []bool{true, true, false, true, false}, Rows: rows}
}

func (r rankedBalls) table() report.Grid {
	rows := [][]string{{"", "share", "95 %", "behind the best"}}
	for i, b := range r.balls {
		behind := ""
		if i > 0 {
			behind = behindWords(b.pair)
		}
		rows = append(rows, append(append([]string{b.ball}, percentOf(b.share)...), behind))
	}
	return report.Grid{Left: []bool{true, false, true, true}, Rows: rows}
}

// draw draws the maps and the rooms.
func (a *aiming) draw(path string, size plots.Size) ([]file, error) {
	f := plots.AimFigure{Title: a.title, Size: size}
	maps := a.maps()
	rooms := make([]plots.AimRoom, len(aimRooms))
	for i, r := range aimRooms {
		rooms[i] = plots.AimRoom{Label: r.label, Sides: r.sides, Decimals: r.decimals, Unlimited: "any"}
	}
	for i, t := range a.list {
		if t.none != nil {
			continue
		}
		m := plots.AimMap{
			Label:   byWords(t.By) + ", %",
			Laydown: maps[i].Laydown, Arrows: maps[i].Arrows, Share: maps[i].Good,
			Best:  plots.AimLine{Laydown: t.Best.Release.Laydown, Arrows: t.Best.Arrows},
			Words: fmt.Sprintf("%.1f over %.1f: %s", t.Best.Release.Laydown, t.Best.Arrows, report.Percent(countBy(t.Best, t.By).Share(), 0)),
		}
		if t.By == studies.ByPocketShare {
			m.Share = maps[i].Pocket
		}
		if len(a.players) > 1 {
			m.Name = t.name(a.players)
			if t.By != a.by {
				m.Name += " (pocket alone)"
			}
		}
		for _, l := range t.RunnersUp {
			if l.Release.Speed == t.Best.Release.Speed && l.Release.AxisRotation == t.Best.Release.AxisRotation {
				m.Others = append(m.Others, plots.AimLine{Laydown: l.Release.Laydown, Arrows: l.Arrows})
			}
		}
		f.Maps = append(f.Maps, m)
		for k, r := range aimRooms {
			rooms[k].Misses = append(rooms[k].Misses, r.of(t.Room))
		}
	}
	f.Rooms = rooms
	f.Note = a.note()
	d, err := plots.Aim(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}

// note is the sentence under the title.
func (a *aiming) note() string {
	var parts []string
	for _, t := range a.list {
		if t.none != nil {
			continue
		}
		c := countBy(t.Best, t.By)
		i := studies.WilsonInterval(c)
		words := fmt.Sprintf("from board %.1f over board %.1f, %s (%s to %s)", t.Best.Release.Laydown, t.Best.Arrows, report.Share(c.Share()), report.Share(i.Low), report.Share(i.High))
		if len(a.players) > 1 {
			words = t.name(a.players) + " " + words
		}
		parts = append(parts, words)
	}
	others := ""
	if slices.ContainsFunc(a.list, func(t aimed) bool { return len(t.RunnersUp) > 0 }) {
		others = " Numbers mark other lines."
	}
	const most = 3 // that a sentence takes
	if len(parts) > most {
		return "Marked are the best lines, whose figures are counted from shots; the maps are interpolated." + others
	}
	best := "Best line: "
	if len(parts) > 1 {
		best = "Best lines: "
	}
	return best + strings.Join(parts, "; ") + ". The figure at a mark is counted from shots, the map is interpolated." + others
}
