package wear

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Move finds the best move on a worn lane: the change of laydown with the largest pocket share, with the
// angle that then brings the ball to the middle of the pocket.
type Move struct {
	// Setup has the worn lane and the line before the move.
	Setup studies.Setup

	// Farthest is the largest move of the laydown in boards either way; 0 means 8.
	Farthest int

	// Shots is the number of deliveries of each line; 0 means 200. All lines
	// have the same deviates.
	Shots int
	Seed  uint64

	Settings physics.Settings

	studies.Work // its progress counts the lines tried, without the two counted again at the end
}

// MoveResult is the result of a [Move].
type MoveResult struct {
	// Before counts the deliveries in the pocket on the line before the move, After those on the best line.
	// Both are counted on deliveries that were not used in the search.
	Before, After studies.Count

	// Gain compares the two delivery by delivery, and Hits is which deliveries on the best line end in the
	// pocket.
	Gain studies.Paired
	Hits []bool

	// Release is the best line. Feet and Arrows are the move in boards at the laydown and at the arrows,
	// positive toward the bowler's off side (inside).
	Release      physics.Release
	Feet, Arrows float64

	// Found is set if any line reaches the pocket.
	Found bool
}

const (
	defaultFarthest  = 8
	defaultMoveShots = 200
)

// Run finds the best move. The errors are those of impossible inputs, of [physics.Throw] and of the context.
func (q Move) Run(ctx context.Context) (MoveResult, error) {
	if q.Farthest < 0 || q.Shots < 0 {
		return MoveResult{}, fmt.Errorf("wear: moves of up to %d boards with %d deliveries each cannot be", q.Farthest, q.Shots)
	}
	q.Farthest = cmp.Or(q.Farthest, defaultFarthest)
	q.Shots = cmp.Or(q.Shots, defaultMoveShots)
	settings := studies.ForManyShots(q.Settings)
	settings.EndOnly = true
	old := q.Setup.Release
	lines, err := movedLines(ctx, q.Workers, []studies.Setup{q.Setup}, q.Farthest, settings)
	if err != nil {
		return MoveResult{}, err
	}
	result := MoveResult{Release: old, Found: len(lines) > 0}
	lines = append(lines, movedLine{setup: q.Setup})
	counts, err := studies.Gather(ctx, q.Workers, len(lines), q.Progress, func(thrower *physics.Thrower, i int) (studies.Count, error) {
		hits, err := lines[i].setup.Pocketed(thrower, settings, q.Seed, 0, q.Shots)
		return studies.CountOf(hits), err
	})
	if err != nil {
		return MoveResult{}, err
	}
	most := counts[len(lines)-1].Hits
	for i, c := range counts {
		if c.Hits > most {
			most, result.Release = c.Hits, lines[i].setup.Release
		}
	}
	// The best of many is partly the best by chance: count it again.
	hits, err := studies.Gather(ctx, q.Workers, 2, nil, func(thrower *physics.Thrower, i int) ([]bool, error) {
		setup := q.Setup
		setup.Release = [2]physics.Release{result.Release, old}[i]
		return setup.Pocketed(thrower, settings, q.Seed, countedMoves, q.Shots)
	})
	if err != nil {
		return MoveResult{}, err
	}
	result.Hits, result.Gain = hits[0], studies.Pair(hits[1], hits[0])
	result.After, result.Before = studies.CountOf(hits[0]), studies.CountOf(hits[1])
	result.Feet = result.Release.Laydown - old.Laydown
	result.Arrows = studies.BoardAtArrows(result.Release) - studies.BoardAtArrows(old)
	return result, nil
}

// movedLine is a line to the pocket with one of the balls.
type movedLine struct {
	ball  int
	setup studies.Setup
}

// movedLines returns the lines to the middle of the pocket whose laydowns are up to farthest boards to either
// side of those of the setups, one setup for each ball. Unlike [aim.Search] it tries only such lines: the
// bowler moves the feet and aims again.
func movedLines(ctx context.Context, workers int, balls []studies.Setup, farthest int, settings physics.Settings) ([]movedLine, error) {
	var list []movedLine
	for b, setup := range balls {
		for d := -farthest; d <= farthest; d++ {
			line := movedLine{b, setup}
			if line.setup.Release.Laydown += float64(d); line.setup.Release.Laydown >= 1 && line.setup.Release.Laydown <= lane.Boards {
				list = append(list, line)
			}
		}
	}
	found, err := studies.Gather(ctx, workers, len(list), nil, func(_ *physics.Thrower, i int) ([]movedLine, error) {
		release, err := aim.AtPocket(list[i].setup, settings)
		if none := (*aim.NoPocketError)(nil); errors.As(err, &none) {
			return nil, nil
		}
		list[i].setup.Release = release
		return list[i : i+1], err
	})
	return slices.Concat(found...), err
}

// countedMoves is the number of the first delivery that is counted, apart from those of the search.
const countedMoves = 1 << 40

// Against compares the best lines of two setups, delivery by delivery: a is this one, b the other.
func (m MoveResult) Against(b MoveResult) studies.Paired {
	return studies.Pair(m.Hits, b.Hits)
}
