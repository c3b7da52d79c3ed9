package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/plots"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// layoutOptions are the flags of the layout command.
type layoutOptions struct {
	scenario scenarioFlags
	output   outputFlags
	picture  pictureFlags
}

func (p *program) layoutCommand() *cobra.Command {
	var o layoutOptions
	c := &cobra.Command{
		Use:     "layout FILE",
		GroupID: groupRun,
		Short:   "Tell where pin, PSA and holes lie, and draw the ball",
		Long: `Layout tells, for every bowler × ball of a scenario, what the one who drills the
ball needs: the layout by angles and by distances, the PAP, grip and holes, the
mass properties before and after drilling, how they stand against the limits
listed, and the flare that the bowler's shot has on each lane. FILE may be - for
standard input. Layouts are marked on the undrilled ball.

It prints a table, with lengths in inches to the nearest 1/32 and in mm; --json
prints exact numbers. A picture is a sheet of one ball for one bowler with the
tracks on one lane. The first has the name that was asked for; the others are
written beside it with their number, bowler by bowler, ball by ball and lane by
lane: sheet.svg, sheet-2.svg.

Static weights are positive to the right of the grip as seen with the fingers up
(side), toward the fingers (finger/thumb) and toward the grip (top): each is the
weight that would have the same moment if it sat on the surface. A pitch is by
how much a hole's axis misses the ball's centre.`,
		Example: `  lanesim layout examples/layout-strong.yaml
  lanesim layout examples/layout-strong.yaml -o sheet.svg -o sheet.json
  lanesim layout examples/layout-strong.yaml --set 'ball.layout.pin_to_pap=5 1/2 in' --json
  lanesim layout examples/left-hander.yaml -o sheet.png --phone`,
		Args: oneFile,
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.layout(c.Context(), arguments[0], o)
		},
	}
	c.Flags().SortFlags = false
	o.scenario.add(c)
	o.output.addJSON(c)
	o.output.addPaths(c, layoutEndings())
	o.picture.addPhone(c)
	return c
}

func layoutEndings() []string { return append(pictureEndings(), ".json") }

// layoutCautions stand on every sheet.
func layoutCautions() []string {
	l := ball.ListedLimits()
	return []string{
		"Limits listed: " + l.Edition + " (" + l.Mark + "). " + l.Caution,
		"Drilling is work for a trained shop: clamped ball, dust extraction, respirator, eye protection, hands off the moving bit; follow the maker's instructions. A ball can be drilled once: check the layout before the drill turns.",
		"Ill-fitting grips and heavy balls injure thumb, fingers and wrist: have spans, pitches and sizes checked on the hand by a qualified fitter.",
	}
}

// laidOut is a ball laid out for a bowler, with the shots on the lanes.
type laidOut struct {
	ball, bowler  string // names
	specification ball.Specification
	drilling      ball.Drilling
	verdicts      []ball.Verdict
	flares        []flare // one for each lane
}

// flare is what a shot leaves on the ball.
type flare struct {
	lane   string
	shot   *physics.Shot // nil if there was none
	why    string        // why there was none
	tracks plots.Tracks
}

// layout runs the layout command.
func (p *program) layout(ctx context.Context, path string, o layoutOptions) error {
	if err := o.output.check(layoutEndings()); err != nil {
		return err
	}
	s, err := p.readScenario(ctx, path, o.scenario)
	if err != nil {
		return err
	}
	if err := p.claimNumbered(o.output, len(s.Bowlers)*len(s.Balls)*len(s.Lanes)); err != nil {
		return err
	}
	p.tellAssumptions(s)
	balls, err := p.layOut(ctx, s)
	if err != nil {
		return err
	}
	var files []file
	for _, out := range o.output.paths {
		made, err := p.renderLayout(out, s, balls, o)
		if err != nil {
			return err
		}
		files = append(files, made...)
	}
	standard := []byte(layoutTable(s, balls, p.paintFor(p.out)))
	if o.output.json {
		if standard, err = encodeLayout(s.Warnings, balls); err != nil {
			return err
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := p.writeFiles(files); err != nil {
		return err
	}
	return p.print(standard)
}

// layOut drills every ball for every bowler and throws it on every lane. A shot
// that cannot be computed is warned about: the layout stands without it.
func (p *program) layOut(ctx context.Context, s *scenario.Scenario) ([]laidOut, error) {
	deliveries, err := s.Deliveries()
	if err != nil {
		return nil, inputError{err}
	}
	list := make([]laidOut, len(s.Bowlers)*len(s.Balls))
	thrower := physics.NewThrower()
	settings := s.Settings
	settings.ExchangeSpacing, settings.PathSpacing, settings.TrackSpacing = -1, -1, plots.TrackSpacing
	step := p.progress("shot")
	for i, d := range deliveries {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		l := &list[d.Bowler*len(s.Balls)+d.Ball]
		bowler := s.Bowlers[d.Bowler]
		if d.Lane == 0 {
			*l = laidOut{
				ball: s.Balls[d.Ball].Name, bowler: bowler.Name,
				specification: s.Balls[d.Ball], drilling: d.Drilling,
				verdicts: ball.CheckLimits(s.Balls[d.Ball], d.Drilling),
			}
		}
		f := flare{lane: s.Lanes[d.Lane].Name}
		if _, _, shot, err := deliver(ctx, thrower, s, d, settings); err != nil {
			f.why = err.Error()
			p.warn(fmt.Sprintf("%s with %s on %s: no tracks: %v", l.bowler, l.ball, f.lane, err))
		} else {
			f.shot, f.tracks = &shot, plots.ReadTracks(shot.Track, d.Drilling)
		}
		l.flares = append(l.flares, f)
		step(i+1, len(deliveries))
	}
	return list, nil
}

// renderLayout makes the files that one --out asks for.
func (p *program) renderLayout(out string, s *scenario.Scenario, balls []laidOut, o layoutOptions) ([]file, error) {
	switch {
	case out == standardStream:
		return nil, nil
	case ending(out) == ".json":
		content, err := encodeLayout(s.Warnings, balls)
		return []file{{path: out, content: content}}, err
	}
	var files []file
	for _, l := range balls {
		for i, f := range l.flares {
			figure := plots.BallFigure{
				Title:    l.ball + " for " + l.bowler,
				Drilling: l.drilling,
				LaidOut:  l.specification.Layout != nil,
				Sections: layoutSections(l, l.flares[i:i+1]),
				Cautions: layoutCautions(),
				Size:     o.picture.size(),
			}
			if s.Title != "" {
				figure.Title = s.Title + ": " + figure.Title
			}
			if f.shot != nil {
				figure.Track = f.shot.Track
			}
			d, err := plots.Ball(figure)
			if err != nil {
				return nil, err
			}
			made, err := drawn(numbered(out, len(files)), d)
			if err != nil {
				return nil, err
			}
			files = append(files, made)
		}
	}
	return files, nil
}

// numbered puts a number from 2 into the names of all files but the first.
func numbered(path string, i int) string {
	if i == 0 {
		return path
	}
	end := filepath.Ext(path)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, end), i+1, end)
}
