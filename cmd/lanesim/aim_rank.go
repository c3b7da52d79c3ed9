package main

import (
	"cmp"
	"slices"

	"lanesim/studies"
)

// rankedBalls are the balls of one bowler on one lane, the better first.
type rankedBalls struct {
	bowler, lane string
	by           studies.LineMeasure
	balls        []rankedBall
}

// rankedBall is a ball with its share, against that of the best.
type rankedBall struct {
	aimed
	share studies.Count
	pair  studies.Paired // with the best ball's deliveries
}

// countBy is a line's count by a measure.
func countBy(l studies.Line, m studies.LineMeasure) studies.Count {
	if m == studies.ByPocketShare {
		return l.Pocket
	}
	return l.Good
}

// ranking ranks the balls of each bowler on each lane, where there are several with
// a line. They are judged as was asked for unless all were judged by the pocket.
func (a *aiming) ranking() []rankedBalls {
	var all []rankedBalls
	for _, t := range a.list {
		if t.none != nil {
			continue
		}
		i := slices.IndexFunc(all, func(r rankedBalls) bool {
			return r.balls[0].Bowler == t.Bowler && r.balls[0].Lane == t.Lane
		})
		if i < 0 {
			all = append(all, rankedBalls{bowler: t.bowler, lane: t.lane, by: studies.ByPocketShare})
			i = len(all) - 1
		}
		all[i].balls = append(all[i].balls, rankedBall{aimed: t})
		if t.By == a.by {
			all[i].by = a.by
		}
	}
	all = slices.DeleteFunc(all, func(r rankedBalls) bool { return len(r.balls) < 2 })
	for i := range all {
		r := &all[i]
		for k := range r.balls {
			r.balls[k].share = countBy(r.balls[k].Best, r.by)
		}
		slices.SortStableFunc(r.balls, func(x, y rankedBall) int { return cmp.Compare(y.share.Hits, x.share.Hits) })
		for k := range r.balls {
			r.balls[k].pair = r.balls[k].Best.Against(r.balls[0].Best, r.by)
		}
	}
	return all
}
