package main

import (
	"cmp"
	"context"
	"slices"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report"
	"lanesim/report/handout"
	"lanesim/report/thrown"
	"lanesim/scenario/runs"
	"lanesim/studies"
	"lanesim/studies/compare"

	"github.com/spf13/cobra"
)

// compareOptions are the flags of the compare command.
type compareOptions struct {
	studyFlags
	aim, between string
	pairs        []string
	columns      columnFlags
}

// mostAssumedSets keeps a comparison from taking hours.
const mostAssumedSets = 10000

// What --aim can be.
const (
	aimSame = "same"
	aimEach = "each"
)

func (p *program) compareCommand() *cobra.Command {
	var o compareOptions
	c := helped("compare", &cobra.Command{
		Use:     "compare FILE [FILE...]",
		GroupID: groupRun,
		Args: func(c *cobra.Command, arguments []string) error {
			return wrongIf(len(arguments) == 0, "%s needs a file, or - for standard input", c.Name())
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.compare(c.Context(), arguments, o)
		},
	})
	f := c.Flags()
	o.scenario.add(c)
	f.StringVar(&o.aim, "aim", aimSame, "the `line` of the balls: same (all on one line) or each (every ball finds its own to the pocket)")
	complete(c, "aim", aimSame, aimEach)
	f.StringVar(&o.between, "between", "", "compare shots that differ in `what` alone: balls, lines, lanes, bowlers or all (default the first of balls, lines and lanes of which a bowler has several)")
	complete(c, "between", runs.Betweens()...)
	f.StringArrayVar(&o.pairs, "pair", nil, "print the details of the pair with these `names`, as 'a, b', instead of the first pair; all for every pair; repeatable")
	intVar(f, &o.assumed, "assumed", studies.DefaultAssumedSets, "`number` of sets of assumed values with which the answers are tried; 0 for none")
	o.addJobs(c)
	o.output.addJSON(c)
	o.output.addCSV(c, "print the boards between the paths as CSV")
	o.columns.add(p, c, thrown.KeysOfComparison, thrown.ListOfComparison)
	o.output.addPaths(c, studyEndings())
	o.phone.addPhone(c)
	return c
}

func (p *program) compare(ctx context.Context, paths []string, o compareOptions) error {
	chosen, unknown := thrown.ChooseOfComparison(o.columns.names)
	if err := cmp.Or(o.output.check(), oneOf("aim", o.aim, []string{aimSame, aimEach}),
		oneOf("between", o.between, append(runs.Betweens(), "")), o.columns.check(o.output, unknown, thrown.KeysOfComparison),
		inRange("assumed", o.assumed, 0, mostAssumedSets)); err != nil {
		return err
	}
	if len(slices.DeleteFunc(slices.Clone(paths), func(path string) bool { return path != files.Standard })) > 1 {
		return input.Wrong("standard input can be read only once")
	}
	var c runs.Comparison
	for _, path := range paths {
		s, err := p.readScenario(ctx, path, o.scenario)
		if err != nil {
			return err
		}
		if err := c.Add(ctx, path, s.Heading(), s, o.work(nil)); err != nil {
			return err
		}
	}
	if len(c.Deliveries) < 2 {
		return input.Wrong("there is only one shot, and a comparison needs two: give several balls, bowlers or lanes, or another file")
	}
	if err := c.ChoosePairs(o.between); err != nil {
		return err
	}
	detailed, err := c.Detailed(o.pairs)
	if err != nil {
		return err
	}
	study := compare.Study{
		Deliveries: c.Deliveries, Lines: c.Lines(o.aim == aimEach), Pairs: c.Chosen,
		Settings: c.Scenarios[0].Settings, Visible: c.Scenarios[0].Visible,
		Sets: o.assumed, Errors: p.common.verbose, Work: o.work(p.progress("shot")),
	}
	if o.assumed == 0 {
		study.Sets = -1
	}
	if c.Result, err = study.Run(ctx); err != nil {
		return err
	}
	for i := range c.Shots {
		t := &c.Shots[i]
		t.Shot, t.Release, t.Aimed = c.Result.Shots[i].Shot, c.Result.Shots[i].Release, c.Result.Shots[i].Aimed
		t.Pocket = thrown.Pocket(study.Settings, t.Release)
		if t.Inputs, err = c.Scenarios[i].InputsFrom(c.At[i], t.Release.Laydown, t.Release.Angle); err != nil {
			return err
		}
	}
	p.sayWork(c.Shots)
	draw := func(size plots.Size) (*plots.Drawing, error) {
		return plots.DrawComparison(&c.Comparison, c.Lanes(), c.Panels(), size)
	}
	r := results{json: c.WriteJSON, picture: func() (*plots.Drawing, error) { return draw(o.phone.size()) },
		handout: func() (handout.Page, error) { return handouts.Comparison(&c, detailed, draw) }}
	switch {
	case chosen.Points != nil:
		r.rows = func() report.Rows { return report.RowsOf(chosen.Points, c.Distances()) }
		r.document = func() report.Document { return chosen.Points.Document(c.Title, c.Distances()) }
	case chosen.Rows != nil:
		r.rows = func() report.Rows { return report.RowsOf(chosen.Rows, c.Pairs()) }
		r.document = func() report.Document { return chosen.Rows.Document(c.Title, c.Pairs()) }
	default:
		r.rows = func() report.Rows { return report.RowsOf(thrown.DistanceColumns(), c.Distances()) }
		r.document = func() report.Document { return c.Document(detailed) }
	}
	return p.writeResults(ctx, o.output, r)
}
