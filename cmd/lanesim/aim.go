package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report/handout"
	"lanesim/report/studied"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies"
	"lanesim/studies/aim"

	"github.com/spf13/cobra"
)

// aimOptions are the flags of the aim command.
type aimOptions struct {
	studyFlags
	laydown, arrows, by string
	free                []string
	shots, others       int
}

func (p *program) aimCommand() *cobra.Command {
	var o aimOptions
	c := ofFile("aim", func(ctx context.Context, path string) error { return p.aim(ctx, path, o) })
	f := c.Flags()
	o.scenario.pins = true
	o.scenario.add(c)
	o.scenario.addPocket(c)
	f.StringVar(&o.laydown, "laydown", boardsBetween(aim.DefaultLaydown), "`boards` between which the ball is laid down, from the bowler's side (assumed)")
	f.StringVar(&o.arrows, "arrows", boardsBetween(aim.DefaultArrows), "`boards` at the arrows between which the ball is aimed")
	f.StringArrayVar(&o.free, "free", nil, "vary `speed=16mph:19mph` or axis_rotation=30deg:60deg, too; repeatable")
	f.StringVar(&o.by, "by", string(aim.ByGoodShare), "judge lines by their `share`: good (in the pocket at a good angle), pocket, or carry (strikes, assumed)")
	complete(c, "by", lineMeasures()...)
	intVar(f, &o.shots, "shots", aim.DefaultShots, "deliveries from which a share is counted")
	intVar(f, &o.others, "others", aim.DefaultRunnersUp, "the most lines listed besides the best")
	o.addSeed(c)
	o.addJobs(c)
	o.addLevel(c, "bowlers'")
	o.addAssumed(c)
	o.addOutput(c, "the map", studyEndings())
	return c
}

// lineMeasures are the measures of lines.
func lineMeasures() []string {
	return []string{string(aim.ByGoodShare), string(aim.ByPocketShare), string(aim.ByStrikeShare)}
}

// limits reads the limits of the lines.
func (o aimOptions) limits() (l aim.Limits, err error) {
	if l.Laydown, err = boardWindow("laydown", o.laydown, 1, 39); err != nil {
		return l, err
	}
	if l.Arrows, err = boardWindow("arrows", o.arrows, -20, 60); err != nil {
		return l, err
	}
	for _, free := range o.free {
		what, window, ok := strings.Cut(free, "=")
		low, high, pair := strings.Cut(window, ":")
		if !ok || !pair || what != "speed" && what != "axis_rotation" {
			return l, input.Wrong("--free is %q: it can be speed or axis_rotation with two values, as in speed=16mph:19mph", free)
		}
		var ends [2]physics.Release
		var wrong scenario.Errors
		for i, text := range []string{low, high} {
			ends[i], err = readRelease(what, text)
			var problems scenario.Errors
			if err != nil && !errors.As(err, &problems) {
				return l, err
			}
			wrong = append(wrong, placedInFree(problems, free, i*(len(low)+len(":")))...)
		}
		if len(wrong) > 0 {
			return l, wrong
		}
		to, from, until := &l.Speed, ends[0].Speed, ends[1].Speed
		if what == "axis_rotation" {
			to, from, until = &l.AxisRotation, ends[0].AxisRotation, ends[1].AxisRotation
		}
		if !(from < until) {
			return l, input.Wrong("--free is %q: the first value must be less than the second", free)
		}
		*to = physics.Window{Min: from, Max: until}
	}
	return l, nil
}

// readRelease reads a field of a release as in a scenario, with its unit.
func readRelease(field, text string) (physics.Release, error) {
	const usual = "lane: {oil: dry}\nball: {differential: 0 in}\nbowler: {speed: 18 mph, rev_rate: 0 rpm, axis_rotation: 0 deg, axis_tilt: 0 deg, laydown: 20, angle: 0 deg}\n"
	s, err := scenario.Read("", []byte(usual), nil, []string{"bowler." + field + "=" + text})
	if err != nil {
		return physics.Release{}, err
	}
	return s.Bowlers[0].Release, nil
}

// placedInFree places the problems of a value in the flag that has it, after a number of
// characters.
func placedInFree(problems scenario.Errors, flag string, after int) scenario.Errors {
	placed := slices.Clone(problems)
	for i := range placed {
		p := &placed[i]
		p.File, p.Source, p.Column = "--free", flag, p.Column-len("bowler.")+after
	}
	return placed
}

func boardsBetween(w physics.Window) string { return fmt.Sprintf("%g:%g", w.Min, w.Max) }

// boardWindow reads two boards separated by a colon.
func boardWindow(flag, text string, least, most float64) (physics.Window, error) {
	low, high, _ := strings.Cut(text, ":")
	from, wrongLow := input.Number(low)
	to, wrongHigh := input.Number(high)
	w := physics.Window{Min: from, Max: to}
	if wrongLow != nil || wrongHigh != nil {
		return w, input.Wrong("--%s is %q: it needs two boards, as in 10:30", flag, text)
	}
	if !(w.Min >= least && w.Min <= w.Max && w.Max <= most) {
		return w, input.Wrong("--%s is %q: the boards must ascend and lie between %g and %g", flag, text, least, most)
	}
	return w, nil
}

