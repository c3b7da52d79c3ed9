package engine

import (
	"context"

	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/units"
)

// compare answers with what the shots differ in, as the program's comparison has it.
func (e *Engine) compare(ctx context.Context, r request, progress Progress) (answer, error) {
	s, err := e.read(r.State)
	if err != nil {
		return answer{}, err
	}
	if r.Sets < 0 || r.Sets > mostSets {
		return answer{}, errTooMany("sets of assumed values", mostSets)
	}
	study := compare.Study{Pairs: [][2]int{{sideA, sideB}}, Settings: s.Scenario.Settings, Visible: s.Visible, Sets: r.Sets,
		Progress: func(done, of int) { progress("shot", done, of) }}
	if r.Sets == 0 {
		study.Sets = -1
	}
	c := report.Comparison{Title: s.Title, Warnings: s.Warnings, Files: make([]string, sides)}
	for side := range sides {
		b := s.bowler()
		study.Deliveries = append(study.Deliveries, compare.Delivery{Lane: s.lane(), Ball: s.Balls[side], Grip: s.Grips[side], PAP: b.PAP, Release: b.Release})
		finder := -1
		if b.AimAtPocket {
			finder = sideA
			if s.Aim == "each" {
				finder = side
			}
		}
		study.Lines = append(study.Lines, finder)
		c.Shots = append(c.Shots, report.Shot{Lane: s.lane().Name, Ball: s.Balls[side].Name, Bowler: b.Name, FootToBall: b.FootToBall, Pocket: report.Pocket(s.Scenario.Settings, s.bowler().Release)})
	}
	if c.Result, err = study.Run(ctx); err != nil {
		return answer{}, lineOfA(err)
	}
	for side := range sides {
		t := &c.Shots[side]
		t.Shot, t.Release, t.Aimed = c.Result.Shots[side].Shot, c.Result.Shots[side].Release, c.Result.Shots[side].Aimed
	}
	var pair report.Pair
	for pair = range c.Pairs() {
		break
	}
	nameA, nameB := c.Names(sideA, sideB)
	var numbers packed
	for _, d := range pair.Boards {
		numbers.add(d.Distance/units.Foot, d.Boards)
	}
	return answer{is: "compared", packed: numbers, members: report.Object{
		{Key: "a", Value: nameA}, {Key: "b", Value: nameB},
		{Key: "difference", Value: report.ChangeObject(pair.Difference)}, {Key: "deviation", Value: report.ChangeObject(pair.Spread)},
		{Key: "rows", Value: report.Each(report.ChangeRows(pair.Pair), func(row report.ChangeRow) report.Object {
			return report.Object{{Key: "key", Value: row.Key}, {Key: "label", Value: row.Label}, {Key: "unit", Value: row.Unit}, {Key: "text", Value: row.Text}}
		})},
		{Key: "visible", Value: pair.Visible}, {Key: "identical", Value: pair.Identical},
		{Key: "apart", Value: numbers.array(0)}, {Key: "parting", Value: report.Foot.In(pair.Parting)},
		{Key: "mechanisms", Value: causes(pair.Mechanisms)}, {Key: "inputs", Value: causes(pair.Inputs)},
		{Key: "explanation", Value: pair.Explain()},
		{Key: "holds", Value: report.Each(pair.Conclusions(), func(k report.HeldConclusion) report.Object {
			return report.Object{{Key: "conclusion", Value: k.Words}, {Key: "in", Value: k.In}, {Key: "of", Value: k.Of}, {Key: "open", Value: k.Open}}
		})},
		{Key: "note", Value: pair.Note}, {Key: "blocks", Value: blocks(c.Document([]int{0}))},
	}}, nil
}

// causes are the shares of a difference.
func causes(list []compare.Cause) report.List {
	return report.Each(list, func(c compare.Cause) report.Object {
		return append(report.Object{{Key: "cause", Value: c.Name}, {Key: "label", Value: report.CauseLabel(c.Name)}}, report.ChangeObject(c.Change)...)
	})
}

// blocks are a document as the page shows it.
func blocks(d report.Document) report.List {
	return report.Each(d.Blocks, func(b report.Block) report.Object {
		o := report.Object{{Key: "heading", Value: b.Before + b.Heading + b.After}, {Key: "text", Value: b.Text}, {Key: "rows", Value: [][]string{}}, {Key: "heads", Value: 0}}
		if b.Grid != nil {
			o[2].Value, o[3].Value = b.Grid.Rows, b.Grid.HeadRows()
		}
		return o
	})
}

// share is a share with its interval.
func share(c studies.Count) report.Object {
	interval := studies.WilsonInterval(c)
	return report.Object{{Key: "share", Value: c.Share()}, {Key: "low", Value: interval.Low}, {Key: "high", Value: interval.High}, {Key: "text", Value: report.Share(c.Share())}}
}
