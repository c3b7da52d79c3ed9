package main

import (
	"context"
	"errors"
	"slices"

	"lanesim/scenario"
	"lanesim/studies/fit"
)

// readTracks reads the tracks and gives each its ball and release.
func (p *program) readTracks(ctx context.Context, path string, s *scenario.Scenario) ([]fit.TrackedShot, error) {
	of := fit.TracksFor{To: s.Lanes[0].Length}
	for _, b := range s.Balls {
		of.Balls = append(of.Balls, b.Name)
	}
	for _, b := range s.Bowlers {
		of.Bowlers = append(of.Bowlers, b.Name)
		of.From = append(of.From, b.Release.LaydownDistance)
	}
	tracks, err := readInput(ctx, p, path, func(name string, data []byte) ([]fit.Track, error) {
		return fit.ReadTracks(name, data, of)
	})
	if err != nil {
		return nil, trackProblems(err)
	}
	deliveries, err := s.Deliveries()
	if err != nil {
		return nil, inputError{err}
	}
	var shots []fit.TrackedShot
	for _, t := range tracks {
		i := slices.IndexFunc(deliveries, func(d scenario.Delivery) bool { return d.Bowler == t.Bowler && d.Ball == t.Ball })
		shots = append(shots, fit.TrackedShot{
			Track: t, Thrown: deliveries[i].Prepared, Release: s.Bowlers[t.Bowler].Release,
		})
	}
	return shots, nil
}

// trackProblems shows faults of tracks as those of scenarios.
func trackProblems(err error) error {
	var joined interface{ Unwrap() []error }
	if !errors.As(err, &joined) {
		return inputError{err}
	}
	var all scenario.Errors
	for _, one := range joined.Unwrap() {
		var e *fit.TrackError
		if !errors.As(one, &e) {
			return inputError{err}
		}
		all = append(all, scenario.Problem{
			File: e.Name, Line: e.Line, Column: e.Column, Path: e.Field, Message: e.Reason, Hint: e.Hint, Source: e.Source,
		})
	}
	return all
}
