package main

import (
	"context"
	"io"

	"lanesim/internal/files"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report"
	"lanesim/report/handout"
	"lanesim/report/layouts"
	"lanesim/scenario"
	"lanesim/scenario/runs"

	"github.com/spf13/cobra"
)

// layoutOptions are the flags of the layout command.
type layoutOptions struct {
	scenario scenarioFlags
	output   outputFlags
	picture  pictureFlags
	jobsFlag
	paper  string
	strips bool

	tolerances bool
}

func (p *program) layoutCommand() *cobra.Command {
	var o layoutOptions
	c := ofFile("layout", func(ctx context.Context, path string) error { return p.layout(ctx, path, o) })
	o.scenario.add(c)
	o.output.addJSON(c)
	o.output.addPaths(c, append(pictureEndings(), ".json", handoutEnding))
	o.picture.addPhone(c)
	o.addJobs(c)
	addPaper(c.Flags(), &o.paper)
	c.Flags().BoolVar(&o.strips, "strips", false, "add a page of paper strips at true scale to a .pdf sheet")
	c.Flags().BoolVar(&o.tolerances, "tolerances", false, "show what small errors of drilling change in the shot")
	return c
}

func (p *program) layout(ctx context.Context, path string, o layoutOptions) error {
	paper, noPaper := paperOf(o.paper)
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), noPaper)
	if err != nil {
		return err
	}
	if err := p.claimNumbered(o.output, len(s.Bowlers)*len(s.Balls)*len(s.Lanes)); err != nil {
		return err
	}
	balls, err := runs.Layouts{
		Tolerances: o.tolerances, Warn: p.warn, Work: o.work(p.progress("shot")),
	}.Run(ctx, s)
	if err != nil {
		return err
	}
	return p.writeResults(ctx, o.output, results{
		json:     func(to io.Writer) error { return layouts.WriteLayouts(to, s.Warnings, balls) },
		document: func() report.Document { return layouts.LayoutDocument(s.Title, balls) },
		draw:     func(path string) ([]file, error) { return drawLayouts(path, s, balls, paper, o) },
		handout:  func() (handout.Page, error) { return handouts.Layouts(s, balls) },
	})
}

// drawLayouts draws a sheet for each ball, bowler and lane.
func drawLayouts(out string, s *scenario.Scenario, balls []layouts.Layout, paper plots.Paper, o layoutOptions) ([]file, error) {
	var all []file
	for _, l := range balls {
		for i := range l.Flares {
			path := files.Numbered(out, len(all))
			var made file
			var err error
			if files.Ending(out) == ".pdf" {
				made, err = drillSheet(path, l, l.Flares[i], paper, o.strips)
			} else {
				figure := handouts.BallFigure(s, l, i, o.picture.size())
				figure.Numbers = true
				made, err = picture(path, func() (*plots.Drawing, error) { return plots.Ball(figure) })
			}
			if err != nil {
				return nil, err
			}
			all = append(all, made)
		}
	}
	return all, nil
}
