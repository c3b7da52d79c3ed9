package main

import (
	"cmp"
	"context"

	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report/handout"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies"

	"github.com/spf13/cobra"
)

// seekOptions are the flags of the seek command.
type seekOptions struct {
	studyFlags
	points, others int
}

// Limits of a search.
const (
	mostSoughtPoints = 100000
	mostSought       = 5
)

func (p *program) seekCommand() *cobra.Command {
	var o seekOptions
	c := ofFile("seek", func(ctx context.Context, path string) error { return p.seek(ctx, path, o) })
	f := c.Flags()
	o.scenario.add(c)
	intVar(f, &o.points, "points", 256, "places in the ranges that are tried first")
	intVar(f, &o.others, "others", 2, "the most places listed besides the best")
	intVar(f, &o.assumed, "assumed", studies.DefaultAssumedSets, "`number` of sets of assumed values with which the answers are tried; 0 for none")
	o.addJobs(c)
	o.addOutput(c, "", append(drawnEndings(), ".json"))
	return c
}

func (p *program) seek(ctx context.Context, path string, o seekOptions) error {
	if err := cmp.Or(o.output.check(), inRange("points", o.points, 1, mostSoughtPoints),
		inRange("others", o.others, 0, mostSought-1), inRange("assumed", o.assumed, 0, mostAssumedSets)); err != nil {
		return err
	}
	s, err := readInput(ctx, p, path, func(name string, data []byte) (*scenario.Seek, error) {
		return scenario.ReadSeek(name, data, p.claims.Open, o.scenario.all())
	})
	if err != nil {
		return err
	}
	p.warnAll(s.Warnings)
	if s.Deliveries != 1 {
		return input.Wrong("there are %d bowlers × balls × lanes, and seek needs one: let  bowler, ball or lane  vary by a list of values", s.Deliveries)
	}
	study := runs.SeekStudy(s)
	study.Points, study.Keep, study.Sets, study.Work = o.points, 1+o.others, o.assumed, o.work(p.progress("place"))
	if o.assumed == 0 {
		study.Sets = -1
	}
	found, err := study.Run(ctx)
	if err != nil {
		return err
	}
	r := runs.Sought(s, found)
	if o.output.wants(drawnEndings()...) {
		if err := runs.ThrowSought(&r, s.Base.Settings); err != nil {
			return err
		}
	}
	return p.writeResults(ctx, o.output, results{
		json: r.WriteJSON, document: r.Document,
		picture: func() (*plots.Drawing, error) { return plots.DrawSeek(&r, o.phone.size()) },
		handout: func() (handout.Page, error) { return handouts.Seek(&r, s) },
	})
}
