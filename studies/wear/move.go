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

// Move asks what a bowler should do on a lane that has worn: which change of
// laydown, with the angle that then brings the ball to the middle of the pocket,
// has the largest pocket share.
type Move struct {
	// Setup has the worn lane and the line as it was.
	Setup studies.Setup

	// Farthest is how many boards the laydown may move either way; 0 means 8.
	Farthest int

	// Shots is the number of deliveries of each line; 0 means 200. All lines
	// have the same deviates.
	Shots int
	Seed  uint64

	Settings physics.Settings

	studies.Work // its progress is that of lines; the two that are counted anew are not among them
}

// MoveResult is what a move comes to.
type MoveResult struct {
	// Before is how many deliveries on the line as it was end in the pocket, After how
	// many on the best line, both counted on deliveries that had no part in the search.
	Before, After studies.Count

	// Gain compares the two delivery by delivery, and Hits says which of the best
	// line's end in the pocket.
	Gain studies.Paired
	Hits []bool

	// Release is the best line, Feet and Arrows how many boards it lies from
	// the old one at the laydown and at the arrows, positive toward the
	// bowler's off side (inside).
	Release      physics.Release
	Feet, Arrows float64

	// Found says whether there is a line to the pocket at all.
	Found bool
}

const (
	defaultFarthest  = 8
	defaultMoveShots = 200
)

// Run finds the move.
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
	// The best of many is the best by chance as well: count it anew.
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

// movedLines returns the lines to the pocket whose laydowns are up to so many boards to
// either side of those of the setups, one for each ball. [aim.Search] would look at all
// lines anew: here a bowler keeps to the middle of the pocket, moves the feet and aims.
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

// countedMoves keeps the deliveries that count apart from those of the search.
const countedMoves = 1 << 40

// Against compares the best lines of two setups, delivery by delivery: b's less
// this one's.
func (m MoveResult) Against(b MoveResult) studies.Paired {
	return studies.Pair(m.Hits, b.Hits)
}
