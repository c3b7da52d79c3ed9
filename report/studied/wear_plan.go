package studied

import (
	"fmt"
	"math"
	"strings"

	"lanesim/ball"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/wear"
)

// WearPlan has the plans of bowlers for changing lanes.
type WearPlan struct {
	Title    string
	Warnings []string
	Alone    bool // each ball on its own fresh lane
	Parts    []PlanPart
	Tried    *Tried // nil if not requested
}

// PlanPart is a plan of bowlers who share lanes.
type PlanPart struct {
	Players []PlannedPlayer
	Study   wear.Plan
	Result  wear.PlanResult
}

// PlannedPlayer is a bowler on a lane with the names of the balls.
type PlannedPlayer struct {
	Bowler, Lane string
	Balls        []string
	Hand         ball.Hand
	FootToBall   float64 // boards, as in [Player]
}

// Name returns a player's name: the ball if there is only one.
func (w *WearPlan) Name(p PlannedPlayer) string {
	bowlers, lanes := map[string]bool{}, map[string]bool{}
	for _, part := range w.Parts {
		for _, o := range part.Players {
			bowlers[o.Bowler], lanes[o.Lane] = true, true
		}
	}
	var names []string
	if len(bowlers) > 1 || !w.Alone {
		names = append(names, p.Bowler)
	}
	if w.Alone {
		names = append(names, p.Balls[0])
	}
	if len(lanes) > 1 {
		names = append(names, p.Lane)
	}
	return strings.Join(names, ", ")
}

// playerPlan is the plan of a player.
type playerPlan struct {
	PlannedPlayer
	wear.PlayerResult
	part    PlanPart
	periods []plannedPeriod
}

// plannedPeriod is a period of a plan.
type plannedPeriod struct {
	PlannedPlayer
	wear.Period
	before *wear.Period // previous period, nil for the first
	fresh  studies.Count
}

func (w *WearPlan) plans() []playerPlan {
	var list []playerPlan
	for _, part := range w.Parts {
		for i, player := range part.Players {
			p := playerPlan{player, part.Result.Players[i], part, nil}
			for k, period := range p.Periods {
				one := plannedPeriod{PlannedPlayer: player, Period: period, fresh: p.Fresh}
				if k > 0 {
					one.before = &p.Periods[k-1]
				}
				p.periods = append(p.periods, one)
			}
			list = append(list, p)
		}
	}
	return list
}

// shot returns the shot of the period's line.
func (p plannedPeriod) shot() thrown.Shot {
	return thrown.Shot{Release: p.Release, FootToBall: p.FootToBall}
}

// sideWords describes a move in boards to the left or right, as the bowler sees it; positive is toward the
// off side.
func sideWords(hand ball.Hand, boards float64) string {
	if math.Abs(boards) < 0.05 {
		return "0"
	}
	side := "right"
	if (boards > 0) == (hand == ball.Right) {
		side = "left"
	}
	return report.Fixed(math.Abs(boards), 1) + " " + side
}

// changeWords describes the change of line or ball, as "feet 2.0 left, arrows 1.2 left".
func (p plannedPeriod) changeWords() string {
	if p.before == nil {
		return "best fresh line"
	}
	words := fmt.Sprintf("feet %s, arrows %s", sideWords(p.Hand, p.Feet), sideWords(p.Hand, p.Arrows))
	if p.Period.Ball != p.before.Ball {
		words = p.Balls[p.Period.Ball] + ", " + words
	}
	return words
}

// answer describes a player's plan in a few sentences.
func (w *WearPlan) answer(p playerPlan) string {
	first := p.periods[0]
	words := fmt.Sprintf("%s: the best fresh line, %s", w.Name(p.PlannedPlayer), first.shot().LineText())
	if !w.Alone {
		words += " with " + p.Balls[first.Ball]
	}
	words += fmt.Sprintf(", is in the pocket with %s.", CountText(p.Fresh))
	session, keep := p.part.Study.Shots, p.part.Study.Keep
	lost := fmt.Sprintf("%s of that", report.Percent(keep, 0))
	switch at := fallOf(first.Period, keep); {
	case math.IsInf(at, 0):
		words += fmt.Sprintf(" It has not fallen below %s by shot %d, where it has %s.", lost, p.part.Result.Played, CountText(first.End))
	case at > float64(session):
		words += fmt.Sprintf(" By the end of the session, shot %d, it has %s; played on, it falls below %s by shot %.0f%s.", session, CountText(shareAt(first.Period, session)), lost, at, stayBetween(p.PlayerResult))
	default:
		words += fmt.Sprintf(" It falls below %s by shot %.0f%s.", lost, at, stayBetween(p.PlayerResult))
	}
	for i, period := range p.periods[1:] {
		if i > 0 {
			words += fmt.Sprintf(" By shot %d:", period.From)
		} else {
			words += " Then:"
		}
		words += fmt.Sprintf(" %s, which brings %s points (%s).", period.changeWords(), report.Points(period.Gain.Difference()), PointsBetween(period.Gain.Interval()))
	}
	if last := p.periods[len(p.periods)-1]; last.Stuck {
		words += " After that no move and no ball brings more than chance explains."
	}
	return words
}

// stayBetween formats the interval of how long a first line stays.
func stayBetween(p wear.PlayerResult) string {
	if p.Interval.Low == p.Interval.High {
		return ""
	}
	return " (" + strings.ReplaceAll(shotRange(p.Interval), "never", "later") + ")"
}

