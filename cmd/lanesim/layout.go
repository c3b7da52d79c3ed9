package main

import (
	"context"
	"fmt"
	"io"

	"lanesim/ball"
	"lanesim/files"
	"lanesim/handout"
	"lanesim/physics"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/runs"
	"lanesim/scenario"
	"lanesim/studies/drilling"

	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r3"
)

// layoutOptions are the flags of the layout command.
type layoutOptions struct {
	scenario scenarioFlags
	output   outputFlags
	picture  pictureFlags
	paper    string
	strips   bool

	tolerances bool
}

func (p *program) layoutCommand() *cobra.Command {
	var o layoutOptions
	c := ofFile("layout", func(ctx context.Context, path string) error { return p.layout(ctx, path, o) })
	c.Flags().SortFlags = false
	o.scenario.add(c)
	o.output.addJSON(c)
	o.output.addPaths(c, layoutEndings())
	o.picture.addPhone(c)
	addPaper(c.Flags(), &o.paper)
	c.Flags().BoolVar(&o.strips, "strips", false, "add a page of paper strips at true scale to a .pdf sheet")
	c.Flags().BoolVar(&o.tolerances, "tolerances", false, "tell what small errors of drilling change in the shot")
	return c
}

func layoutEndings() []string { return append(pictureEndings(), ".json", handoutEnding) }

// laidOut is a ball laid out for a bowler, with the tracks of its shots.
type laidOut struct {
	report.Layout
	tracks [][]physics.TrackPoint // one for each lane; nil if there was no shot
}

// madeLayouts are the layouts alone.
func madeLayouts(balls []laidOut) []report.Layout {
	list := make([]report.Layout, len(balls))
	for i, l := range balls {
		list[i] = l.Layout
	}
	return list
}

// readFlare reads what a shot leaves on the ball.
func readFlare(shot *physics.Shot, d ball.Drilling) (f report.Flare) {
	tracks := plots.ReadTracks(shot.Track, d)
	f.Shot, f.Oiled = shot, tracks.Oiled
	for _, t := range tracks.Turns {
		turn := report.Turn{Oiled: t.Oiled, Spacing: t.Spacing}
		for _, p := range t.Points {
			turn.Points = append(turn.Points, p.Direction)
		}
		f.Turns = append(f.Turns, turn)
	}
	for _, b := range tracks.BowTies {
		f.BowTies = append(f.BowTies, report.BowTie{Place: b.Place, Crossings: b.Crossings, Scatter: b.Scatter})
	}
	return f
}

// layout runs the layout command.
func (p *program) layout(ctx context.Context, path string, o layoutOptions) error {
	if err := o.output.check(layoutEndings()); err != nil {
		return err
	}
	if _, err := paperOf(o.paper); err != nil {
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
	balls, err := p.layOut(ctx, s, o.tolerances)
	if err != nil {
		return err
	}
	made := madeLayouts(balls)
	return p.writeResults(ctx, o.output, results{
		json:     func(to io.Writer) error { return report.WriteLayouts(to, s.Warnings, made) },
		document: func() report.Document { return report.LayoutDocument(s.Title, made) },
		draw:     func(path string) ([]file, error) { return drawLayouts(path, s, balls, o) },
		handout:  func() (handout.Page, error) { return handedLayouts(s, balls) },
	})
}

// layOut drills every ball for every bowler and throws it on every lane. A shot
// that cannot be computed is warned about: the layout stands without it.
func (p *program) layOut(ctx context.Context, s *scenario.Scenario, tolerances bool) ([]laidOut, error) {
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
			l.Layout = report.Layout{
				Ball: s.Balls[d.Ball].Name, Bowler: bowler.Name,
				Specification: s.Balls[d.Ball], Drilling: d.Drilling, CentreMoved: r3.Norm(d.Drilling.Shift),
				Verdicts: ball.CheckLimits(s.Balls[d.Ball], d.Drilling), PSAAngle: plots.PSAAngle,
				Written: report.Written{Ball: s.BallsWritten[d.Ball], Bowler: s.BowlersWritten[d.Bowler]},
				Plans:   report.PlanWeights(s.Balls[d.Ball], bowler.PAP, bowler.Release.Hand, s.Grips[d.Ball]),
			}
		}
		var f report.Flare
		var track []physics.TrackPoint
		name := s.Lanes[d.Lane].Name
		if release, _, shot, err := deliver(ctx, thrower, s, d, settings); err != nil {
			f.Why = err.Error()
			p.warn(fmt.Sprintf("%s with %s on %s: no tracks: %v", l.Bowler, l.Ball, name, err))
		} else {
			f, track = readFlare(&shot, d.Drilling), shot.Track
			if tolerances {
				q := drilling.Study{Lane: s.Lanes[d.Lane], Specification: s.Balls[d.Ball], Grip: s.Grips[d.Ball], PAP: bowler.PAP,
					Release: release, Repeatability: runs.RepeatabilityOf(bowler), Settings: s.Settings, Visible: s.Visible}
				if f.Tolerances, err = q.Run(ctx); err != nil {
					return nil, err
				}
			}
		}
		f.Lane, f.OilyFilm = name, plots.OilyFilm
		l.Flares, l.tracks = append(l.Flares, f), append(l.tracks, track)
		step(i+1, len(deliveries))
	}
	for i := range list {
		l := &list[i].Layout
		l.Clearances = report.FindClearances(*l, s.Clearances)
		if warning := report.ClearanceWarning(*l); warning != "" {
			p.warn(warning)
		}
	}
	return list, nil
}

// drawLayouts draws a sheet for each ball, bowler and lane.
func drawLayouts(out string, s *scenario.Scenario, balls []laidOut, o layoutOptions) ([]file, error) {
	var all []file
	for _, l := range balls {
		for i := range l.Flares {
			figure := ballFigure(s, l, i, o.picture.size())
			if files.Ending(out) == ".pdf" {
				made, err := drillSheet(files.Numbered(out, len(all)), l.Layout, l.Flares[i], figure, o)
				if err != nil {
					return nil, err
				}
				all = append(all, made)
				continue
			}
			d, err := plots.Ball(figure)
			if err != nil {
				return nil, err
			}
			made, err := drawn(files.Numbered(out, len(all)), d)
			if err != nil {
				return nil, err
			}
			all = append(all, made)
		}
	}
	return all, nil
}

// ballFigure is a ball with its numbers and its tracks on a lane.
func ballFigure(s *scenario.Scenario, l laidOut, i int, size plots.Size) plots.BallFigure {
	f := plots.BallFigure{
		Title:    l.Ball + " for " + l.Bowler,
		Drilling: l.Drilling,
		LaidOut:  l.Specification.Layout != nil, Symmetric: l.Symmetric(),
		Sections: report.LayoutSections(l.Layout, l.Flares[i:i+1]),
		Cautions: report.LayoutCautions(),
		Size:     size,
		Track:    l.tracks[i],
	}
	if s.Title != "" {
		f.Title = s.Title + ": " + f.Title
	}
	return f
}
