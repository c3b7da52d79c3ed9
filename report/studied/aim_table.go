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

// ByWords describes the share of a measure.
func ByWords(m aim.Measure) string {
	switch m {
	case aim.ByPocketShare:
		return "share in the pocket"
	case aim.ByStrikeShare:
		return "share of strikes (assumed)"
	}
	return "share in the pocket at a good angle"
}

// Document returns the lines for people.
func (a *Aim) Document() report.Document {
	doc := report.Document{Title: a.Title}
	for _, t := range a.List {
		doc.Head(t.Name(a.Players))
		if t.None != nil {
			doc.Say(t.None.Error())
			continue
		}
		doc.Table(t.linesTable())
		if t.By != aim.ByStrikeShare {
			var strikes []studies.Mean
			for _, l := range t.lines() {
				strikes = append(strikes, shareOf(l.Strikes))
			}
			noteGoodTo(&doc, "shares of strikes", strikes)
		}
		doc.Say(t.sentence())
		doc.SayWrapped(t.EdgeWords())
		doc.Table(t.roomTable())
	}
	for _, r := range a.Ranking() {
		doc.HeadOf("", "balls", fmt.Sprintf(" %s on %s, by the %s", r.Bowler, r.Lane, ByWords(r.By)))
		doc.Table(r.table())
	}
	doc.SayWrapped(thrown.HitWords(a.List, func(t AimedBall) physics.Window { return t.Pocket }))
	doc.Say(fmt.Sprintf("Shares are counted from %d deliveries, with their 95 %% interval; all lines and balls\nhave the same deviations.", a.Shots))
	doc.SayWrapped(TableWords("Strikes"))
	doc.Add(a.Tried.Words())
	return doc
}

// namedLine is a line with its name in the table.
type namedLine struct {
	name string
	aim.Line
}

// lines returns the best line, the runners-up and the bowler's own.
func (t AimedBall) lines() []namedLine {
	lines := []namedLine{{"best", t.Best}}
	for i, l := range t.RunnersUp {
		lines = append(lines, namedLine{fmt.Sprint(i + 2), l})
	}
	if t.Own != nil {
		lines = append(lines, namedLine{"as written", *t.Own})
	}
	return lines
}

// linesTable returns the table of the lines, with speed and axis rotation if lines differ in them.
func (t AimedBall) linesTable() report.Grid {
	lines := t.lines()
	keys := []string{"feet_board", "laydown", "arrows_board", "angle_deg"}
	if slices.ContainsFunc(lines, func(n namedLine) bool {
		return n.Release.Speed != t.Best.Release.Speed || n.Release.AxisRotation != t.Best.Release.AxisRotation
	}) {
		keys = append(keys, "speed_mph", "axis_rotation_deg")
	}
	keys = append(keys, "pocket_share", "pocket_interval", "good_share", "good_interval", "strike_share")
	if t.By == aim.ByStrikeShare {
		keys = append(keys, "strike_interval")
	}
	return tableOf(lines, named(func(i int) string { return lines[i].name }), briefly(t.lineColumns(lines).Pick(keys...)),
		columns{report.Text("behind", "behind", "By how much it is behind the best", func(i int) string {
			if i == 0 {
				return ""
			}
			return behindWords(lines[i].Against(t.Best, t.By))
		})})
}

// behindWords describes how far a line or a ball is behind the best.
func behindWords(p studies.Paired) string {
	i := p.Interval()
	words := fmt.Sprintf("%s (%s to %s)", report.Share(-p.Difference()), report.Share(-i.High), report.Share(-i.Low))
	if !p.Significant() {
		words += " not significant"
	}
	return words
}

// sentence describes the best line.
func (t AimedBall) sentence() string {
	s := t.Best.Shot
	if s.Events.Pins == nil {
		return "The best line itself does not reach the pins."
	}
	text := "The best line " + thrown.EntryText(s.EntryBoard(), s.EntryAngle())
	if p := s.Events.Breakpoint; p != nil {
		text += fmt.Sprintf(", breakpoint board %s at %s ft", report.Board.Show(p.Board), report.Foot.Show(p.Distance))
	}
	text += fmt.Sprintf(": %s.", t.shot(t.Best).Hit())
	if !s.Summary.Pocket {
		text += " That is beside the pocket,\ninto which its deliveries scatter: it has no room alone."
	}
	if words := inGutter(t.Best.Gutter); words != "" {
		text += "\n" + words
	}
	return text
}

// EdgeWords warns of a best line on the edge of the search, empty if it is not.
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

// AimRooms are the quantities of a line's room, each with a range to both sides.
var AimRooms = []struct {
	Label       string
	Sides, keys [2]string
	Unit        report.Unit
	of          func(r aim.Room) [2]float64
}{
	{"boards at the arrows", [2]string{"left", "right"}, [2]string{"left_boards", "right_boards"}, report.Board.Digits(2), func(r aim.Room) [2]float64 { return [2]float64{r.Left, r.Right} }},
	{"speed, mph", [2]string{"slower", "faster"}, [2]string{"slower_mph", "faster_mph"}, report.MPH.Digits(2), func(r aim.Room) [2]float64 { return [2]float64{r.Slower, r.Faster} }},
	{"rev rate, rpm", [2]string{"less", "more"}, [2]string{"less_rpm", "more_rpm"}, report.RPM.Digits(1), func(r aim.Room) [2]float64 { return [2]float64{r.Less, r.More} }},
}

// RoomIn returns both sides of a line's room for quantity k of [AimRooms], in its unit.
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
	g := tableOf(r.Balls, named(func(i int) string { return r.Balls[i].Ball }), briefly(r.ballColumns().Pick("share", "interval")), columns{report.Text("behind", "behind the best", "By how much it is behind the best", func(i int) string {
		if i == 0 {
			return ""
		}
		return behindWords(r.Balls[i].Pair)
	})})
	g.Left[2] = true
	return g
}

// Note returns the sentence under a picture's title.
func (a *Aim) Note() string {
	others := ""
	if slices.ContainsFunc(a.List, func(t AimedBall) bool { return len(t.RunnersUp) > 0 }) {
		others = " Numbers mark other lines."
	}
	const most = 3 // most lines in a sentence
	parts := a.lineTexts()
	if len(parts) > most {
		var shares []studies.Mean
		for _, t := range a.List {
			if t.None == nil {
				shares = append(shares, shareOf(t.Best.Of(t.By)))
			}
		}
		return "Marked are the best lines, whose figures are counted from shots and " + goodTo(shares) + "; the maps between them are interpolated." + others
	}
	return a.BestLines() + " Figures at marks are counted from shots; the map between them is interpolated." + others
}

// BestLines returns a sentence with the best line of each ball and its share.
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
		words := fmt.Sprintf("from board %s over board %s, %s", report.Board.Show(t.Best.Release.Laydown), report.Board.Show(t.Best.Arrows), CountText(c))
		if len(a.Players) > 1 {
			words = t.Name(a.Players) + " " + words
		}
		parts = append(parts, words)
	}
	return parts
}
