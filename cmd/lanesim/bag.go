package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"lanesim/internal/files"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report/handout"
	"lanesim/report/studied"
	"lanesim/rows"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies/aim"
	"lanesim/studies/bag"

	"github.com/spf13/cobra"
)

// bagOptions are the flags of the bag command.
type bagOptions struct {
	studyFlags
	size, shots, farthest, worn int
	by                          string
	resume                      bool
}

func (p *program) bagCommand() *cobra.Command {
	var o bagOptions
	c := ofFile("bag", func(ctx context.Context, path string) error { return p.bag(ctx, path, o) })
	f := c.Flags()
	o.scenario.fixedLine = true
	o.scenario.add(c)
	o.scenario.addPocket(c)
	intVar(f, &o.size, "size", 3, "balls to choose")
	intVar(f, &o.worn, "worn", 0, "also use each lane as it is after this many deliveries")
	intVar(f, &o.farthest, "farthest", 6, "boards by which the laydown may move either way")
	f.StringVar(&o.by, "by", string(aim.ByPocketShare), "judge lines and balls by their `share`: pocket, good (in the pocket at a good angle) or carry (strikes, assumed)")
	complete(c, "by", lineMeasures()...)
	intVar(f, &o.shots, "shots", aim.DefaultShots, "deliveries of each line")
	o.addSeed(c)
	o.addJobs(c)
	o.addLevel(c, "bowler's")
	o.addAssumed(c)
	f.BoolVar(&o.resume, "resume", false, "continue an interrupted run with the same -o")
	o.addOutput(c, "the table of shares", studyEndings())
	return c
}

// bagWork is the state of the command.
type bagWork struct {
	runs.Bag
	scenario *scenario.Scenario
	players  []runs.Player // lane by lane a player for each ball
}

func (p *program) bag(ctx context.Context, path string, o bagOptions) error {
	paths := o.output.files()
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), oneOf("by", o.by, lineMeasures()),
		atLeast(1, "shots", o.shots), atLeast(1, "farthest", o.farthest), atLeast(0, "assumed", o.assumed), atLeast(0, "worn", o.worn),
		wrongIf(o.resume && len(paths) == 0, "--resume needs the -o of the run that was interrupted"))
	if err != nil {
		return err
	}
	if err := cmp.Or(wrongIf(len(s.Bowlers) != 1, "there are %d bowlers: a bag is for one", len(s.Bowlers)),
		wrongIf(o.size < 1 || o.size > len(s.Balls), "--size is %d: there are %d balls to choose from", o.size, len(s.Balls))); err != nil {
		return err
	}
	if len(paths) > 0 {
		if err := p.claim(paths[0] + files.PartialEnding); err != nil {
			return err
		}
	}
	// The search finds the line on every lane.
	s.Bowlers[0].AimAtPocket = false
	w := bagWork{scenario: s, Bag: runs.Bag{Worn: o.worn, Bag: studied.Bag{
		Title: s.Heading(), Warnings: slices.Clone(s.Warnings), Bowler: s.Bowlers[0].Name, Shots: o.shots,
	}}}
	players, err := p.players(ctx, s, o.studyFlags, &w.Warnings)
	if err != nil {
		return err
	}
	if w.players = players; o.by == string(aim.ByStrikeShare) && !s.UsualRack() {
		p.note(&w.Warnings, studied.FromTable("shares of strikes come"))
	}
	w.Study = bag.Study{
		Release: players[0].Setup.Release, Repeatability: players[0].Setup.Repeatability,
		Size: o.size, By: aim.Measure(o.by), Shots: o.shots, Seed: o.seed, Settings: s.Settings, Work: o.work(p.progress("ball and lane")),
	}
	w.Study.Limits.Laydown = aim.About(w.Study.Release, float64(o.farthest), 0).Laydown
	for _, t := range players[:len(s.Balls)] {
		w.Balls = append(w.Balls, t.Ball)
		w.Study.Balls = append(w.Study.Balls, t.Setup.Ball)
	}
	if err = w.AddLanes(ctx, s.Lanes); err != nil {
		return err
	}
	if len(paths) == 0 {
		if w.Choice, err = w.Study.Run(ctx); err != nil {
			return err
		}
		interrupted := w.TryAssumed(ctx, s, o.assumed, p.progress("set of assumed values"))
		if interrupted != nil && ctx.Err() == nil {
			return interrupted
		}
		return p.writeBag(&w, o, interrupted)
	}
	return p.bagToFiles(ctx, &w, s, paths[0]+files.PartialEnding, o)
}

// bagToFiles computes the cells with a partial file, which keeps the finished ones until
// the results are written.
func (p *program) bagToFiles(ctx context.Context, w *bagWork, s *scenario.Scenario, partial string, o bagOptions) error {
	header := rows.HeaderOf(runs.BagKeys, runs.BagKinds)
	header.Title, header.Rows, header.Block = w.Title, uint64(len(w.Study.Balls)*len(w.Study.Lanes)), 1
	var err error
	if header.Fingerprint, err = w.Fingerprint(s); err != nil {
		return err
	}
	j, err := p.openPartial(partial, header, o.resume)
	if err != nil {
		return err
	}
	err = j.Each(func(line []byte) error {
		cells, err := header.Cells(line)
		if err != nil {
			return err
		}
		c, err := runs.ReadBagRow(cells, o.shots)
		if err != nil {
			return fmt.Errorf("%w: %w", rows.ErrDamaged, err)
		}
		w.Study.Known = append(w.Study.Known, c)
		return nil
	})
	if err == nil {
		w.Study.Cell = func(c bag.Cell) error { return j.Row(header.Line(runs.BagRow(j.Rows(), c))) }
		w.Choice, err = w.Study.Run(ctx)
	}
	if err == nil {
		err = w.TryAssumed(ctx, s, o.assumed, p.progress("set of assumed values"))
		if err != nil && ctx.Err() != nil {
			err = p.writeBag(w, o, err)
		}
	}
	if err := p.keep(j, partial, err); err != nil {
		return err
	}
	if err := j.Finish(); err != nil {
		return err
	}
	return p.writeKept(j, partial, func() error { return p.writeBag(w, o, nil) })
}

// writeBag writes and prints the results, with the finished sets of assumed values after an
// interrupt.
func (p *program) writeBag(w *bagWork, o bagOptions, interrupted error) error {
	if interrupted != nil {
		p.note(&w.Warnings, w.Tried.Interrupted())
	}
	return writeStudy(p, o.studyFlags, &w.Bag.Bag, interrupted, plots.DrawBag, func() (handout.Page, error) {
		shots, err := w.ThrowChosen()
		if err != nil {
			return handout.Page{}, err
		}
		return handouts.Bag(&w.Bag, w.players, w.scenario, shots)
	})
}
