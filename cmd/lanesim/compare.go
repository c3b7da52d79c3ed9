package main

import (
	"context"
	"io"
	"slices"

	"lanesim/files"
	"lanesim/handout"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/runs"
	"lanesim/studies"
	"lanesim/studies/compare"

	"github.com/spf13/cobra"
)

// compareOptions are the flags of the compare command.
type compareOptions struct {
	scenario scenarioFlags
	output   outputFlags
	aim      string
	between  string
	pairs    []string
	assumed  int
	phone    pictureFlags
	columns  columnFlags
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
	c := &cobra.Command{
		Use:     "compare FILE [FILE...]",
		GroupID: groupRun,
		Short:   "Tell by how much shots differ, where, and why",
		Long: `Compare throws every bowler × ball on every lane and line of the scenarios and
tells what changes from one shot, a, to another, b: always b − a. Pairs are the
shots of one bowler that differ in the ball alone; if there are none, in the
line, or in the lane, or all shots with each other. --between asks for others.

How the core points when the ball lands is not known, and moves a shot by as
much as many layouts do. So each number is a mean over 12 phases of the release,
after ± its standard deviation over them. Both balls have the same phases; the
scenario's own phase does not matter.

All balls of a bowler on a lane take one line, that of the first: where the
scenario says to aim at the pocket, the launch angle at which the mean entry is
the middle of the pocket. With --aim each, every ball finds its own. The
settings are those of the first file.

A difference below settings.visible, half a board at the pins and a foot of
friction read, is one that could not be seen, and is told as none. How sure an
answer is shows when the values that are assumed are changed within their
ranges, which ` + "`lanesim reference`" + ` lists: the table says in how many of 24 sets
of them it holds. Lines follow, so that the first ball stays on its board. An
answer that fewer than three quarters of the sets share is open. Values that the
scenario names under ` + "`measured`" + ` are kept.

A difference is shared out in two ways, each adding up to it. By mechanism, each
shot is computed in full, then without oil on the ball, then also with inertia
equal in all directions, m k² with its RG k about the spin axis at release:

  oil_on_track    what vanishes when the cover remembers no oil
  axis_migration  what vanishes when the inertia is made equal as well
  rg_about_axis   what of the rest the RG k of the two balls makes: layouts,
                  drilling and RGs swapped, in the mean of both directions
  other           what is left: cover, surface, release, line, oil; 0 if only
                  the layouts differ

By input, each group in which the shots differ is swapped in every order, and
its share is its mean effect (Shapley value):

  layout           pin and PSA, and the grip that is drilled
  mass_properties  weight, size, RGs, balance
  cover            friction of the cover and its soak-in time
  surface          roughness, film memory, contact radius
  release          hand, PAP, speed, rev rate, axis rotation and tilt
  line             laydown and launch angle
  lane             oil, friction, tilt

What does not exist for one of the shots, at one of the phases, is null.

The table begins with the answer and has a line for each pair, then the details
of the first, or of those that --pair names. "Entry if missed" is how far apart
the two enter, each on its line and with the line missed by a board at the
arrows to either side: the smoother ball has less. A picture shows the pairs as
a table and then, for each bowler, line and lane, up to four shots over the oil
and the last 20 ft enlarged; for up to three of those also the boards between
the shots, and what their tracks do: how far each turn's track lies from the
last one's, against the width of the contact, and the film that they bring. With --csv the boards between them are printed at every half
foot. With --verbose the numerical error is computed and told as well.

With the ending .html it writes a handout, a web page for somebody without the
program: the answer, the shots in motion, pictures, tables, cautions, assumed
values, inputs, and its words explained.`,
		Example: `  lanesim compare examples/compare-flare.yaml
  lanesim compare examples/compare-flare.yaml -o compare.png --aim each
  lanesim compare examples/compare-flare.yaml --pair 'High flare, Low flare'
  lanesim compare examples/layouts-sport-and-house.yaml -o matrix.png --phone
  lanesim compare examples/layouts-sport-and-house.yaml --between lines --assumed 0
  lanesim compare examples/compare-flat.yaml --json -o handout.html
  lanesim compare examples/compare-flare.yaml --columns bowler,at_pins_boards,hook_ft --csv --assumed 0
  lanesim compare examples/compare-one-number.yaml --csv
  lanesim compare examples/first-shot.yaml examples/left-hander.yaml`,
		Args: func(c *cobra.Command, arguments []string) error {
			if len(arguments) == 0 && !o.columns.listed() {
				return wrongInput("%s needs a file, or - for standard input", c.Name())
			}
			return nil
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			if o.columns.listed() {
				return p.print([]byte(report.ListOfComparison()))
			}
			return p.compare(c.Context(), arguments, o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	o.scenario.add(c)
	f.StringVar(&o.aim, "aim", aimSame, "who `aims`: same (one line for all from one board) or each (at the pocket)")
	complete(c, "aim", aimSame, aimEach)
	f.StringVar(&o.between, "between", "", "compare shots that differ in `what` alone: balls, lines, lanes, bowlers or all; the first of balls, lines and lanes of which a bowler has several unless it is given")
	complete(c, "between", runs.Betweens()...)
	f.StringArrayVar(&o.pairs, "pair", nil, "tell the details of the pair of these `names`, as 'a, b', in place of those of the first; all for every pair; repeatable")
	intVar(f, &o.assumed, "assumed", studies.DefaultAssumedSets, "`number` of sets of assumed values with which the answers are tried; 0 for none")
	o.output.addJSON(c)
	o.output.addCSV(c, "print the boards between the paths as CSV")
	o.columns.add(c, report.KeysOfComparison)
	o.output.addPaths(c, studyEndings())
	o.phone.addPhone(c)
	return c
}

// compare runs the compare command.
func (p *program) compare(ctx context.Context, paths []string, o compareOptions) error {
	if err := o.output.check(studyEndings()); err != nil {
		return err
	}
	if err := oneOf("aim", o.aim, []string{aimSame, aimEach}); err != nil {
		return err
	}
	if o.between != "" {
		if err := oneOf("between", o.between, runs.Betweens()); err != nil {
			return err
		}
	}
	chosen, unknown := report.ChooseOfComparison(o.columns.names)
	if err := o.columns.check(o.output, unknown, report.KeysOfComparison); err != nil {
		return err
	}
	if o.assumed < 0 || o.assumed > mostAssumedSets {
		return wrongInput("--assumed is %d: it can be 0 to %d", o.assumed, mostAssumedSets)
	}
	if len(slices.DeleteFunc(slices.Clone(paths), func(path string) bool { return path != files.Standard })) > 1 {
		return wrongInput("standard input can be read only once")
	}
	var c runs.Comparison
	for _, path := range paths {
		s, err := p.readScenario(ctx, path, o.scenario)
		if err != nil {
			return err
		}
		p.tellAssumptions(s)
		if err := c.Add(ctx, path, title(s), s); err != nil {
			return err
		}
	}
	if len(c.Deliveries) < 2 {
		return wrongInput("there is one shot; a comparison needs two: give several balls, bowlers or lanes, or another file")
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
		Sets: o.assumed, Errors: p.common.verbose, Progress: p.progress("shot"),
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
		t.Pocket = report.Pocket(study.Settings, t.Release)
		if t.Inputs, err = c.Scenarios[i].InputsFrom(c.At[i], t.Release.Laydown, t.Release.Angle); err != nil {
			return err
		}
	}
	p.tellWork(c.Shots)
	draw := func(size plots.Size) (*plots.Drawing, error) {
		return plots.DrawComparison(&c.Comparison, c.Lanes(), c.Panels(), size)
	}
	r := results{json: c.WriteJSON, picture: func() (*plots.Drawing, error) { return draw(o.phone.size()) },
		handout: func() (handout.Page, error) { return handedComparison(&c, detailed, draw) }}
	switch {
	case chosen.Points != nil:
		r.csv = func(to io.Writer) error { return report.WriteCSV(to, chosen.Points, c.Distances()) }
		r.document = func() report.Document { return report.TableDocument(c.Title, chosen.Points, c.Distances()) }
	case chosen.Rows != nil:
		r.csv = func(to io.Writer) error { return report.WriteCSV(to, chosen.Rows, c.Pairs()) }
		r.document = func() report.Document { return report.TableDocument(c.Title, chosen.Rows, c.Pairs()) }
	default:
		r.csv = func(to io.Writer) error { return report.WriteCSV(to, report.DistanceColumns(), c.Distances()) }
		r.document = func() report.Document { return c.Document(detailed) }
	}
	return p.writeResults(ctx, o.output, r)
}
