package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"lanesim/internal/input"
	"lanesim/pins"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report"
	"lanesim/report/handout"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies"
	"lanesim/studies/carry"

	"github.com/spf13/cobra"
)

// carryOptions are the flags of the carry command.
type carryOptions struct {
	studyFlags
	racks           int
	leave, weights  string
	scatter, mapped bool
}

func (p *program) carryCommand() *cobra.Command {
	var o carryOptions
	c := ofFile("carry", func(ctx context.Context, path string) error { return p.carry(ctx, path, o) })
	f := c.Flags()
	o.scenario.pins = true
	o.scenario.add(c)
	intVar(f, &o.racks, "racks", carry.DefaultRacks, "racks that each shot hits")
	o.addSeed(c)
	o.addJobs(c)
	f.BoolVar(&o.scatter, "scatter", false, "draw a delivery of the bowler's own for each rack")
	o.addLevel(c, "bowlers'")
	f.StringVar(&o.leave, "leave", "", "the standing `pins`, as 3-6-10 (default a full rack)")
	f.StringVar(&o.weights, "ball-weights", "", "throw each ball in these `weights`, as \"14 lb,15 lb,16 lb\"")
	f.BoolVar(&o.mapped, "map", false, "compute the share of strikes over board and angle")
	o.addOutput(c, "the leaves", studyEndings())
	return c
}

func (p *program) carry(ctx context.Context, path string, o carryOptions) error {
	if err := cmp.Or(o.output.check(), atLeast(1, "racks", o.racks)); err != nil {
		return err
	}
	leave := pins.Leave(0)
	if o.leave != "" {
		var err error
		if leave, err = pins.ParseLeave(o.leave); err != nil {
			return input.Wrong("--leave: %s", strings.TrimPrefix(err.Error(), "pins: "))
		}
	}
	var sets []string
	if o.weights != "" {
		for weight := range strings.SplitSeq(o.weights, ",") {
			sets = append(sets, "ball.weight="+strings.TrimSpace(weight))
		}
	}
	list, err := p.readScenarios(ctx, path, o.scenario, sets)
	if err != nil {
		return err
	}
	s := list[0]
	w := &studied.Carry{Title: s.Heading(), Warnings: slices.Clone(s.Warnings), Assumed: s.RackValues(), Scatter: o.scatter}
	var players []runs.Player
	for i, s := range list {
		these, assumed, err := runs.Players(ctx, s, o.level, o.work(p.progress("aim")))
		if err != nil {
			return err
		}
		if i == 0 && (o.scatter || o.mapped) {
			p.note(&w.Warnings, assumed...)
		}
		for _, t := range these {
			if len(sets) > 0 {
				t.Ball += ", " + strings.TrimPrefix(sets[i], "ball.weight=")
			}
			players = append(players, t)
			w.Players = append(w.Players, t.Player)
			standing := leave
			if standing == 0 {
				standing = s.Bowlers[t.At.Bowler].AimAtPins
			}
			w.Standing = append(w.Standing, standing)
		}
	}
	if n := len(players); o.output.wants(drawnEndings()...) && n > plots.MaxDecks {
		return input.Wrong("%d bowlers, balls and lanes are too many for a picture, which shows up to %d", n, plots.MaxDecks)
	}
	if o.mapped && !s.UsualRack() {
		p.note(&w.Warnings, studied.FromTable("the map comes"))
	}
	interrupted := p.rollRacks(ctx, w, players, s, o)
	if interrupted != nil && ctx.Err() == nil || len(w.Results) == 0 {
		return interrupted
	}
	typical := sync.OnceValues(func() ([]pins.Result, error) { return carry.Typical(w.Studies, w.Results) })
	draw := func(w *studied.Carry, size plots.Size) (*plots.Drawing, error) {
		racks, err := typical()
		if err != nil {
			return nil, err
		}
		return plots.DrawCarry(w, racks, size)
	}
	return writeStudy(p, o.studyFlags, w, interrupted, draw, func() (handout.Page, error) {
		racks, err := typical()
		if err != nil {
			return handout.Page{}, err
		}
		return handouts.Racks(w, list, players, racks)
	})
}

// rollRacks rolls all racks. If it fails, what is finished is kept.
func (p *program) rollRacks(ctx context.Context, w *studied.Carry, players []runs.Player, s *scenario.Scenario, o carryOptions) error {
	for i, t := range players {
		study := carry.Study{
			Setups: []studies.Setup{t.Setup}, Standing: w.Standing[i], Racks: o.racks, Seed: o.seed, Scatter: o.scatter,
			Deck: s.Rack, Settings: s.Settings, Work: o.work(p.progressOf("shot", i, len(players), "rack")),
		}
		results, err := study.Run(ctx)
		w.Results = append(w.Results, results...)
		w.Studies = append(w.Studies, study)
		if err == nil && o.mapped {
			var m carry.MapResult
			if m, err = (carry.Deliveries{Setup: t.Setup, Seed: o.seed, Settings: s.Settings, Work: o.work(nil)}).Map(ctx); err == nil {
				w.Maps = append(w.Maps, m)
			}
		}
		if err != nil {
			if ctx.Err() == nil {
				return fmt.Errorf("%s with %s on %s: %w", t.Bowler, t.Ball, t.Lane, err)
			}
			if len(w.Results) > 0 {
				p.note(&w.Warnings, fmt.Sprintf("interrupted: %d of %d shots are reported, the last of them with %s", len(w.Results), len(players),
					report.Counting(w.Results[len(w.Results)-1].Tally.Racks, "rack")))
			}
			return err
		}
	}
	return nil
}
