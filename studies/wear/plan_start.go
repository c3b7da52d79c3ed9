package wear

import (
	"errors"

	"lanesim/lane"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// start prepares the lanes, and finds the best fresh line of each player.
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
		p := &playerWork{Player: player}
		if len(w.FirstLines) > 0 {
			p.ball, p.release = w.FirstLines[i].Ball, w.FirstLines[i].Release
		} else if err := w.bestFresh(p); err != nil {
			return err
		}
		hits, err := w.hits(p, p.ball, p.release, judgedDraws)
		if err != nil {
			return err
		}
		p.first = append(p.first, hits)
		p.result.Fresh = studies.CountOf(hits...)
		p.result.Periods = []Period{{Ball: p.ball, Release: p.release, Share: p.result.Fresh, End: p.result.Fresh, Judgements: []Judgement{{0, p.result.Fresh}}}}
		w.players = append(w.players, p)
	}
	return nil
}

// bestFresh finds the ball and the line with which a player begins.
func (w *planWork) bestFresh(p *playerWork) error {
	best := studies.Count{}
	var none error
	for b := range p.Balls {
		setup := p.Balls[b]
		setup.Lane = w.Lanes[p.Lane]
		found, err := aim.Search{Setup: setup, Limits: w.Limits, By: aim.ByPocketShare, Shots: w.Judged, RunnersUp: -1, Seed: w.Seed, Settings: w.Settings, Work: studies.Work{Workers: w.Workers}}.Run(w.ctx)
		if lost := (*aim.NoLineError)(nil); errors.As(err, &lost) {
			none = err
			continue
		} else if err != nil {
			return err
		}
		if share := found.Best.Pocket; best.Of == 0 || share.Hits > best.Hits {
			best, p.ball, p.release = share, b, found.Best.Release
		}
	}
	if best.Of == 0 {
		return none
	}
	return nil
}
