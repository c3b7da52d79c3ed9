package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report/handout"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies/spread"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// spreadOptions are the flags of the spread command.
type spreadOptions struct {
	studyFlags
	shots int
	until string
	sobol bool
	carry spreadCarryFlags
}

func (p *program) spreadCommand() *cobra.Command {
	var o spreadOptions
	c := ofFile("spread", func(ctx context.Context, path string) error { return p.spread(ctx, path, o) })
	f := c.Flags()
	o.scenario.add(c)
	o.scenario.addPocket(c)
	intVar(f, &o.shots, "shots", 1000, "deliveries of each bowler × ball × lane")
	o.addSeed(c)
	o.addJobs(c)
	o.addLevel(c, "bowlers'")
	f.StringVar(&o.until, "until", "", "stop when the pocket shares are known to ± this `share`, as 1%")
	f.BoolVar(&o.sobol, "sobol", false, "print Sobol indices as well")
	o.carry.add(f)
	o.addOutput(c, "the deliveries", deliveryEndings())
	return c
}

func (p *program) spread(ctx context.Context, path string, o spreadOptions) error {
	until, wrongUntil := shareOf("until", o.until)
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), atLeast(1, "shots", o.shots), o.carry.check(), wrongUntil)
	if err != nil {
		return err
	}
	w := studied.Spread{Title: s.Heading(), Warnings: slices.Clone(s.Warnings)}
	if n := len(s.Bowlers) * len(s.Balls) * len(s.Lanes); n > plots.MaxSpreadPanels && o.output.wants(drawnEndings()...) {
		return input.Wrong("%d bowlers, balls and lanes are too many for a picture, which shows up to %d", n, plots.MaxSpreadPanels)
	}
	players, err := p.players(ctx, s, o.studyFlags, &w.Warnings)
	if err != nil {
		return err
	}
	w.Study = spread.Study{
		Pairs: runs.SpreadPairs(players), Shots: o.shots, Seed: o.seed, Until: until, Settings: s.Settings, Work: o.work(p.progress("shot")),
	}
	if o.sobol {
		w.Study.Sobol = o.shots
	}
	w.Players, w.Study.Setups = runs.Names(players), runs.Setups(players)
	var interrupted error
	if w.Result, err = w.Study.Run(ctx); err != nil && w.Result.Shots == 0 {
		return err
	} else if words := w.UntilCaution(until); err == nil && until > 0 && words != "" {
		p.note(&w.Warnings, words)
	}
	err = p.cutShort(ctx, err, &interrupted, &w.Warnings,
		fmt.Sprintf("interrupted: %d of %d deliveries are reported, and the cost of misses may be incomplete", w.Result.Shots, o.shots))
	if err == nil && interrupted == nil {
		err = p.carrySpread(ctx, &w, players, s, o.carry)
		err = p.cutShort(ctx, err, &interrupted, &w.Warnings, "interrupted: strikes and games are incomplete")
	}
	if err != nil {
		return err
	}
	if o.output.wants(drawnEndings()...) {
		if err := runs.ThrowSpreadPaths(&w); err != nil {
			return err
		}
	}
	return writeStudy(p, o.studyFlags, &w, interrupted, plots.DrawSpread, func() (handout.Page, error) { return handouts.Spread(&w, players, s) })
}

// shareOf reads a share written as 1% or 0.01; an empty text is 0.
func shareOf(flag, text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	digits, percent := strings.CutSuffix(text, "%")
	v, err := input.Number(strings.TrimSpace(digits))
	if percent {
		v /= 100
	}
	if err != nil || !(v > 0 && v < 1) {
		return 0, input.Wrong("--%s is %q: it must be above 0%% and below 100%%, as 1%%", flag, text)
	}
	return v, nil
}

// spreadCarryFlags are the flags of spread for deliveries at the pins.
type spreadCarryFlags struct {
	by        string
	games     int
	spareBall string
}

const byPocket, byCarry = "pocket", "carry"

func (o *spreadCarryFlags) add(f *pflag.FlagSet) {
	f.StringVar(&o.by, "by", byPocket, "judge deliveries by the pocket, or by `carry` for strikes as well (assumed)")
	intVar(f, &o.games, "games", 0, "play this many `games` and count their scores (assumed)")
	f.StringVar(&o.spareBall, "spare-ball", "", "the `ball` of the scenario for second balls (default the first ball's own)")
}

func (o *spreadCarryFlags) check() error {
	return cmp.Or(wrongIf(o.spareBall != "" && o.games == 0, "--spare-ball needs --games"),
		atLeast(0, "games", o.games), oneOf("by", o.by, []string{byPocket, byCarry}))
}

// carrySpread adds strikes and games to a spread. If it fails, what is finished is kept.
func (p *program) carrySpread(ctx context.Context, w *studied.Spread, players []runs.Player, s *scenario.Scenario, o spreadCarryFlags) error {
	if o.by != byCarry && o.games == 0 {
		return nil
	}
	if !s.UsualRack() {
		p.note(&w.Warnings, studied.FromTable("strikes and leaves come"))
	}
	return runs.SpreadAtPins{Strikes: o.by == byCarry, Games: o.games, SpareBall: o.spareBall, Progress: p.progress}.Run(ctx, w, players, s)
}
