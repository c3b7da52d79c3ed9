package studied

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/wear"
)

// WearPlan is what bowlers do as lanes change.
type WearPlan struct {
	Title    string
	Warnings []string
	Alone    bool // each ball on a fresh lane of its own
	Parts    []PlanPart
}

// PlanPart is a plan of bowlers who share lanes.
type PlanPart struct {
	Seats  []PlannedSeat
	Study  wear.Plan
	Result wear.PlanResult
}

// PlannedSeat names a bowler on a lane.
type PlannedSeat struct {
	Bowler, Lane string
	Balls        []string
	Hand         ball.Hand
	FootToBall   float64
}

// Name tells a seat: by its ball if it has one alone.
func (w *WearPlan) Name(s PlannedSeat) string {
	bowlers, lanes := map[string]bool{}, map[string]bool{}
	for _, p := range w.Parts {
		for _, o := range p.Seats {
			bowlers[o.Bowler], lanes[o.Lane] = true, true
		}
	}
	var names []string
	if len(bowlers) > 1 || !w.Alone {
		names = append(names, s.Bowler)
	}
	if w.Alone {
		names = append(names, s.Balls[0])
	}
	if len(lanes) > 1 {
		names = append(names, s.Lane)
	}
	return strings.Join(names, ", ")
}

// each calls a function for each seat with its plan.
func (w *WearPlan) each(f func(part PlanPart, s PlannedSeat, p wear.SeatPlan)) {
	for _, part := range w.Parts {
		for i, s := range part.Seats {
			f(part, s, part.Result.Seats[i])
		}
	}
}

// sideWords tells by how many boards something moves, to the left or right as the bowler
// sees it; positive is toward the off side.
func (s PlannedSeat) sideWords(boards float64) string {
	if math.Abs(boards) < 0.05 {
		return "0"
	}
	side := "right"
	if (boards > 0) == (s.Hand == ball.Right) {
		side = "left"
	}
	return report.Fixed(math.Abs(boards), 1) + " " + side
}

// ChangeWords tell a change of line or ball, as "feet 2.0 left, arrows 1.2 left".
func (s PlannedSeat) ChangeWords(stint, before wear.Stint) string {
	words := fmt.Sprintf("feet %s, arrows %s", s.sideWords(stint.Feet), s.sideWords(stint.Arrows))
	if stint.Ball != before.Ball {
		words = s.Balls[stint.Ball] + ", " + words
	}
	return words
}

// gainWords are what a change brings, in points.
func gainWords(p studies.Paired) string {
	return fmt.Sprintf("%s points (%s)", report.Points(p.Difference()), PointsBetween(p.Interval()))
}

// lineWords is a stint's line.
func (s PlannedSeat) lineWords(stint wear.Stint) string {
	return thrown.Shot{Release: stint.Release, FootToBall: s.FootToBall}.LineText()
}

// answer tells a seat's plan in a few sentences.
func (w *WearPlan) answer(part PlanPart, s PlannedSeat, p wear.SeatPlan) string {
	first := p.Stints[0]
	words := fmt.Sprintf("%s: the best fresh line, %s", w.Name(s), s.lineWords(first))
	if !w.Alone {
		words += " with " + s.Balls[first.Ball]
	}
	words += fmt.Sprintf(", is in the pocket with %s.", report.Share(p.Fresh.Share()))
	session := part.Study.Shots
	lost := fmt.Sprintf("%s of that", report.Percent(part.Study.Keep, 0))
	switch at := fallOf(first, part.Study.Keep); {
	case math.IsInf(at, 0):
		words += fmt.Sprintf(" It has not fallen below %s by shot %d, where it has %s.", lost, part.Result.Played, report.Share(first.End.Share()))
	case at > float64(session):
		words += fmt.Sprintf(" By the end of the session, shot %d, it has %s; played on, it falls below %s by shot %.0f%s.", session, report.Share(shareAt(first, session).Share()), lost, at, stayBetween(p))
	default:
		words += fmt.Sprintf(" It falls below %s by shot %.0f%s.", lost, at, stayBetween(p))
	}
	for i, stint := range p.Stints[1:] {
		if i > 0 {
			words += fmt.Sprintf(" By shot %d:", stint.From)
		} else {
			words += " Then:"
		}
		words += fmt.Sprintf(" %s, which brings %s.", s.ChangeWords(stint, p.Stints[i]), gainWords(stint.Gain))
	}
	if last := p.Stints[len(p.Stints)-1]; last.Stuck {
		words += " After that no move and no ball brings more than chance explains."
	}
	return words
}

