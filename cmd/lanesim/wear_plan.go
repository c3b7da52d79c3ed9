package main

import (
	"context"
	"fmt"
	"slices"

	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report/handout"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/scenario/runs"
)

// What --plan can be.
const (
	planAlone = "alone"
	planTeam  = "team"
)

// mostPlanShots keeps a plan from being played on without end.
const mostPlanShots = 100000

// planWear runs the wear command with --plan.
func (p *program) planWear(ctx context.Context, s *scenario.Scenario, o wearOptions) error {
	for _, l := range s.Lanes {
		if l.Oil == nil {
			return input.Wrong("the lane is dry: there is nothing to wear")
		}
	}
	w := studied.WearPlan{Title: s.Heading(), Warnings: slices.Clone(s.Warnings), Alone: o.plan == planAlone}
	for i := range s.Bowlers { // the plan finds the lines itself
		s.Bowlers[i].AimAtPocket = false
	}
	players, err := p.players(ctx, s, o.studyFlags, &w.Warnings)
	if err != nil {
		return err
	}
	write := func(interrupted error) error {
		return writeStudy(p, o.studyFlags, &w, interrupted, plots.DrawWearPlan, func() (handout.Page, error) { return handouts.WearPlan(&w, players, s) })
	}
	parts := runs.PlanParts(s, players, w.Alone, o.shots)
	step := p.progress("delivery")
	for k, part := range parts {
		part.Study.Limit = min(max(o.limit, part.Study.Shots), mostPlanShots)
		part.Study.Block, part.Study.Keep, part.Study.Sessions = o.block, o.share, max(o.sessions, 1)
		if o.sessions == 1 {
			part.Study.Sessions = 0 // one is the usual number of sessions, but a plan needs several
		}
		part.Study.Seed, part.Study.Settings = o.seed, s.Settings
		part.Study.Work = o.work(func(done, total int) { step(k*total+done, len(parts)*total) })
		if part.Result, err = part.Study.Run(ctx); err != nil {
			if ctx.Err() != nil && len(w.Parts) > 0 {
				p.note(&w.Warnings, fmt.Sprintf("interrupted: %d of %d plans are finished", len(w.Parts), len(parts)))
				return write(err)
			}
			return fmt.Errorf("%s: %w", w.Name(part.Players[0]), err)
		}
		part.Study = part.Study.Filled()
		w.Parts = append(w.Parts, part)
	}
	var interrupted error
	if o.assumed > 0 {
		err := runs.TryPlan(ctx, &w, o.assumed, p.progress("set of assumed values"))
		if err = p.cutShort(ctx, err, &interrupted, &w.Warnings, w.Tried.Interrupted()); err != nil {
			return err
		}
	}
	return write(interrupted)
}
