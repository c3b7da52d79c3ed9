package wear

import (
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/studies"
)

// Numbers of the first deliveries that judge lines, that choose changes, and that count the gain of a change:
// none is used twice, nor in the sessions.
const (
	judgedDraws  = 1 << 41
	chosenDraws  = 1 << 42
	countedDraws = 1 << 43
)

// waitingBlocks is the number of blocks after which a change is searched again if none was found.
const waitingBlocks = 2

// hits throws deliveries about a line on the present lanes of all sessions.
func (w *planWork) hits(p *playerWork, b int, r physics.Release, from uint64) ([][]bool, error) {
	per := (w.Judged + w.Sessions - 1) / w.Sessions
	return studies.Gather(w.ctx, w.Workers, w.Sessions, nil, func(thrower *physics.Thrower, session int) ([]bool, error) {
		return w.setupOn(session, p, b, r).Pocketed(thrower, w.settings, w.Seed, from+uint64(session*per), per)
	})
}

// setupOn returns the setup of a player's ball on the present lane of a session.
func (w *planWork) setupOn(session int, p *playerWork, b int, r physics.Release) studies.Setup {
	setup := p.Balls[b]
	setup.Lane, setup.Release = w.Lanes[p.Lane], r
	setup.Lane.Oil = w.lanes[session][p.Lane].Map
	return setup
}

// judge judges a player's line after the deliveries played, and changes it if it has fallen.
func (w *planWork) judge(i, played int) error {
	p := w.players[i]
	period := &p.result.Periods[len(p.result.Periods)-1]
	hits, err := w.hits(p, p.ball, p.release, judgedDraws)
	if err != nil {
		return err
	}
	share := studies.CountOf(hits...)
	if len(p.result.Periods) == 1 {
		p.first = append(p.first, hits)
	}
	period.To, period.End = played-1, share
	period.Judgements = append(period.Judgements, Judgement{played, share})
	if share.Share() >= w.Keep*period.Share.Share() {
		return nil
	}
	period.Fell = true
	if p.waits > 0 {
		p.waits--
		return nil
	}
	next, found, err := w.change(p)
	if err != nil {
		return err
	}
	if period.Stuck = !found; period.Stuck {
		p.waits = waitingBlocks
		return nil
	}
	next.From, next.To = played, played
	p.ball, p.release = next.Ball, next.Release
	if hits, err = w.hits(p, p.ball, p.release, judgedDraws); err != nil {
		return err
	}
	next.Share = studies.CountOf(hits...)
	next.End, next.Judgements = next.Share, []Judgement{{played, next.Share}}
	p.result.Periods = append(p.result.Periods, next)
	return nil
}

// change finds the best other line or ball for a player, and reports whether its gain is significant.
func (w *planWork) change(p *playerWork) (Period, bool, error) {
	balls := make([]studies.Setup, len(p.Balls))
	for b := range balls {
		r, own := p.release, p.Balls[b].Release
		r.Speed, r.RevRate, r.AxisRotation, r.AxisTilt = own.Speed, own.RevRate, own.AxisRotation, own.AxisTilt
		balls[b] = w.setupOn(0, p, b, r)
	}
	lines, err := movedLines(w.ctx, w.Workers, balls, w.Farthest, w.settings)
	if err != nil || len(lines) == 0 {
		return Period{}, false, err
	}
	best, most := 0, -1
	for i, line := range lines {
		hits, err := w.hits(p, line.ball, line.setup.Release, chosenDraws)
		if err != nil {
			return Period{}, false, err
		}
		if n := studies.CountOf(hits...).Hits; n > most {
			best, most = i, n
		}
	}
	ball, release := lines[best].ball, lines[best].setup.Release
	before, err := w.hits(p, p.ball, p.release, countedDraws)
	if err != nil {
		return Period{}, false, err
	}
	after, err := w.hits(p, ball, release, countedDraws)
	if err != nil {
		return Period{}, false, err
	}
	next := Period{Ball: ball, Release: release, Feet: release.Laydown - p.release.Laydown,
		Arrows: studies.BoardAtArrows(release) - studies.BoardAtArrows(p.release)}
	next.Gain = studies.Pair(slices.Concat(before...), slices.Concat(after...))
	return next, next.Gain.Significant() && next.Gain.Difference() > 0, nil
}

// stays returns the delivery by which the first line of a player has fallen: the median over resampled
// sessions, and its 95 % interval.
func (w *planWork) stays(p *playerWork) (float64, studies.Interval) {
	shots := p.result.Periods[0].Judgements
	fell := func(sessions []int) float64 {
		count := func(j int) float64 {
			var c studies.Count
			for _, i := range sessions {
				c = c.Plus(studies.CountOf(p.first[j][i]))
			}
			return c.Share()
		}
		begun := count(0)
		for j := 1; j < len(p.first); j++ {
			if count(j) < w.Keep*begun {
				return float64(shots[j].Shot)
			}
		}
		if len(p.result.Periods) > 1 { // it was given up and would have fallen later
			return float64(shots[len(p.first)-1].Shot + w.Block)
		}
		return math.Inf(1)
	}
	return resampled(w.Seed, w.Sessions, fell)
}