// stayBetween is the interval of how long a first line stays.
func stayBetween(p wear.SeatPlan) string {
	text := func(v float64) string {
		if math.IsInf(v, 0) {
			return "later"
		}
		return report.Fixed(v, 0)
	}
	if p.Interval[0] == p.Interval[1] {
		return ""
	}
	return fmt.Sprintf(" (%s to %s)", text(p.Interval[0]), text(p.Interval[1]))
}

// fallOf is the judgement at which a stint had fallen, +Inf if it had not.
func fallOf(s wear.Stint, keep float64) float64 {
	if !s.Fell {
		return math.Inf(1)
	}
	for _, j := range s.Judgements[1:] {
		if j.Share.Share() < s.Share.Share()*keep {
			return float64(j.Shot)
		}
	}
	return math.Inf(1)
}

// shareAt is the share of a stint's line at a delivery.
func shareAt(s wear.Stint, shot int) studies.Count {
	share := s.Share
	for _, j := range s.Judgements {
		if j.Shot <= shot {
			share = j.Share
		}
	}
	return share
}

// longer compares two seats that are alone, of one bowler on like lanes.
func (w *WearPlan) longer() string {
	if !w.Alone || len(w.Parts) != 2 {
		return ""
	}
	a, b := w.Parts[0], w.Parts[1]
	if a.Seats[0].Bowler != b.Seats[0].Bowler || a.Seats[0].Lane != b.Seats[0].Lane {
		return ""
	}
	p, q := a.Result.Seats[0], b.Result.Seats[0]
	x, y := a.Seats[0].Balls[0], b.Seats[0].Balls[0]
	at := [2]float64{fallOf(p.Stints[0], a.Study.Keep), fallOf(q.Stints[0], b.Study.Keep)}
	if at[0] < at[1] {
		p, q, x, y, at = q, p, y, x, [2]float64{at[1], at[0]}
	}
	if p.Interval[0] <= q.Interval[1] {
		return fmt.Sprintf("Which of %s and %s lasts longer is not beyond chance.", x, y)
	}
	first := fmt.Sprintf("%.0f shots", at[0])
	if math.IsInf(at[0], 0) {
		first = fmt.Sprintf("more than %d shots", a.Result.Played)
	}
	return fmt.Sprintf("%s lasts longer than %s: %s against %.0f.", x, y, first, at[1])
}

// Document tells the plan to people.
func (w *WearPlan) Document() report.Document {
	doc := report.Document{Title: w.Title}
	if words := w.longer(); words != "" {
		doc.SayWrapped(words)
	}
	w.each(func(part PlanPart, s PlannedSeat, p wear.SeatPlan) { doc.SayWrapped(w.answer(part, s, p)) })
	doc.Head("timeline")
	table := report.Grid{Left: []bool{true, false, true}, Rows: [][]string{{"", "shots", "ball", "feet", "laydown", "arrows", "pocket", "at the end", "of fresh", "change", "brings, points"}}}
	table.Left = append(table.Left, make([]bool, 6)...)
	table.Left = append(table.Left, true, false)
	w.each(func(part PlanPart, s PlannedSeat, p wear.SeatPlan) {
		for i, stint := range p.Stints {
			shot := thrown.Shot{Release: stint.Release, FootToBall: s.FootToBall}
			row := []string{w.Name(s), fmt.Sprintf("%d–%d", stint.From+1, stint.To+1), s.Balls[stint.Ball]}
			for _, c := range thrown.LineColumns() {
				row = append(row, c.Show(shot))
			}
			row = append(row, report.Share(stint.Share.Share()), report.Share(stint.End.Share()), report.Percent(stint.End.Share()/p.Fresh.Share(), 0))
			if i == 0 {
				row = append(row, "best fresh line", report.Absent)
			} else {
				row[0] = ""
				row = append(row, s.ChangeWords(stint, p.Stints[i-1]), fmt.Sprintf("%s (%s)", report.Points(stint.Gain.Difference()), PointsBetween(stint.Gain.Interval())))
			}
			table.Rows = append(table.Rows, row)
		}
	})
	doc.Table(table)
	part := w.Parts[0]
	doc.SayWrapped(fmt.Sprintf("Over %s side by side, lines are judged after every %d deliveries by %d that do not wear the lane. A line has fallen when its share is below %s of that with which it began; a change is taken if it brings more than chance explains.",
		report.Counting(part.Study.Sessions, "session"), part.Study.Block, part.Study.Judged, report.Percent(part.Study.Keep, 0)))
	return doc
}

