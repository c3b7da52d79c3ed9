package main

import (
	"cmp"
	"context"

	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/scenario/runs"

	"github.com/spf13/pflag"
)

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