func (p *program) aim(ctx context.Context, path string, o aimOptions) error {
	limits, wrongLimits := o.limits()
	picture := o.output.wants(drawnEndings()...)
	const leastMap = 2.0 // boards
	narrow := limits.Laydown.Max-limits.Laydown.Min < leastMap || limits.Arrows.Max-limits.Arrows.Min < leastMap
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), oneOf("by", o.by, lineMeasures()),
		atLeast(1, "shots", o.shots), atLeast(0, "assumed", o.assumed), atLeast(0, "others", o.others), wrongLimits,
		wrongIf(picture && narrow, "a picture needs limits at least two boards apart: widen --laydown and --arrows"))
	if err != nil {
		return err
	}
	if n := len(s.Lanes) * len(s.Balls) * len(s.Bowlers); picture && n > plots.MaxAims {
		return input.Wrong("%d maps are too many for a picture, which shows up to %d", n, plots.MaxAims)
	}
	if slices.ContainsFunc(s.Bowlers, func(b scenario.Bowler) bool { return b.AimAtPins != 0 }) {
		return p.aimAtPins(ctx, s, limits.Laydown, o)
	}
	a := studied.Aim{Title: s.Heading(), Warnings: slices.Clone(s.Warnings), By: aim.Measure(o.by), Shots: o.shots}
	// A bowler's given line is reported, too; a line to the pocket is found by the
	// search itself.
	own := make([]bool, len(s.Bowlers))
	for i := range s.Bowlers {
		own[i] = !s.Bowlers[i].AimAtPocket
		s.Bowlers[i].AimAtPocket = false
	}
	players, assumed, err := runs.Players(ctx, s, o.level, o.work(p.progress("aim")))
	if err != nil {
		return err
	}
	a.Players = runs.Names(players)
	if o.by == string(aim.ByStrikeShare) && !s.UsualRack() {
		p.note(&a.Warnings, studied.FromTable("shares of strikes come"))
	}
	p.note(&a.Warnings, assumed...)
	runners := o.others
	if runners == 0 {
		runners = -1
	}
	var interrupted error
	for i, t := range players {
		search := aim.Search{
			Setup: t.Setup, Limits: limits, By: a.By, Shots: o.shots, RunnersUp: runners, Own: own[t.At.Bowler],
			Seed: o.seed, Settings: s.Settings, Work: o.work(p.progressOf("line", i, len(players), "shot")), Strikes: true, Band: picture,
		}
		found, err := search.Run(ctx)
		none := (*aim.NoLineError)(nil)
		switch {
		case err == nil:
			p.say("%s: %d shots", t.Name(a.Players), found.Shots)
		case errors.As(err, &none):
			if len(players) == 1 {
				return err
			}
			p.note(&a.Warnings, fmt.Sprintf("%s: %v", t.Name(a.Players), err))
		case ctx.Err() != nil && len(a.List) > 0:
			p.note(&a.Warnings, fmt.Sprintf("interrupted: %d of %d are finished", len(a.List), len(players)))
			interrupted = err
		default:
			return fmt.Errorf("%s with %s on %s: %w", t.Bowler, t.Ball, t.Lane, err)
		}
		if interrupted != nil {
			break
		}
		made := studied.AimedBall{Player: t.Player, Result: found, None: none, Pocket: thrown.Pocket(s.Settings, t.Setup.Release)}
		if words := made.MeasureCaution(a.By); words != "" {
			p.note(&a.Warnings, t.Name(a.Players)+": "+words)
		}
		if words := made.EdgeWords(); words != "" {
			a.Warnings = append(a.Warnings, t.Name(a.Players)+": "+words) // the table says it as well
		}
		a.List = append(a.List, made)
	}
	if !slices.ContainsFunc(a.List, func(t studied.AimedBall) bool { return t.None == nil }) {
		return fmt.Errorf("no ball has a line to the pocket: %w", a.List[0].None)
	}
	if interrupted == nil && o.assumed > 0 {
		err := runs.TryFirstChoices(ctx, &a, o.assumed, s.Rack, p.progress("set of assumed values"), func(setup studies.Setup) aim.Search {
			return aim.Search{Setup: setup, Limits: limits, By: a.By, Shots: o.shots, RunnersUp: -1, Seed: o.seed, Settings: s.Settings, Work: o.work(nil)}
		})
		if err = p.cutShort(ctx, err, &interrupted, &a.Warnings, a.Tried.Interrupted()); err != nil {
			return err
		}
	}
	return writeStudy(p, o.studyFlags, &a, interrupted, plots.DrawAim, func() (handout.Page, error) {
		shots, err := runs.ThrowBestLines(&a, players, s.Settings, plots.MaxCompared)
		if err != nil {
			return handout.Page{}, err
		}
		return handouts.Aim(&a, players, s, shots)
	})
}
