package wear

import (
	"cmp"
	"context"
	"fmt"

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
		return MoveResult{}, fmt.Errorf("studies: moves of up to %d boards with %d deliveries each cannot be", q.Farthest, q.Shots)
	}
	q.Farthest = cmp.Or(q.Farthest, defaultFarthest)
	q.Shots = cmp.Or(q.Shots, defaultMoveShots)
	settings := studies.ForManyShots(q.Settings)
	settings.EndOnly = true
	old := q.Setup.Release
	n := 2*q.Farthest + 1
	releases, found := make([]physics.Release, n+1), make([]bool, n+1)
	shares := make([]float64, n+1)
	releases[n], found[n] = old, true
	err := studies.InParallel(ctx, q.Workers, n+1, q.Progress, func(thrower *physics.Thrower, i int) error {
		setup, err := q.Setup, error(nil)
		if i < n {
			setup.Release.Laydown += float64(i - q.Farthest)
			if setup.Release.Laydown < 1 || setup.Release.Laydown > lane.Boards {
				return nil
			}
			if setup.Release, err = aim.AtPocket(setup, settings); err != nil {
				if _, none := err.(*aim.NoPocketError); none {
					return nil
				}
				return err
			}
		}
		hits, err := setup.Pocketed(thrower, settings, q.Seed, 0, q.Shots)
		releases[i], found[i], shares[i] = setup.Release, true, studies.CountOf(hits).Share()
		return err
	})
	if err != nil {
		return MoveResult{}, err
	}
	result := MoveResult{Release: old}
	best := shares[n]
	for i := range n {
		if !found[i] {
			continue
		}
		result.Found = true
		if shares[i] > best {
			best, result.Release = shares[i], releases[i]
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

// countedMoves keeps the deliveries that count apart from those of the search.
const countedMoves = 1 << 40

// Against compares the best lines of two setups, delivery by delivery: b's less
// this one's.
func (m MoveResult) Against(b MoveResult) studies.Paired {
	return studies.Pair(m.Hits, b.Hits)
}
