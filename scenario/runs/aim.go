package runs

import (
	"context"
	"errors"
	"slices"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/report/layouts"
	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/carry"
)

// assumedRacks is the number of racks of a line with each set of assumed values.
const assumedRacks = 300

// TryFirstChoices tries with sets of assumed values which ball is the first choice of a bowler on a lane. If
// lines are judged by strikes, the sets include constants of the pins: the lines found by the table of racks
// are then rolled at racks with these.
func TryFirstChoices(ctx context.Context, a *studied.Aim, n int, rack pins.Settings, step func(done, total int), search func(studies.Setup) aim.Search) (err error) {
	racks := carry.RackSets(rack, n)
	a.Tried, err = tryAssumed(n, step, a.Conclusions(), func(set studies.AssumedSet) (func(studied.Conclusion) bool, error) {
		made := *a
		made.List = slices.Clone(a.List)
		lanes, balls := applied(set, input.Each(a.List, func(t studied.AimedBall) lane.Lane { return t.Setup.Lane }),
			input.Each(a.List, func(t studied.AimedBall) ball.Ball { return t.Setup.Ball }))
		for i := range made.List {
			t := &made.List[i]
			t.Setup.Lane, t.Setup.Ball = lanes[i], balls[i]
			found, err := search(t.Setup).Run(ctx)
			none := (*aim.NoLineError)(nil)
			if err != nil && !errors.As(err, &none) {
				return nil, err
			}
			t.Result, t.None = found, none
		}
		var strikes []int
		if a.By == aim.ByStrikeShare {
			if strikes, err = rollBest(ctx, &made, racks[0], search); err != nil {
				return nil, err
			}
			racks = racks[1:]
		}
		return func(c studied.Conclusion) bool { return firstChoice(&made, strikes, c.Bowler, *c.Lane) == c.A }, nil
	})
	return err
}

// ThrowBestLines throws the best lines on the first player's lane, at most the first few, with tracks on the
// ball. The keys of the shots are indices of the list.
func ThrowBestLines(a *studied.Aim, players []Player, s physics.Settings, most int) (map[int]physics.Shot, error) {
	shots, thrower := map[int]physics.Shot{}, physics.NewThrower()
	for i, t := range a.List {
		if t.None != nil || players[i].At.Lane != players[0].At.Lane || len(shots) == most {
			continue
		}
		var err error
		if shots[i], err = thrower.Throw(t.Setup.Lane, t.Setup.Ball, t.Best.Release, tracked(s)); err != nil {
			return nil, err
		}
	}
	return shots, nil
}

// tracked returns settings for a shot that is shown in motion.
func tracked(s physics.Settings) physics.Settings {
	s.ExchangeSpacing, s.TrackSpacing = -1, layouts.TrackSpacing
	return s
}

// rollBest rolls the best lines at racks and returns the number of strikes of each.
func rollBest(ctx context.Context, a *studied.Aim, rack pins.Settings, search func(studies.Setup) aim.Search) ([]int, error) {
	strikes := make([]int, len(a.List))
	for i, t := range a.List {
		if t.None != nil {
			continue
		}
		q := search(t.Setup)
		setup := t.Setup
		setup.Release = t.Best.Release
		struck, err := carry.Deliveries{Setup: setup, Seed: q.Seed, Settings: q.Settings, Work: studies.Work{Workers: q.Workers}}.Struck(ctx, rack, assumedRacks)
		if err != nil {
			return nil, err
		}
		for _, hit := range struck {
			if hit {
				strikes[i]++
			}
		}
	}
	return strikes, nil
}

// firstChoice returns the index in the list of the ball with the largest share of a bowler on a lane, by the
// requested measure or, if none has a good angle, the pocket; −1 if none has a line.
func firstChoice(a *studied.Aim, strikes []int, bowler, lane string) int {
	for _, by := range []aim.Measure{a.By, aim.ByPocketShare} {
		best, most := -1, -1
		for at, t := range a.List {
			if t.None != nil || t.Bowler != bowler || t.Lane != lane || by == a.By && t.By != a.By {
				continue
			}
			n := t.Best.Of(by).Hits
			if strikes != nil && by == aim.ByStrikeShare {
				n = strikes[at]
			}
			if n > most {
				best, most = at, n
			}
		}
		if best >= 0 {
			return best
		}
	}
	return -1
}