// fallOf returns the delivery of the judgement at which a period's line had fallen, +Inf if it had not.
func fallOf(p wear.Period, keep float64) float64 {
	if !p.Fell {
		return math.Inf(1)
	}
	for _, j := range p.Judgements[1:] {
		if j.Share.Share() < p.Share.Share()*keep {
			return float64(j.Shot)
		}
	}
	return math.Inf(1)
}

// shareAt returns the share of a period's line at a delivery.
func shareAt(p wear.Period, shot int) studies.Count {
	share := p.Share
	for _, j := range p.Judgements {
		if j.Shot <= shot {
			share = j.Share
		}
	}
	return share
}

// fallsInSession reports whether a player's first line falls by the end of the session.
func (p PlanPart) fallsInSession(player int) bool {
	return fallOf(p.Result.Players[player].Periods[0], p.Study.Keep) <= float64(p.Study.Shots)
}

// sameBowlerAndLane reports whether two parts are of balls of the same bowler, each alone on the same kind of
// lane.
func sameBowlerAndLane(a, b PlanPart) bool {
	return a.Players[0].Bowler == b.Players[0].Bowler && a.Players[0].Lane == b.Players[0].Lane
}

// lastsLonger compares how long the first lines of two parts last: positive if a's lasts significantly
// longer, 0 for no significant difference.
func lastsLonger(a, b PlanPart) int {
	p, q := a.Result.Players[0], b.Result.Players[0]
	x, y := fallOf(p.Periods[0], a.Study.Keep), fallOf(q.Periods[0], b.Study.Keep)
	switch {
	case x > y && p.Interval.Low > q.Interval.High:
		return 1
	case x < y && q.Interval.Low > p.Interval.High:
		return -1
	}
	return 0
}

// longer describes which balls of a bowler last longer, each alone on the same kind of lane.
func (w *WearPlan) longer() string {
	if !w.Alone {
		return ""
	}
	var said []string
	grouped := make([]bool, len(w.Parts))
	for i, first := range w.Parts {
		var group []PlanPart
		for j := i; j < len(w.Parts); j++ {
			if !grouped[j] && sameBowlerAndLane(first, w.Parts[j]) {
				grouped[j] = true
				group = append(group, w.Parts[j])
			}
		}
		if len(group) > 1 {
			said = append(said, w.longest(group))
		}
	}
	return strings.Join(said, " ")
}

// longest describes which of several balls of a bowler last longer than others.
func (w *WearPlan) longest(group []PlanPart) string {
	var said, names []string
	for i, a := range group {
		names = append(names, w.Name(a.Players[0]))
		for _, b := range group[i+1:] {
			long, short := a, b
			switch lastsLonger(a, b) {
			case 0:
				continue
			case -1:
				long, short = b, a
			}
			first := fmt.Sprintf("more than %d shots", long.Result.Played)
			if at := fallOf(long.Result.Players[0].Periods[0], long.Study.Keep); !math.IsInf(at, 0) {
				first = fmt.Sprintf("%.0f shots", at)
			}
			said = append(said, fmt.Sprintf("%s: %s against %.0f.", lastsLongerWords(w.Name(long.Players[0]), w.Name(short.Players[0])), first, fallOf(short.Result.Players[0].Periods[0], short.Study.Keep)))
		}
	}
	if len(said) > 0 {
		return strings.Join(said, " ")
	}
	last := len(names) - 1
	return fmt.Sprintf("How long %s and %s last differs by no more than chance explains.", strings.Join(names[:last], ", "), names[last])
}

// Document returns the plan for people.
func (w *WearPlan) Document() report.Document {
	doc := report.Document{Title: w.Title}
	doc.SayWrapped(w.longer())
	var names []string
	var periods []plannedPeriod
	for _, p := range w.plans() {
		doc.SayWrapped(w.answer(p))
		if len(doc.Blocks) > 1 {
			doc.Join()
		}
		names = append(append(names, w.Name(p.PlannedPlayer)), make([]string, len(p.periods)-1)...)
		periods = append(periods, p.periods...)
	}
	doc.Head("timeline")
	all := periodColumns(periods)
	doc.Table(tableOf(periods, named(func(i int) string { return names[i] }),
		columns{report.Text("shots", "shots", "Numbers of the deliveries", func(i int) string { return fmt.Sprintf("%d–%d", periods[i].From+1, periods[i].To+1) }).FlushRight()},
		all.Pick("ball", "feet_board", "laydown_board", "arrows_board", "pocket_share", "pocket_share_end", "of_fresh"),
		columns{report.Text("change", "change", "Change of line or ball", func(i int) string { return periods[i].changeWords() }), report.Text("brings", "brings, points", "What it brings", func(i int) string {
			if periods[i].before == nil {
				return report.Absent
			}
			gain := periods[i].Gain
			return fmt.Sprintf("%s (%s)", report.Points(gain.Difference()), PointsBetween(gain.Interval()))
		}).FlushRight()}))
	noteGoodTo(&doc, "pocket shares", intervals(periods, all.Pick("pocket_interval", "pocket_interval_end")))
	doc.Add(w.Tried.Words())
	part := w.Parts[0]
	doc.SayWrapped(fmt.Sprintf("Over %s side by side, lines are judged after every %d deliveries by %d that do not wear the lane. A line has fallen when its share is below %s of that with which it began; a change is taken if it brings more than chance explains.",
		report.Counting(part.Study.Sessions, "session"), part.Study.Block, part.Study.Judged, report.Percent(part.Study.Keep, 0)))
	return doc
}
