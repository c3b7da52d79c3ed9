package main

import (
	"context"
	"fmt"
	"strings"

	"lanesim/report"
	"lanesim/studies"

	"github.com/spf13/pflag"
)

// addAssumed adds the flag that asks how sure conclusions are.
func addAssumed(f *pflag.FlagSet, to *int) {
	intVar(f, to, "assumed", 0, fmt.Sprintf("try the conclusions with so many `sets` of the values that are assumed (%d is usual; may take minutes)", studies.DefaultAssumedSets))
}

// conclusion is something that a study concludes of a ball, and in how many sets of
// assumed values it holds.
type conclusion struct {
	Kind    string  `json:"conclusion"`
	Bowler  string  `json:"bowler"`
	Lane    *string `json:"lane"`
	Ball    string  `json:"ball"`
	Against *string `json:"against"`
	Holds   int     `json:"holds"`
	Open    bool    `json:"open"`

	claim string // a clause for people
	a, b  int    // of players
}

// tried are conclusions that were tried with sets of assumed values.
type tried struct {
	Asked       int          `json:"asked"`
	Of          int          `json:"of"` // those that are finished
	Conclusions []conclusion `json:"conclusions"`
}

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
			t.judge()
			return t, err
		}
		t.Of++
		for i := range t.Conclusions {
			if c := &t.Conclusions[i]; holds(*c) {
				c.Holds++
			}
		}
	}
	t.judge()
	return t, nil
}

// judge calls open what holds in fewer than three quarters of the sets.
func (t *tried) judge() {
	for i := range t.Conclusions {
		c := &t.Conclusions[i]
		c.Open = studies.Held{Of: t.Of}.Open(c.Holds)
	}
}

// words say how sure the conclusions are, under a heading. Nil was not asked for.
func (t *tried) words(color report.Paint) string {
	heading := "\n" + color.Heading("how sure") + "\n\n"
	switch {
	case t == nil:
		return fmt.Sprintf("\nNot tried with other values of what is assumed: --assumed %d does that.\n", studies.DefaultAssumedSets)
	case len(t.Conclusions) == 0:
		return heading + "There is nothing to try: no ball comes out before another.\n"
	case t.Of == 0:
		return heading + "No set of the values that are assumed was finished.\n"
	}
	var b strings.Builder
	b.WriteString(heading)
	for _, c := range t.Conclusions {
		sets := fmt.Sprintf("in %d of %d sets of the values that are assumed", c.Holds, t.Of)
		if c.Open {
			fmt.Fprintf(&b, "Open: that %s holds %s.\n", c.claim, sets)
		} else {
			fmt.Fprintf(&b, "%s %s.\n", strings.ToUpper(c.claim[:1])+c.claim[1:], sets)
		}
	}
	return b.String()
}

// interruptedSets says how far an interrupted trial came.
func (t *tried) interruptedSets() string {
	return fmt.Sprintf("interrupted: %d of %d sets of assumed values are finished", t.Of, t.Asked)
}
