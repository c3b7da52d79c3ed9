package main

import (
	"context"
	"fmt"

	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies"

	"github.com/spf13/pflag"
)

// addAssumed adds the flag that asks how sure conclusions are.
func addAssumed(f *pflag.FlagSet, to *int) {
	intVar(f, to, "assumed", 0, fmt.Sprintf("try the conclusions with so many `sets` of the values that are assumed (%d is usual; may take minutes)", studies.DefaultAssumedSets))
}

// players prepares every bowler × ball on every lane, with a warning for each thing that
// was assumed.
func (p *program) players(ctx context.Context, s *scenario.Scenario, level string) ([]runs.Player, []string, error) {
	return runs.Players(ctx, s, level, p.progress("aim"))
}
