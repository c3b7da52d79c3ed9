package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report/handout"
	"lanesim/report/studied"
	"lanesim/scenario/runs"
	"lanesim/studies/aim"
	"lanesim/studies/wear"

	"github.com/spf13/cobra"
)

// wearOptions are the flags of the wear command.
type wearOptions struct {
	studyFlags
	shots, sessions, block, practice, limit int
	share                                   float64
	by, plan                                string
	moves                                   bool
}

func (p *program) wearCommand() *cobra.Command {
	var o wearOptions
	c := ofFile("wear", func(ctx context.Context, path string) error { return p.wear(ctx, path, o) })
	f := c.Flags()
	o.scenario.add(c)
	o.scenario.addPocket(c)
	intVar(f, &o.shots, "shots", 0, fmt.Sprintf("deliveries in total (default the session's, or %d)", runs.DefaultSession))
	intVar(f, &o.practice, "practice", 0, "practice deliveries before, by all in turn, that wear the lane but are not counted")
	o.addSeed(c)
	o.addJobs(c)
	intVar(f, &o.sessions, "sessions", 1, "how often the session is played")
	intVar(f, &o.block, "block", wear.DefaultBlock, "deliveries in a reported block")
	numberVar(f, &o.share, "keep", 0, "pocket share, from 0 to 1, above which a line lasts (default half of the first block's)")
	o.addLevel(c, "bowlers'")
	f.StringVar(&o.by, "by", byPocket, "count shares in the pocket, or with `carry` strikes as well (assumed)")
	complete(c, "by", byPocket, byCarry)
	o.addAssumed(c)
	f.BoolVar(&o.moves, "moves", false, "find the move that restores each line at the end, and the ball that is then best")
	f.StringVar(&o.plan, "plan", "", "find how long each bowler's best line lasts and which move or ball follows: `alone` (each ball on a fresh lane of its own) or team (all bowlers together, on one lane or a pair)")
	complete(c, "plan", planAlone, planTeam)
	intVar(f, &o.limit, "limit", wear.DefaultPlanLimit, "most deliveries of a plan whose line still lasts")
	o.addOutput(c, "the deliveries", deliveryEndings())
	return c
}

func (p *program) wear(ctx context.Context, path string, o wearOptions) error {
	const notWithPlan = "--%s cannot be given with --plan"
	plans := o.plan != ""
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), oneOf("by", o.by, []string{byPocket, byCarry}),
		atLeast(0, "shots", o.shots), atLeast(0, "practice", o.practice), atLeast(1, "sessions", o.sessions), atLeast(1, "block", o.block),
		atLeast(0, "assumed", o.assumed), oneOf("plan", o.plan, []string{planAlone, planTeam, ""}),
		wrongIf(plans && o.practice > 0, notWithPlan, "practice"), wrongIf(plans && o.moves, notWithPlan, "moves"),
		wrongIf(plans && o.by == byCarry, notWithPlan, "by carry"),
		wrongIf(!(o.share >= 0 && o.share <= 1), "--keep is %g: it can be from 0 to 1", o.share))
	if err != nil {
		return err
	}
	if plans {
		return p.planWear(ctx, s, o)
	}
	if err := cmp.Or(wrongIf(len(s.Lanes) != 1, "there are %d lanes: a session is played on one; --plan team can use a pair", len(s.Lanes)),
		wrongIf(s.Lanes[0].Oil == nil, "the lane is dry: there is nothing to wear")); err != nil {
		return err
	}
	w := studied.Wear{Title: s.Heading(), Warnings: slices.Clone(s.Warnings)}
	players, err := p.players(ctx, s, o.studyFlags, &w.Warnings)
	if err != nil {
		return err
	}
	if o.by == byCarry && !s.UsualRack() {
		p.note(&w.Warnings, studied.FromTable("shares of strikes come"))
	}
	w.Study = wear.Study{
		Lane: s.Lanes[0], Practice: o.practice, Sessions: o.sessions, Seed: o.seed,
		Block: o.block, Share: o.share, By: aim.Measure(o.by), Settings: s.Settings, Work: o.work(p.progress("session")),
	}
	for k := range o.practice {
		w.Study.Order = append(w.Study.Order, k%len(players))
	}
	order := runs.SessionOrder(s, players, o.shots)
	w.Study.Order = append(w.Study.Order, order...)
	w.Players, w.Study.Setups = runs.Names(players), runs.Setups(players)
	for _, k := range runs.LineMarks(len(order)) {
		w.Study.Marks = append(w.Study.Marks, o.practice+k)
	}
	var interrupted error
	if w.Result, err = w.Study.Run(ctx); err != nil && w.Result.Sessions == 0 {
		return err
	}
	err = p.cutShort(ctx, err, &interrupted, &w.Warnings, fmt.Sprintf("interrupted: %d of %d sessions are finished", w.Result.Sessions, o.sessions))
	if err == nil && interrupted == nil && o.moves {
		err = runs.FindMoves(ctx, &w, o.seed, p.progress("move"))
		err = p.cutShort(ctx, err, &interrupted, &w.Warnings, fmt.Sprintf("interrupted: %d of %d moves are finished", len(w.Moves), len(players)))
	}
	if err == nil && interrupted == nil && o.assumed > 0 {
		err = runs.TryLasting(ctx, &w, players, s, o.assumed, p.progress("set of assumed values"))
		err = p.cutShort(ctx, err, &interrupted, &w.Warnings, w.Tried.Interrupted())
	}
	if err != nil {
		return err
	}
	if o.output.wants(drawnEndings()...) {
		if err := runs.ThrowWornLines(&w, plots.MaxWornLines); err != nil {
			return err
		}
	}
	return writeStudy(p, o.studyFlags, &w, interrupted, plots.DrawWear, func() (handout.Page, error) { return handouts.Wear(&w, players, s) })
}
