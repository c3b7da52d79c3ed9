package main

import (
	"cmp"
	"context"

	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/scenario/runs"

	"github.com/spf13/pflag"
)

// spreadCarryFlags ask what becomes of a spread's deliveries at the pins.
type spreadCarryFlags struct {
	by        string
	games     int
	spareBall string
}

const byPocket, byCarry = "pocket", "carry"

func (o *spreadCarryFlags) add(f *pflag.FlagSet) {
	f.StringVar(&o.by, "by", byPocket, "what deliveries are judged by: pocket, or `carry` for strikes as well (assumed)")
	intVar(f, &o.games, "games", 0, "play so many `games`: their scores (assumed)")
	f.StringVar(&o.spareBall, "spare-ball", "", "the `ball` of the scenario that second balls are; each ball itself without")
}

func (o *spreadCarryFlags) check() error {
	return cmp.Or(wrongIf(o.spareBall != "" && o.games == 0, "--spare-ball is for --games"),
		atLeast(0, "games", o.games), oneOf("by", o.by, []string{byPocket, byCarry}))
}

// carrySpread does what the flags ask beside the spread. What is finished is kept if it
// fails.
func (p *program) carrySpread(ctx context.Context, w *studied.Spread, players []runs.Player, s *scenario.Scenario, o spreadCarryFlags) error {
	if o.by != byCarry && o.games == 0 {
		return nil
	}
	if !s.UsualRack() {
		p.note(&w.Warnings, studied.FromTable("strikes and leaves come"))
	}
	return runs.SpreadAtPins{Strikes: o.by == byCarry, Games: o.games, SpareBall: o.spareBall, Progress: p.progress}.Run(ctx, w, players, s)
}
