package main

import (
	"context"
	"slices"

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
		list = append(list, report.Track{Bowler: shots[i].made.Bowler, Ball: shots[i].made.Ball, Hand: shots[i].made.Release.Hand, Over: fit.OverTrack(t.Track, shots[i].made.Shot)})
	}
	return list
}
