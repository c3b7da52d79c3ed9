package studied

import (
	"io"
	"math"
	"slices"

	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/wear"
)

// WriteJSON writes the plan as JSON. Blocks and oil of a single lane are at the top level, those of several
// in a list.
func (w *WearPlan) WriteJSON(to io.Writer) error {
	members, lanes := report.ObjectOf("plan", w.object(), "assumed_sets", w.Tried.object()), w.lanes()
	if len(lanes) == 1 {
		members = members.With(lanes[0][2:]) // without names
	} else {
		members = members.With("lanes", report.Each(lanes, func(o report.Object) report.Object { return o }))
	}
	return report.WriteResult(to, w.Warnings, members...)
}

// lanes returns the results of the lanes; the ball is null unless it was alone on its lane.
func (w *WearPlan) lanes() (list []report.Object) {
	for _, part := range w.Parts {
		var ball *string
		if w.Alone {
			ball = &part.Players[0].Balls[0]
		}
		for i, l := range part.Result.Lanes {
			player := slices.IndexFunc(part.Study.Players, func(p wear.Player) bool { return p.Lane == i })
			list = append(list, report.ObjectOf("name", part.Players[player].Lane, "ball", ball,
				"blocks", report.Each(l.Blocks, func(b wear.PlannedBlock) report.Object {
					return blockObject(part.Players[b.Setup].Bowler, part.Players[b.Setup].Balls[b.Ball], b.Block)
				}), "oil_mL", oilObject(l.Oil)))
		}
	}
	return list
}

func (p plannedPeriod) change() string {
	if p.Period.Ball != p.before.Ball {
		return "ball"
	}
	return "move"
}

// periodColumns returns the columns of periods; a first period has no change.
func periodColumns(list []plannedPeriod) columns {
	moved := func(i int) (plannedPeriod, bool) { return list[i], list[i].before != nil }
	return slices.Concat(columns{
		report.Count("from_shot", "from shot", "Number of the first delivery", func(i int) int { return list[i].From + 1 }),
		report.Count("to_shot", "to shot", "Number of the last delivery", func(i int) int { return list[i].To + 1 }),
		report.Text("ball", "ball", "Name of the ball", func(i int) string { return list[i].Balls[list[i].Period.Ball] }),
	}, report.AllVia(thrown.LineColumns(), func(i int) (thrown.Shot, bool) { return list[i].shot(), true }),
		shareColumns("pocket", "pocket", "Share in the pocket at the beginning", func(i int) studies.Mean { return shareOf(list[i].Share) }),
		meanColumns("pocket_share_end", "pocket_interval_end", "at the end", "Share in the pocket at the end", report.Hundredth, func(i int) studies.Mean { return shareOf(list[i].End) }),
		columns{
			report.Number("of_fresh", "of fresh", "Share at the end over that of the best fresh line", report.Ratio,
				func(i int) float64 { return list[i].End.Share() / list[i].fresh.Share() }).ShownIn(report.Hundredth.Digits(0)),
			report.Truth("fell", "fell", "Whether the line had fallen by the end", func(i int) bool { return list[i].Fell }),
			report.Via(report.Text("change", "change", "What the period begins with, a move or another ball", plannedPeriod.change), moved),
			report.Via(report.Number("feet_boards", "feet", "Boards by which the laydown moves toward the off side", report.Board, func(p plannedPeriod) float64 { return p.Feet }), moved),
			report.Via(report.Number("arrows_boards", "arrows", "Boards by which the line moves so at the arrows", report.Board, func(p plannedPeriod) float64 { return p.Arrows }), moved),
			report.Via(report.Value("gain", "What the change brings to the share in the pocket", func(p plannedPeriod) any { return meanObject("share", "interval", differenceOf(p.Gain)) }), moved),
			report.Value("judged", "Share in the pocket after each block", func(i int) any {
				judged := list[i].Judgements
				return listOf(judged, judgementColumns("interval", func(k int) wear.Judgement { return judged[k] }))
			}),
		})
}

// judgementColumns returns the share of a line after a delivery; interval is the key of its interval.
func judgementColumns(interval string, of func(int) wear.Judgement) columns {
	return slices.Concat(columns{report.Count("shot", "shot", "Number of the delivery after which the line is judged", func(i int) int { return of(i).Shot })},
		meanColumns("pocket_share", interval, "pocket", "Share in the pocket of the deliveries that judge it", report.Hundredth, func(i int) studies.Mean { return shareOf(of(i).Share) }))
}

// Rows returns a row for each judgement.
func (w *WearPlan) Rows() report.Rows {
	var of []plannedPeriod
	var judged []wear.Judgement
	for _, p := range w.plans() {
		for _, period := range p.periods {
			of = append(of, slices.Repeat([]plannedPeriod{period}, len(period.Judgements))...)
			judged = append(judged, period.Judgements...)
		}
	}
	shares := judgementColumns("pocket_interval", func(i int) wear.Judgement { return judged[i] })
	return rowsOf(judged, columns{
		report.Text("bowler", "bowler", "Name of the bowler", func(i int) string { return of[i].Bowler }),
		report.Text("lane", "lane", "Name of the lane", func(i int) string { return of[i].Lane }),
	}, periodColumns(of).Pick("ball"), shares[:1], lineColumns(func(i int) thrown.Shot { return of[i].shot() }), shares[1:])
}

func (w *WearPlan) object() report.Object {
	list := report.Each(w.plans(), func(p playerPlan) report.Object {
		fell := fallOf(p.Periods[0], p.part.Study.Keep)
		return report.ObjectOf("bowler", p.Bowler, "lane", p.Lane, "balls", report.Texts(p.Balls), shareObject("fresh", shareOf(p.Fresh)),
			"falls", !math.IsInf(fell, 0), "stay_shots", fell, "stay_interval", ends(p.Interval), "played", p.part.Result.Played,
			"timeline", listOf(p.periods, periodColumns(p.periods)), "explanation", w.answer(p))
	})
	kind := "team"
	if w.Alone {
		kind = "alone"
	}
	return report.ObjectOf("kind", kind, "answer", w.longer(), "keep", w.Parts[0].Study.Keep, "session_shots", w.Parts[0].Study.Shots, "bowlers", list)
}
