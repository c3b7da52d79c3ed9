package main

import (
	"context"
	"fmt"

	"lanesim/report"
	"lanesim/studies"

	"github.com/spf13/pflag"
)

// addAssumed adds the flag that asks how sure conclusions are.
func addAssumed(f *pflag.FlagSet, to *int) {
	intVar(f, to, "assumed", 0, fmt.Sprintf("try the conclusions with so many `sets` of the values that are assumed (%d is usual; may take minutes)", studies.DefaultAssumedSets))
}

// conclusion is something that a study concludes, and tried are those that were tried
// with sets of assumed values.
type (
	conclusion = report.Conclusion
	tried      = report.Tried
)

// tryAssumed tries conclusions with n sets of assumed values. Run does the study with
// a set and returns which of them hold. If the context ends, what is finished is
// returned with its error.
func (p *program) tryAssumed(ctx context.Context, n int, list []conclusion, run func(studies.AssumedSet) (func(conclusion) bool, error)) (*tried, error) {
	t := &tried{Asked: n, Conclusions: append([]conclusion{}, list...)}
	if len(list) == 0 {
		return t, nil
	}
	step := p.progress("set of assumed values")
	defer step(n, n)
	for k, set := range studies.AssumedSets(n) {
		step(k, n)
		holds, err := run(set)
		if err != nil {
			t.Judge()
			return t, err
		}
		t.Of++
		for i := range t.Conclusions {
			if c := &t.Conclusions[i]; holds(*c) {
				c.Holds++
			}
		}
	}
	t.Judge()
	return t, nil
}
