package studied

import (
	"io"
	"math"

	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/wear"
)

// WriteJSON writes the plan as JSON. Blocks and oil of one lane stand at the top, those of
// several in a list.
func (w *WearPlan) WriteJSON(to io.Writer) error {
	members := report.ObjectOf("plan", w.object(), "assumed_sets", w.Tried.object())
	if lanes := w.lanes(); len(lanes) == 1 {
		members = members.With("blocks", lanes[0].blocks, "oil_mL", lanes[0].oil)
	} else {
		members = members.With("lanes", report.Each(lanes, func(l planLane) report.Object {
			return report.ObjectOf("name", l.name, "ball", l.ball, "blocks", l.blocks, "oil_mL", l.oil)
		}))
	}
	return report.WriteResult(to, w.Warnings, members...)
}

// planLane is what became of a lane; its ball is nil unless it was alone.
type planLane struct {
	name   string
	ball   *string
	blocks report.List
	oil    report.Object
}

func (w *WearPlan) lanes() []planLane {
	var list []planLane
	for _, part := range w.Parts {
		for i, l := range part.Result.Lanes {
			one := planLane{oil: oilObject(l.Oil), blocks: report.Each(l.Blocks, func(b wear.PlannedBlock) report.Object {
				return blockObject(part.Players[b.Setup].Bowler, part.Players[b.Setup].Balls[b.Ball], b.Block)
			})}
			for k, s := range part.Study.Players {
				if s.Lane == i {
					one.name = part.Players[k].Lane
				}
			}
			if w.Alone {
				one.ball = &part.Players[0].Balls[0]
			}
			list = append(list, one)
		}
	}
	return list
}

type planned struct {
	PlannedPlayer
	period wear.Period
	wear.Judgement
}

// Rows has a row for each judgement.
func (w *WearPlan) Rows() report.Rows {
	var rows []planned
	w.each(func(_ PlanPart, s PlannedPlayer, p wear.PlayerResult) {
		for _, period := range p.Periods {
			for _, j := range period.Judgements {
				rows = append(rows, planned{s, period, j})
			}
		}
	})
	return rowsOf(rows, columns{
		report.Text("bowler", "bowler", "Name of the bowler", func(i int) string { return rows[i].Bowler }),
		report.Text("lane", "lane", "Name of the lane", func(i int) string { return rows[i].Lane }),
		report.Text("ball", "ball", "Name of the ball", func(i int) string { return rows[i].Balls[rows[i].period.Ball] }),
		report.Count("shot", "shot", "Number of the delivery after which the line is judged", func(i int) int { return rows[i].Shot }),
	}, lineColumns(func(i int) thrown.Shot {
		return thrown.Shot{Release: rows[i].period.Release, FootToBall: rows[i].FootToBall}
	}),
		shareColumns("pocket", "pocket", "Share in the pocket of the deliveries that judge it", func(i int) studies.Mean { return shareOf(rows[i].Share) }))
}

func (w *WearPlan) object() report.Object {
	list := report.List{}
	w.each(func(part PlanPart, s PlannedPlayer, p wear.PlayerResult) {
		periods := report.List{}
		for i, period := range p.Periods {
			shot := thrown.Shot{Release: period.Release, FootToBall: s.FootToBall}
			change, feet, arrows, gain := any(nil), math.NaN(), math.NaN(), report.Object(nil)
			if i > 0 {
				change, feet, arrows = "move", period.Feet, period.Arrows
				if period.Ball != p.Periods[i-1].Ball {
					change = "ball"
				}
				gain = report.ObjectOf("share", period.Gain.Difference(), "interval", ends(period.Gain.Interval()))
			}
			periods = append(periods, report.ObjectOf("from_shot", period.From+1, "to_shot", period.To+1, "ball", s.Balls[period.Ball], thrown.LineColumns().Members(shot),
				shareObject("pocket", shareOf(period.Share)), "pocket_share_end", period.End.Share(), "pocket_interval_end", ends(studies.WilsonInterval(period.End)), "of_fresh", period.End.Share()/p.Fresh.Share(), "fell", period.Fell,
				"change", change, "feet_boards", feet, "arrows_boards", arrows, "gain", gain,
				"judged", report.Each(period.Judgements, func(j wear.Judgement) report.Object {
					return report.ObjectOf("shot", j.Shot, "pocket_share", j.Share.Share(), "interval", ends(studies.WilsonInterval(j.Share)))
				})))
		}
		fell := fallOf(p.Periods[0], part.Study.Keep)
		list = append(list, report.ObjectOf("bowler", s.Bowler, "lane", s.Lane, "balls", report.Texts(s.Balls), shareObject("fresh", shareOf(p.Fresh)),
			"falls", !math.IsInf(fell, 0), "stay_shots", fell, "stay_interval", ends(p.Interval), "played", part.Result.Played, "timeline", periods,
			"explanation", w.answer(part, s, p)))
	})
	kind := "team"
	if w.Alone {
		kind = "alone"
	}
	return report.ObjectOf("kind", kind, "answer", w.longer(), "keep", w.Parts[0].Study.Keep, "session_shots", w.Parts[0].Study.Shots, "bowlers", list)
}
