package engine

import (
	"context"

	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/units"
)

// compare answers with the differences of the shots, as in the program's comparison.
func (e *Engine) compare(ctx context.Context, s *setup, r request, progress Progress) (answer, error) {
	if r.Sets < 0 || r.Sets > mostSets {
		return answer{}, errTooMany("sets of assumed values", mostSets)
	}
	study := compare.Study{Pairs: [][2]int{{sideA, sideB}}, Settings: s.Scenario.Settings, Visible: s.Visible, Sets: r.Sets,
		Work: studies.Work{Progress: func(done, of int) { progress("shot", done, of) }}}
	if r.Sets == 0 {
		study.Sets = -1
	}
	c := thrown.Comparison{Title: s.Title, Warnings: s.Warnings, Files: make([]string, sides)}
	for side := range sides {
		b := s.bowler()
		study.Deliveries = append(study.Deliveries, studies.Undrilled{Setup: studies.Setup{Lane: s.lane(), Release: b.Release}, Specification: s.Balls[side], Grip: s.Grips[side], PAP: b.PAP})
		finder := -1
		if b.AimAtPocket {
			finder = sideA
			if s.Aim == "each" {
				finder = side
			}
		}
		study.Lines = append(study.Lines, finder)
		c.Shots = append(c.Shots, thrown.Shot{Lane: s.lane().Name, Ball: s.Balls[side].Name, Bowler: b.Name, FootToBall: b.FootToBall, Pocket: thrown.Pocket(s.Scenario.Settings, s.bowler().Release)})
	}
	var err error
	if c.Result, err = study.Run(ctx); err != nil {
		return answer{}, lineOfA(err)
	}
	for side := range sides {
		t := &c.Shots[side]
		t.Shot, t.Release, t.Aimed = c.Result.Shots[side].Shot, c.Result.Shots[side].Release, c.Result.Shots[side].Aimed
	}
	var pair thrown.Pair
	for pair = range c.Pairs() {
		break
	}
	nameA, nameB := c.Names(sideA, sideB)
	var numbers packed
	for _, d := range pair.Boards {
		numbers.add(d.Distance/units.Foot, d.Boards)
	}
	return answer{is: "compared", packed: numbers, members: report.ObjectOf(
		"a", nameA, "b", nameB,
		"difference", thrown.ChangeObject(pair.Difference), "deviation", thrown.ChangeObject(pair.Spread),
		"rows", report.Each(thrown.ChangeRows(pair.Pair), func(row thrown.ChangeRow) report.Object {
			return report.ObjectOf("key", row.Key, "label", row.Label, "unit", row.Unit, "text", row.Text)
		}),
		"visible", pair.Visible, "identical", pair.Identical,
		"apart", numbers.array(0), "parting", report.Foot.In(pair.Parting),
		"mechanisms", causes(pair.Mechanisms), "inputs", causes(pair.Inputs),
		"explanation", pair.Explain(),
		"holds", report.Each(pair.Conclusions(), func(k thrown.HeldConclusion) report.Object {
			return report.ObjectOf("conclusion", k.Words, "in", k.In, "of", k.Of, "open", k.Open)
		}),
		"note", pair.ImpossibleWords(), "blocks", blocks(c.Document([]int{0})),
	)}, nil
}

// causes returns the shares of a difference.
func causes(list []compare.Cause) report.List {
	return report.Each(list, func(c compare.Cause) report.Object {
		return append(report.ObjectOf("cause", c.Name, "label", thrown.CauseLabel(c.Name)), thrown.ChangeObject(c.Change)...)
	})
}

// blocks returns a document for the page.
func blocks(d report.Document) report.List {
	return report.Each(d.Blocks, func(b report.Block) report.Object {
		o := report.ObjectOf("heading", b.Before+b.Heading+b.After, "text", b.Text, "rows", [][]string{}, "heads", 0)
		if b.Grid != nil {
			o[2].Value, o[3].Value = b.Grid.Rows, b.Grid.HeadRows()
		}
		return o
	})
}

// share returns a share with its interval.
func share(c studies.Count) report.Object {
	interval := studies.WilsonInterval(c)
	return report.ObjectOf("share", c.Share(), "low", interval.Low, "high", interval.High, "text", report.Share(c.Share()))
}
