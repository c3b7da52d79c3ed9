package main

import (
	"context"
	"fmt"
	"slices"

	"lanesim/plots"
	"lanesim/report"
	"lanesim/scenario"
	"lanesim/studies/fit"
)

// tracksOver reads the tracks that are laid over shots; none without the flag.
func (p *program) tracksOver(ctx context.Context, s *scenario.Scenario, o throwOptions) ([]fit.TrackedShot, error) {
	if o.track == "" {
		return nil, nil
	}
	if n := len(s.Lanes); n != 1 {
		return nil, wrongInput("the scenario has %d lanes: tracks are of one", n)
	}
	if len(o.columns.names) > 0 {
		return nil, wrongInput("--columns chooses columns of shots and paths: with --track they are those of tracks")
	}
	return p.readTracks(ctx, o.track, s)
}

// layOver compares each track with the shot of its bowler and ball.
func layOver(tracks []fit.TrackedShot, shots []thrown) []report.Track {
	var list []report.Track
	for _, t := range tracks {
		i := slices.IndexFunc(shots, func(s thrown) bool { return s.Bowler == t.Bowler && s.Ball == t.Ball })
		list = append(list, report.Track{Bowler: shots[i].made.Bowler, Ball: shots[i].made.Ball, Over: fit.OverTrack(t.Track, shots[i].made.Shot)})
	}
	return list
}

// drawTracks draws tracks as points over the shots, and what is between them.
func drawTracks(path string, s *scenario.Scenario, tracks []report.Track, size plots.Size) ([]file, error) {
	f := plots.FitFigure{Title: title(s), Lane: s.Lanes[0], Pocket: s.Settings.Pocket, Size: size, Thrown: true}
	var all []fit.TrackResidual
	for _, t := range tracks {
		name := "Track " + t.Over.Track.Shot
		if len(s.Bowlers) > 1 {
			name += ", " + t.Bowler
		}
		if len(s.Balls) > 1 {
			name += ", " + t.Ball
		}
		all = append(all, t.Over.Residuals...)
		f.Shots = append(f.Shots, plots.TrackedFit{
			Name: name, Hand: s.Bowlers[t.Over.Bowler].Release.Hand, Points: t.Over.Points,
			Fitted: fit.ShotResult{Shot: t.Over.Shot, Residuals: t.Over.Residuals, RMS: t.Over.Scatter},
		})
	}
	bias, scatter := fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Board })
	f.Note = fmt.Sprintf("Measured less thrown: %s boards on average, with a scatter of %s; nothing is fitted.", report.Signed(bias, 2), report.Fixed(scatter, 2))
	f.Scatter.Boards = scatter
	_, f.Scatter.Speed = fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Speed })
	_, f.Scatter.Time = fit.BiasAndScatter(all, func(r fit.TrackResidual) float64 { return r.Time })
	d, err := plots.Fit(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}
