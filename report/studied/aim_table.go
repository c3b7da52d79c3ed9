package studied

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// ByWords say what a measure is the share of.
func ByWords(m aim.Measure) string {
	switch m {
	case aim.ByPocketShare:
		return "share in the pocket"
	case aim.ByStrikeShare:
		return "share of strikes (assumed)"
	}
	return "share in the pocket at a good angle"
}

// countTexts are a count's share and its interval.
func countTexts(c studies.Count) []string {
	return []string{report.Share(c.Share()), Between(studies.WilsonInterval(c))}
}

// Document reports the lines for people.
func (a *Aim) Document() report.Document {
	doc := report.Document{Title: a.Title}
	for _, t := range a.List {
		doc.Head(t.Name(a.Players))
		if t.None != nil {
			doc.Say(t.None.Error())
			continue
		}
		doc.Table(t.linesTable())
		doc.Say(t.sentence())
		if words := t.EdgeWords(); words != "" {
			doc.SayWrapped(words)
		}
		doc.Table(t.roomTable())
	}
	for _, r := range a.Ranking() {
		doc.HeadOf("", "balls", fmt.Sprintf(" %s on %s, by the %s", r.Bowler, r.Lane, ByWords(r.By)))
		doc.Table(r.table())
	}
	var pockets []physics.Window
	for _, t := range a.List {
		pockets = append(pockets, t.Pocket)
	}
	doc.SayWrapped(thrown.HitWords(pockets...))
	doc.Say(fmt.Sprintf("Shares are counted from %d deliveries, with their 95 %% interval; all lines and balls\nhave the same deviations.", a.Shots))
	doc.SayWrapped(TableWords("Strikes"))
	doc.Add(a.Tried.Words())
	return doc
}

