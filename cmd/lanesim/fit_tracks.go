package main

import (
	"context"
	"slices"

	"lanesim/internal/input"
	"lanesim/scenario"
	"lanesim/studies/fit"
)

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