// WriteJSON writes the plan as JSON.
func (w *WearPlan) WriteJSON(to io.Writer) error {
	return report.WriteResult(to, w.Warnings, w.member())
}

// planned is a judgement of a plan.
type planned struct {
	PlannedSeat
	stint wear.Stint
	wear.Judgement
}

// planColumns are those of the judgements.
var planColumns = report.Columns[planned]{
	report.Text("bowler", "", "Name of the bowler", func(p planned) string { return p.Bowler }),
	report.Text("lane", "", "Name of the lane", func(p planned) string { return p.Lane }),
	report.Text("ball", "", "Name of the ball", func(p planned) string { return p.Balls[p.stint.Ball] }),
	report.Count("shot", "", "Number of the delivery after which the line is judged", func(p planned) int { return p.Shot }),
	report.Number("feet_board", "", "Board under the sliding foot", report.Board, func(p planned) float64 { return p.stint.Release.Laydown + p.FootToBall }),
	report.Number("laydown", "", "Board of the laydown", report.Board, func(p planned) float64 { return p.stint.Release.Laydown }),
	report.Number("arrows_board", "", "Board at the arrows", report.Board, func(p planned) float64 { return studies.BoardAtArrows(p.stint.Release) }),
	report.Number("pocket_share", "", "Share in the pocket of the deliveries that judge it", report.Ratio, func(p planned) float64 { return p.Share.Share() }),
}

// WriteCSV writes a row for each judgement.
func (w *WearPlan) WriteCSV(to io.Writer) error {
	var rows []planned
	w.each(func(_ PlanPart, s PlannedSeat, p wear.SeatPlan) {
		for _, stint := range p.Stints {
			for _, j := range stint.Judgements {
				rows = append(rows, planned{s, stint, j})
			}
		}
	})
	return report.WriteCSV(to, planColumns, slices.Values(rows))
}

// member is the plan in JSON.
func (w *WearPlan) member() report.Member {
	list := report.List{}
	w.each(func(part PlanPart, s PlannedSeat, p wear.SeatPlan) {
		stints := report.List{}
		for i, stint := range p.Stints {
			shot := thrown.Shot{Release: stint.Release, FootToBall: s.FootToBall}
			o := append(report.ObjectOf("from_shot", stint.From+1, "to_shot", stint.To+1, "ball", s.Balls[stint.Ball]), thrown.LineColumns().Members(shot)...)
			o = append(o, report.ObjectOf("pocket_share", stint.Share.Share(), "pocket_share_end", stint.End.Share(), "of_fresh", stint.End.Share()/p.Fresh.Share(), "fell", stint.Fell)...)
			change, feet, arrows, gain := any(nil), math.NaN(), math.NaN(), report.Object(nil)
			if i > 0 {
				change, feet, arrows = "move", stint.Feet, stint.Arrows
				if stint.Ball != p.Stints[i-1].Ball {
					change = "ball"
				}
				gain = report.ObjectOf("share", stint.Gain.Difference(), "interval", ends(stint.Gain.Interval()))
			}
			o = append(o, report.ObjectOf("change", change, "feet_boards", feet, "arrows_boards", arrows, "gain", gain,
				"judged", report.Each(stint.Judgements, func(j wear.Judgement) report.Object {
					return report.ObjectOf("shot", j.Shot, "pocket_share", j.Share.Share(), "interval", ends(studies.WilsonInterval(j.Share)))
				}))...)
			stints = append(stints, o)
		}
		fell := fallOf(p.Stints[0], part.Study.Keep)
		list = append(list, report.ObjectOf("bowler", s.Bowler, "lane", s.Lane, "balls", report.Texts(s.Balls), "fresh_share", p.Fresh.Share(), "fresh_interval", ends(studies.WilsonInterval(p.Fresh)),
			"falls", !math.IsInf(fell, 0), "stay_shots", fell, "stay_interval", p.Interval[:], "played", part.Result.Played, "timeline", stints,
			"explanation", w.answer(part, s, p)))
	})
	kind := "team"
	if w.Alone {
		kind = "alone"
	}
	return report.Member{Key: "plan", Value: report.ObjectOf("kind", kind, "answer", w.longer(), "keep", w.Parts[0].Study.Keep, "session_shots", w.Parts[0].Study.Shots, "seats", list)}
}