// linesTable describes the best line, the others and the bowler's own; speed and axis
// rotation where lines differ in them.
func (t AimedBall) linesTable() report.Grid {
	type named struct {
		name string
		line aim.Line
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
	header := []string{"", "feet", "laydown", "arrows", "angle, deg"}
	if several {
		header = append(header, "speed, mph", "rotation, deg")
	}
	header = append(header, "pocket", "95 %", "and good angle", "95 %", "strikes, assumed")
	if t.By == aim.ByStrikeShare {
		header = append(header, "95 %")
	}
	rows := [][]string{append(header, "behind")}
	for i, n := range lines {
		r := n.line.Release
		row := []string{n.name, report.Board.Show(t.feet(n.line)), report.Board.Show(r.Laydown), report.Board.Show(n.line.Arrows), report.Degree.Digits(2).Show(r.Angle)}
		if several {
			row = append(row, report.MPH.Show(r.Speed), report.Degree.Show(r.AxisRotation))
		}
		strikes := countTexts(n.line.Strikes)
		if t.By != aim.ByStrikeShare {
			strikes = strikes[:1]
		}
		row = slices.Concat(row, countTexts(n.line.Pocket), countTexts(n.line.Good), strikes)
		if i > 0 {
			row = append(row, behindWords(n.line.Against(t.Best, t.By)))
		}
		rows = append(rows, row)
	}
	left := make([]bool, len(rows[0]))
	left[0], left[len(left)-1] = true, true
	return report.Grid{Left: left, Rows: rows}
}

// behindWords say by how much a line or a ball is behind the best.
func behindWords(p studies.Paired) string {
	i := p.Interval()
	words := fmt.Sprintf("%s (%s to %s)", report.Share(-p.Difference()), report.Share(-i.High), report.Share(-i.Low))
	if !p.Significant() {
		words += " not significant"
	}
	return words
}

// sentence says where the best line goes.
func (t AimedBall) sentence() string {
	s := t.Best.Shot.Summary
	if s.EntryBoard == nil {
		return "The best line itself does not reach the pins."
	}
	text := fmt.Sprintf("The best line enters on board %s at %s°", report.Board.Show(*s.EntryBoard), report.Degree.Show(*s.EntryAngle))
	if p := t.Best.Shot.Events.Breakpoint; p != nil {
		text += fmt.Sprintf(", breakpoint board %s at %s ft", report.Board.Show(p.Board), report.Foot.Show(p.Distance))
	}
	text += fmt.Sprintf(": %s.", t.hitOf(t.Best))
	if !t.Best.Shot.Summary.Pocket {
		text += " That is beside the pocket,\ninto which its deliveries scatter: it has no room alone."
	}
	if words := inGutter(t.Best.Gutter); words != "" {
		text += "\n" + words
	}
	return text
}

// EdgeWords warn of a best line on the edge of the search, empty if it lies within.
func (t AimedBall) EdgeWords() string {
	if t.None != nil || len(t.Edges) == 0 {
		return ""
	}
	return "The best line lies on the edge of the search, " + strings.Join(t.edgeTexts(), " and ") + ": a better one may lie beyond."
}

func (t AimedBall) edgeTexts() []string {
	var list []string
	for _, e := range t.Edges {
		at := "laydown"
		if e.AtArrows {
			at = "arrows"
		}
		list = append(list, fmt.Sprintf("board %.4g at the %s", e.Board, at))
	}
	return list
}

// AimRooms are what a line's room is given in: both sides of no miss.
var AimRooms = []struct {
	Label string
	Sides [2]string
	Unit  report.Unit
	of    func(r aim.Room) [2]float64
}{
	{"boards at the arrows", [2]string{"left", "right"}, report.Board.Digits(2), func(r aim.Room) [2]float64 { return [2]float64{r.Left, r.Right} }},
	{"speed, mph", [2]string{"slower", "faster"}, report.MPH.Digits(2), func(r aim.Room) [2]float64 { return [2]float64{r.Slower, r.Faster} }},
	{"rev rate, rpm", [2]string{"less", "more"}, report.RPM.Digits(1), func(r aim.Room) [2]float64 { return [2]float64{r.Less, r.More} }},
}

// RoomIn are both sides of a line's room in a unit of [AimRooms].
func RoomIn(k int, r aim.Room) [2]float64 {
	v := AimRooms[k].of(r)
	return [2]float64{AimRooms[k].Unit.In(v[0]), AimRooms[k].Unit.In(v[1])}
}

func (t AimedBall) roomTable() report.Grid {
	rows := [][]string{{"may miss alone and still hit the pocket", "", "", "", ""}}
	for _, r := range AimRooms {
		v := r.of(t.Room)
		row := []string{r.Label}
		for side, words := range r.Sides {
			row = append(row, words, r.Unit.Show(v[side]))
			if math.IsNaN(v[side]) {
				row[len(row)-1] = "any"
			}
		}
		rows = append(rows, row)
	}
	return report.Grid{Left: []bool{true, true, false, true, false}, Rows: rows}
}

func (r RankedBalls) table() report.Grid {
	rows := [][]string{{"", "share", "95 %", "behind the best"}}
	for i, b := range r.Balls {
		behind := ""
		if i > 0 {
			behind = behindWords(b.Pair)
		}
		rows = append(rows, append(append([]string{b.Ball}, countTexts(b.Share)...), behind))
	}
	return report.Grid{Left: []bool{true, false, true, true}, Rows: rows}
}

// Note is the sentence under a picture's title.
func (a *Aim) Note() string {
	others := ""
	if slices.ContainsFunc(a.List, func(t AimedBall) bool { return len(t.RunnersUp) > 0 }) {
		others = " Numbers mark other lines."
	}
	const most = 3 // that a sentence takes
	parts := a.lineTexts()
	if len(parts) > most {
		return "Marked are the best lines, whose figures are counted from shots; the maps between them are interpolated." + others
	}
	return a.BestLines() + " Figures at marks are counted from shots; the map between them is interpolated." + others
}

// BestLines is a sentence with the best line of each ball and its share.
func (a *Aim) BestLines() string {
	best, parts := "Best line: ", a.lineTexts()
	if len(parts) > 1 {
		best = "Best lines: "
	}
	return best + strings.Join(parts, "; ") + "."
}

func (a *Aim) lineTexts() []string {
	var parts []string
	for _, t := range a.List {
		if t.None != nil {
			continue
		}
		c := t.Best.Of(t.By)
		words := fmt.Sprintf("from board %s over board %s, %s", report.Board.Show(t.Best.Release.Laydown), report.Board.Show(t.Best.Arrows), shareText(c))
		if len(a.Players) > 1 {
			words = t.Name(a.Players) + " " + words
		}
		parts = append(parts, words)
	}
	return parts
}
