package wear

import (
	"errors"

	"lanesim/lane"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// start makes the lanes, and finds the best fresh line of each player.
func (w *planWork) start() error {
	for range w.Sessions {
		var list []*lane.Wearing
		for _, l := range w.Lanes {
			fresh, err := lane.NewWearing(l, defaultColumns, defaultRowSpacing)
			if err != nil {
				return err
			}
			list = append(list, fresh)
		}
		w.lanes = append(w.lanes, list)
	}
	w.result.Lanes = make([]LaneResult, len(w.Lanes))
	for i := range w.Lanes {
		w.result.Lanes[i].Oil.Start = w.lanes[0][i].Volume()
	}
	for i, player := range w.Players {
		s := &playerWork{Player: player}
		if len(w.FirstLines) > 0 {
			s.ball, s.release = w.FirstLines[i].Ball, w.FirstLines[i].Release
		} else if err := w.bestFresh(s); err != nil {
			return err
		}
		hits, err := w.hits(s, s.ball, s.release, judgedDraws)
		if err != nil {
			return err
		}
		s.first = append(s.first, hits)
		s.plan.Fresh = studies.CountOf(hits...)
		s.plan.Periods = []Period{{Ball: s.ball, Release: s.release, Share: s.plan.Fresh, End: s.plan.Fresh, Judgements: []Judgement{{0, s.plan.Fresh}}}}
		w.players = append(w.players, s)
	}
	return nil
}

// bestFresh finds the ball and the line with which a player begins.
func (w *planWork) bestFresh(s *playerWork) error {
	best := studies.Count{}
	var none error
	for b := range s.Balls {
		setup := s.Balls[b]
		setup.Lane = w.Lanes[s.Lane]
		found, err := aim.Search{Setup: setup, Limits: w.Limits, By: aim.ByPocketShare, Shots: w.Judged, RunnersUp: -1, Seed: w.Seed, Settings: w.Settings, Work: studies.Work{Workers: w.Workers}}.Run(w.ctx)
		if lost := (*aim.NoLineError)(nil); errors.As(err, &lost) {
			none = err
			continue
		} else if err != nil {
			return err
		}
		if share := found.Best.Pocket; best.Of == 0 || share.Hits > best.Hits {
			best, s.ball, s.release = share, b, found.Best.Release
		}
	}
	if best.Of == 0 {
		return none
	}
	return nil
}
