package main

import (
	"context"
	"slices"

	"lanesim/internal/input"
	"lanesim/report/measured"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies/fit"
)

// tracksOver reads the tracks to draw over shots; none without the flag.
func (p *program) tracksOver(ctx context.Context, s *scenario.Scenario, o throwOptions) ([]fit.TrackedShot, error) {
	if o.track == "" {
		return nil, nil
	}
	if n := len(s.Lanes); n != 1 {
		return nil, input.Wrong("the scenario has %d lanes: tracks need a scenario with one", n)
	}
	if len(o.columns.names) > 0 {
		return nil, input.Wrong("--columns cannot be given with --track, which has the columns of tracks")
	}
	return p.readTracks(ctx, o.track, s)
}

// layOver compares each track with the shot of its bowler and ball.
func layOver(tracks []fit.TrackedShot, shots []runs.Thrown) []measured.Track {
	var list []measured.Track
	for _, t := range tracks {
		i := slices.IndexFunc(shots, func(s runs.Thrown) bool { return s.At.Bowler == t.Bowler && s.At.Ball == t.Ball })
		list = append(list, measured.Track{Bowler: shots[i].Made.Bowler, Ball: shots[i].Made.Ball, Hand: shots[i].Made.Release.Hand, Over: fit.OverTrack(t.Track, shots[i].Made.Shot)})
	}
	return list
}

// readTracks reads the tracks and gives each its ball and release.
func (p *program) readTracks(ctx context.Context, path string, s *scenario.Scenario) ([]fit.TrackedShot, error) {
	tracks, err := readInput(ctx, p, path, func(name string, data []byte) ([]fit.Track, error) {
		return scenario.ReadTracks(name, data, s.TracksFor())
	})
	if err != nil {
		return nil, input.AsWrong(err)
	}
	deliveries, err := s.Deliveries()
	if err != nil {
		return nil, input.AsWrong(err)
	}
	var shots []fit.TrackedShot
	for _, t := range tracks {
		i := slices.IndexFunc(deliveries, func(d scenario.Delivery) bool { return d.Bowler == t.Bowler && d.Ball == t.Ball })
		shots = append(shots, fit.TrackedShot{Track: t, Setup: s.Setup(deliveries[i]).Setup})
	}
	return shots, nil
}
