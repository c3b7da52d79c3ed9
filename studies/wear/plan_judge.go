package wear

import (
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/studies"
)

// Deliveries that judge lines, that choose changes and that count what a change
// brought are kept apart from those of the sessions and from each other.
const (
	judgedDraws  = 1 << 41
	chosenDraws  = 1 << 42
	countedDraws = 1 << 43
)

// waitingBlocks is after how many blocks a change is sought again where none was found.
const waitingBlocks = 2

// hits throws deliveries about a line on the lanes as they are in all sessions.
func (w *planWork) hits(s *playerWork, b int, r physics.Release, from uint64) ([][]bool, error) {
	per := (w.Judged + w.Sessions - 1) / w.Sessions
	return studies.Gather(w.ctx, w.Workers, w.Sessions, nil, func(thrower *physics.Thrower, session int) ([]bool, error) {
		return w.on(session, s, b, r).Pocketed(thrower, w.settings, w.Seed, from+uint64(session*per), per)
	})
}

// on is the setup of a player's ball on the lane as it is in a session.
func (w *planWork) on(session int, s *playerWork, b int, r physics.Release) studies.Setup {
	setup := s.Balls[b]
	setup.Lane, setup.Release = w.Lanes[s.Lane], r
	setup.Lane.Oil = w.lanes[session][s.Lane].Map
	return setup
}

// judge judges a player's line after so many deliveries, and changes it if it has fallen.
func (w *planWork) judge(i, played int) error {
	s := w.players[i]
	period := &s.plan.Periods[len(s.plan.Periods)-1]
	hits, err := w.hits(s, s.ball, s.release, judgedDraws)
	if err != nil {
		return err
	}
	share := studies.CountOf(hits...)
	if len(s.plan.Periods) == 1 {
		s.first = append(s.first, hits)
	}
	period.To, period.End = played-1, share
	period.Judgements = append(period.Judgements, Judgement{played, share})
	if share.Share() >= w.Keep*period.Share.Share() {
		return nil
	}
	period.Fell = true
	if s.waits > 0 {
		s.waits--
		return nil
	}
	next, found, err := w.change(s)
	if err != nil {
		return err
	}
	if period.Stuck = !found; period.Stuck {
		s.waits = waitingBlocks
		return nil
	}
	next.From, next.To = played, played
	s.ball, s.release = next.Ball, next.Release
	if hits, err = w.hits(s, s.ball, s.release, judgedDraws); err != nil {
		return err
	}
	next.Share = studies.CountOf(hits...)
	next.End, next.Judgements = next.Share, []Judgement{{played, next.Share}}
	s.plan.Periods = append(s.plan.Periods, next)
	return nil
}

// change finds the best other line or ball for a player, and whether it brings more than
// chance explains.
func (w *planWork) change(s *playerWork) (Period, bool, error) {
	balls := make([]studies.Setup, len(s.Balls))
	for b := range balls {
		r, own := s.release, s.Balls[b].Release
		r.Speed, r.RevRate, r.AxisRotation, r.AxisTilt = own.Speed, own.RevRate, own.AxisRotation, own.AxisTilt
		balls[b] = w.on(0, s, b, r)
	}
	lines, err := movedLines(w.ctx, w.Workers, balls, w.Farthest, w.settings)
	if err != nil || len(lines) == 0 {
		return Period{}, false, err
	}
	best, most := 0, -1
	for i, line := range lines {
		hits, err := w.hits(s, line.ball, line.setup.Release, chosenDraws)
		if err != nil {
			return Period{}, false, err
		}
		if n := studies.CountOf(hits...).Hits; n > most {
			best, most = i, n
		}
	}
	ball, release := lines[best].ball, lines[best].setup.Release
	before, err := w.hits(s, s.ball, s.release, countedDraws)
	if err != nil {
		return Period{}, false, err
	}
	after, err := w.hits(s, ball, release, countedDraws)
	if err != nil {
		return Period{}, false, err
	}
	next := Period{Ball: ball, Release: release, Feet: release.Laydown - s.release.Laydown,
		Arrows: studies.BoardAtArrows(release) - studies.BoardAtArrows(s.release)}
	next.Gain = studies.Pair(slices.Concat(before...), slices.Concat(after...))
	return next, next.Gain.Significant() && next.Gain.Difference() > 0, nil
}

// stays is by which delivery the first line of a player has fallen: the median over
// resampled sessions, and its 95 % interval.
func (w *planWork) stays(s *playerWork) (float64, studies.Interval) {
	shots := s.plan.Periods[0].Judgements
	fell := func(sessions []int) float64 {
		count := func(j int) float64 {
			var c studies.Count
			for _, i := range sessions {
				c = c.Plus(studies.CountOf(s.first[j][i]))
			}
			return c.Share()
		}
		begun := count(0)
		for j := 1; j < len(s.first); j++ {
			if count(j) < w.Keep*begun {
				return float64(shots[j].Shot)
			}
		}
		if len(s.plan.Periods) > 1 { // it was given up, and would have fallen at some later time
			return float64(shots[len(s.first)-1].Shot + w.Block)
		}
		return math.Inf(1)
	}
	return resampled(w.Seed, w.Sessions, fell)
}
