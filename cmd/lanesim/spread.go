package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"lanesim/handout"
	"lanesim/input"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/runs"
	"lanesim/scenario"
	"lanesim/studies/spread"

	"github.com/spf13/cobra"
)

// spreadOptions are the flags of the spread command.
type spreadOptions struct {
	scenario scenarioFlags
	output   outputFlags
	phone    pictureFlags
	shots    int
	seed     uint64
	level    string
	until    string
	sobol    bool
	carry    spreadCarryFlags
}

func (p *program) spreadCommand() *cobra.Command {
	var o spreadOptions
	c := &cobra.Command{
		Use:     "spread FILE",
		GroupID: groupRun,
		Short:   "Throw a bowler's own deliveries, and tell which miss costs most",
		Long: `Spread throws every bowler × ball on every lane many times, each delivery drawn
from the bowler's repeatability, on a lane that does not change. Where a
scenario says to aim at the pocket, the line is found once, first. How the core
points when the ball lands, the phase of the release, is drawn evenly from the
whole turn unless repeatability has a phase, its standard deviation.

It tells the share of deliveries that end in the pocket with its 95 % interval
(Wilson's score interval), the share with a good entry angle, and how entry
board and angle are spread; a ball in the gutter is a miss and has neither.

Which miss costs most is told in three ways, for each deviation:

  −σ, +σ        boards at the pins if it alone is one standard deviation off
                (not for a phase that is drawn evenly)
  of boards     the share of the entry board's variance that it explains alone,
                from the deliveries thrown, with its standard error
  without it    the pocket share of the first 500 deliveries, thrown again
                without this deviation, less that with it

With --sobol also first-order and total Sobol indices, S and T, of the entry
board and of the pocket, from seven or eight times as many shots. Explained
shares are those of independent deviates; where deviations are correlated, a
deviate is what those before it do not tell already.

All balls and lanes are thrown with the same deviations. Pocket shares of one
bowler with two balls or on two lanes are compared over the same deliveries,
with the 95 % score interval of their difference (Tango's); where it holds 0 the
words are "not significant".

With --by carry it tells strikes and leaves of the first balls as well, from a
stored table of racks, and what strikes would gain without each deviation. With
--games 200 it plays games by the rules of tenpin: second balls go at what the
first ones leave, on the line that converts it most often, with the bowler's own
deliveries; it tells mean and spread of the scores, and what a ball or lane is
worth in pins a game. Both rest on assumed values of the pins.

With --until 1% deliveries end, after any 250, when every pocket share is known
to ± 1 %; --shots is then the most.

A picture shows the first 60 paths over the oil, the line without deviations,
and a histogram of the entry boards with the pocket. With --csv every delivery
is a row, with its deviations from the line.

With the ending .html it writes a handout, a web page for somebody without the
program: the answer, pictures, tables, cautions, assumed values, inputs, and its
words explained.`,
		Example: `  lanesim spread examples/spread-which-miss.yaml
  lanesim spread examples/spread-house-and-flat.yaml -o spread.png -o handout.html
  lanesim spread examples/spread-two-balls.yaml --shots 5000 --until 2% --json
  lanesim spread examples/spread-which-miss.yaml --shots 200 --csv
  lanesim spread examples/first-shot.yaml --level tournament --shots 300 --sobol
  lanesim spread examples/spread-two-balls.yaml --shots 300 --by carry
  lanesim spread examples/first-shot.yaml --shots 100 --level tournament --games 3`,
		Args: oneFile,
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.spread(c.Context(), arguments[0], o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	o.scenario.add(c)
	o.scenario.addPocket(c)
	intVar(f, &o.shots, "shots", 1000, "deliveries of each bowler × ball × lane")
	seedVar(f, &o.seed, "seed", 1, "seed of the random numbers")
	f.StringVar(&o.level, "level", "", "skill `level` in place of the bowlers' repeatability (assumed)")
	complete(c, "level", scenario.SkillLevels()...)
	f.StringVar(&o.until, "until", "", "end when the pocket shares are known to ± this `share`, as 1%")
	f.BoolVar(&o.sobol, "sobol", false, "tell Sobol indices as well")
	o.carry.add(f)
	o.output.addJSON(c)
	o.output.addCSV(c, "print the deliveries as CSV")
	o.output.addPaths(c, studyEndings())
	o.phone.addPhone(c)
	return c
}

// spread runs the spread command.
func (p *program) spread(ctx context.Context, path string, o spreadOptions) error {
	if err := o.output.check(studyEndings()); err != nil {
		return err
	}
	if o.shots < 1 {
		return wrongInput("--shots is %d, less than 1", o.shots)
	}
	if err := o.carry.check(); err != nil {
		return err
	}
	until, err := shareOf("until", o.until)
	if err != nil {
		return err
	}
	s, err := p.readScenario(ctx, path, o.scenario)
	if err != nil {
		return err
	}
	p.tellAssumptions(s)
	w := report.Spread{Title: title(s), Warnings: slices.Clone(s.Warnings)}
	if n := len(s.Bowlers) * len(s.Balls) * len(s.Lanes); n > plots.MaxSpreadPanels && o.output.wants(drawnEndings()...) {
		return wrongInput("%d bowlers, balls and lanes are too many for a picture, which takes %d", n, plots.MaxSpreadPanels)
	}
	players, assumed, err := p.players(ctx, s, o.level)
	if err != nil {
		return err
	}
	for _, text := range assumed {
		p.warn(text)
	}
	w.Warnings = append(w.Warnings, assumed...)
	w.Study = spread.Study{
		Pairs: runs.SpreadPairs(players), Shots: o.shots, Seed: o.seed, Until: until, Settings: s.Settings, Progress: p.progress("shot"),
	}
	if o.sobol {
		w.Study.Sobol = o.shots
	}
	w.Players, w.Study.Setups = runs.Names(players), runs.Setups(players)
	var interrupted error
	if w.Result, err = w.Study.Run(ctx); err != nil {
		if ctx.Err() == nil || w.Result.Shots == 0 {
			return err
		}
		interrupted = err
		text := fmt.Sprintf("interrupted: %d of %d deliveries are told, and not all that each miss costs", w.Result.Shots, o.shots)
		p.warn(text)
		w.Warnings = append(w.Warnings, text)
	} else if until > 0 {
		p.tellUntil(&w, until)
	}
	if interrupted == nil {
		if err := p.carrySpread(ctx, &w, players, s, o.carry); err != nil {
			if ctx.Err() == nil {
				return err
			}
			interrupted = err
			text := "interrupted: strikes and games are not all told"
			p.warn(text)
			w.Warnings = append(w.Warnings, text)
		}
	}
	if o.output.wants(drawnEndings()...) {
		if err := runs.ThrowSpreadPaths(&w); err != nil {
			return err
		}
	}
	if err := p.writeSpread(&w, players, s, o, interrupted != nil); err != nil {
		return err
	}
	return interrupted
}

// tellUntil warns if the deliveries were too few for the interval that was asked for.
func (p *program) tellUntil(w *report.Spread, until float64) {
	widest := 0.0
	for _, s := range w.Result.Setups {
		widest = max(widest, s.PocketInterval.HalfWidth())
	}
	if widest > until {
		text := fmt.Sprintf("after %d deliveries a pocket share is known to ± %s, not to ± %s: give more --shots", w.Result.Shots, report.Share(widest), report.Share(until))
		p.warn(text)
		w.Warnings = append(w.Warnings, text)
	}
}

// shareOf reads a share as people write it, 1% or 0.01; an empty one is 0.
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
		return 0, wrongInput("--%s is %q: it must be above 0%% and below 100%%, as 1%%", flag, text)
	}
	return v, nil
}

// writeSpread writes and prints what was asked for, of interrupted work as well.
func (p *program) writeSpread(w *report.Spread, players []runs.Player, s *scenario.Scenario, o spreadOptions, unfinished bool) error {
	return p.writeResults(context.Background(), o.output, results{
		unfinished: unfinished,
		json:       w.WriteJSON, csv: w.WriteCSV,
		document: w.Document,
		picture:  func() (*plots.Drawing, error) { return plots.DrawSpread(w, o.phone.size()) },
		handout:  func() (handout.Page, error) { return handedSpread(w, players, s) },
	})
}
