package wear

import (
	"errors"
	"math"
	"slices"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Deliveries that judge lines, that choose changes and that count what a change
// brought are kept apart from those of the sessions and from each other.
const (
	judgedDraws  = 1 << 41
	chosenDraws  = 1 << 42
	countedDraws = 1 << 43
)

// patience is after how many blocks a change is sought again where none was found.
const patience = 2

// hits throws deliveries about a line on the lanes as they are in all sessions.
func (w *planWork) hits(s *seatWork, b int, r physics.Release, from uint64) ([][]bool, error) {
	setup := s.Balls[b]
	deliverer, err := setup.Repeatability.Deliverer(r)
	if err != nil {
		return nil, err
	}
	per := (w.Judged + w.Sessions - 1) / w.Sessions
	all := make([][]bool, w.Sessions)
	err = studies.InParallel(w.ctx, w.Workers, w.Sessions, nil, func(thrower *physics.Thrower, session int) error {
		l := w.Lanes[s.Lane]
		l.Oil = w.lanes[session][s.Lane].Map
		all[session] = make([]bool, per)
		for k := range per {
			shot, err := thrower.Throw(l, setup.Ball, deliverer.Delivery(studies.DrawDeviates(w.Seed, from+uint64(session*per+k))), w.settings)
			if err != nil {
				return err
			}
			all[session][k] = shot.Summary.Pocket
		}
		return nil
	})
	return all, err
}

// judge judges a seat's line after so many deliveries, and changes it if it has fallen.
func (w *planWork) judge(i, played int) error {
	s := w.seats[i]
	stint := &s.plan.Stints[len(s.plan.Stints)-1]
	hits, err := w.hits(s, s.ball, s.release, judgedDraws)
	if err != nil {
		return err
	}
	share := countOf(hits)
	if len(s.plan.Stints) == 1 {
		s.first = append(s.first, hits)
	}
	stint.To, stint.End = played-1, share
	stint.Judgements = append(stint.Judgements, Judgement{played, share})
	if share.Share() >= w.Keep*stint.Share.Share() {
		return nil
	}
	stint.Fell = true
	if s.waits > 0 {
		s.waits--
		return nil
	}
	next, found, err := w.change(s)
	if err != nil {
		return err
	}
	if stint.Stuck = !found; stint.Stuck {
		s.waits = patience
		return nil
	}
	next.From, next.To = played, played
	s.ball, s.release = next.Ball, next.Release
	if hits, err = w.hits(s, s.ball, s.release, judgedDraws); err != nil {
		return err
	}
	next.Share = countOf(hits)
	next.End, next.Judgements = next.Share, []Judgement{{played, next.Share}}
	s.plan.Stints = append(s.plan.Stints, next)
	return nil
}

// change finds the best other line or ball for a seat, and whether it brings more than
// chance explains.
func (w *planWork) change(s *seatWork) (Stint, bool, error) {
	type candidate struct {
		ball    int
		release physics.Release
		found   bool
	}
	var list []candidate
	for b := range s.Balls {
		for d := -w.Farthest; d <= w.Farthest; d++ {
			r := s.release
			setup := s.Balls[b].Release
			r.Speed, r.RevRate, r.AxisRotation, r.AxisTilt = setup.Speed, setup.RevRate, setup.AxisRotation, setup.AxisTilt
			if r.Laydown += float64(d); r.Laydown >= 1 && r.Laydown <= lane.Boards {
				list = append(list, candidate{ball: b, release: r})
			}
		}
	}
	err := studies.InParallel(w.ctx, w.Workers, len(list), nil, func(_ *physics.Thrower, i int) error {
		c := &list[i]
		setup := s.Balls[c.ball]
		setup.Lane, setup.Release = w.Lanes[s.Lane], c.release
		setup.Lane.Oil = w.lanes[0][s.Lane].Map
		aimed, err := aim.AtPocket(setup, w.settings)
		if none := (*aim.NoPocketError)(nil); errors.As(err, &none) {
			return nil
		} else if err != nil {
			return err
		}
		c.release, c.found = aimed, true
		return nil
	})
	if err != nil {
		return Stint{}, false, err
	}
	best, most := -1, -1
	for i, c := range list {
		if !c.found {
			continue
		}
		hits, err := w.hits(s, c.ball, c.release, chosenDraws)
		if err != nil {
			return Stint{}, false, err
		}
		if n := countOf(hits).Hits; n > most {
			best, most = i, n
		}
	}
	if best < 0 {
		return Stint{}, false, nil
	}
	c := list[best]
	before, err := w.hits(s, s.ball, s.release, countedDraws)
	if err != nil {
		return Stint{}, false, err
	}
	after, err := w.hits(s, c.ball, c.release, countedDraws)
	if err != nil {
		return Stint{}, false, err
	}
	next := Stint{Ball: c.ball, Release: c.release, Feet: c.release.Laydown - s.release.Laydown,
		Arrows: studies.BoardAtArrows(c.release) - studies.BoardAtArrows(s.release)}
	for i := range before {
		for k := range before[i] {
			next.Gain.Add(before[i][k], after[i][k])
		}
	}
	return next, next.Gain.Significant() && next.Gain.Difference() > 0, nil
}

// stays is by which delivery the first line of a seat has fallen: the median over
// resampled sessions, and its 95 % interval.
func (w *planWork) stays(s *seatWork) (float64, [2]float64) {
	shots := s.plan.Stints[0].Judgements
	fell := func(sessions []int) float64 {
		count := func(j int) float64 {
			hits, of := 0, 0
			for _, i := range sessions {
				for _, h := range s.first[j][i] {
					of++
					if h {
						hits++
					}
				}
			}
			return float64(hits) / float64(of)
		}
		begun := count(0)
		for j := 1; j < len(s.first); j++ {
			if count(j) < w.Keep*begun {
				return float64(shots[j].Shot)
			}
		}
		if len(s.plan.Stints) > 1 { // it was given up, and would have fallen at some later time
			return float64(shots[len(s.first)-1].Shot + w.Block)
		}
		return math.Inf(1)
	}
	found := make([]float64, resamples)
	all := make([]int, w.Sessions)
	for b := range found {
		r := studies.Draws(w.Seed, studies.ForResampling, uint64(b))
		for i := range all {
			all[i] = r.IntN(w.Sessions)
		}
		found[b] = fell(all)
	}
	slices.Sort(found)
	const tail = 0.025
	return found[resamples/2], [2]float64{found[int(tail*resamples)], found[int((1-tail)*resamples)]}
}
