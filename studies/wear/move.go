package wear

import (
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
	Workers  int
}

// MoveResult is what a move comes to.
type MoveResult struct {
	// Before is the pocket share of the line as it was, After that of the best
	// line, both counted on deliveries that had no part in the search.
	Before, After float64

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
	if q.Farthest == 0 {
		q.Farthest = defaultFarthest
	}
	if q.Shots == 0 {
		q.Shots = defaultMoveShots
	}
	settings := studies.ForManyShots(q.Settings)
	settings.EndOnly = true
	old := q.Setup.Release
	n := 2*q.Farthest + 1
	releases, found := make([]physics.Release, n+1), make([]bool, n+1)
	shares := make([]float64, n+1)
	releases[n], found[n] = old, true
	err := studies.InParallel(ctx, q.Workers, n+1, nil, func(thrower *physics.Thrower, i int) error {
		r := old
		if i < n {
			r.Laydown += float64(i - q.Farthest)
			if r.Laydown < 1 || r.Laydown > lane.Boards {
				return nil
			}
			setup, err := q.Setup, error(nil)
			setup.Release = r
			if r, err = aim.AtPocket(setup, settings); err != nil {
				if _, none := err.(*aim.NoPocketError); none {
					return nil
				}
				return err
			}
		}
		deliverer, err := q.Setup.Repeatability.Deliverer(r)
		if err != nil {
			return err
		}
		hits := 0
		for k := range q.Shots {
			shot, err := thrower.Throw(q.Setup.Lane, q.Setup.Ball, deliverer.Delivery(studies.DrawDeviates(q.Seed, uint64(k))), settings)
			if err != nil {
				return err
			}
			if shot.Summary.Pocket {
				hits++
			}
		}
		releases[i], found[i], shares[i] = r, true, float64(hits)/float64(q.Shots)
		return nil
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
	lines := [2]physics.Release{result.Release, old}
	var hits [2][]bool
	err = studies.InParallel(ctx, q.Workers, 2, nil, func(thrower *physics.Thrower, i int) error {
		deliverer, err := q.Setup.Repeatability.Deliverer(lines[i])
		if err != nil {
			return err
		}
		for k := range q.Shots {
			shot, err := thrower.Throw(q.Setup.Lane, q.Setup.Ball, deliverer.Delivery(studies.DrawDeviates(q.Seed, countedMoves+uint64(k))), settings)
			if err != nil {
				return err
			}
			hits[i] = append(hits[i], shot.Summary.Pocket)
		}
		return nil
	})
	if err != nil {
		return MoveResult{}, err
	}
	result.Hits = hits[0]
	for k := range q.Shots {
		result.Gain.Add(hits[1][k], hits[0][k])
	}
	result.After = float64(result.Gain.Both+result.Gain.OnlyB) / float64(q.Shots)
	result.Before = float64(result.Gain.Both+result.Gain.OnlyA) / float64(q.Shots)
	result.Feet = result.Release.Laydown - old.Laydown
	result.Arrows = studies.BoardAtArrows(result.Release) - studies.BoardAtArrows(old)
	return result, nil
}

// countedMoves keeps the deliveries that count apart from those of the search.
const countedMoves = 1 << 40

// Against compares the best lines of two setups, delivery by delivery: b's less
// this one's.
func (m MoveResult) Against(b MoveResult) studies.Paired {
	var p studies.Paired
	for k := range min(len(m.Hits), len(b.Hits)) {
		p.Add(m.Hits[k], b.Hits[k])
	}
	return p
}
