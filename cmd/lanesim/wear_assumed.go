package main

import (
	"context"
	"fmt"
	"math"

	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/wear"
)

// longer tells which of two setups' lines stays longer: positive for a. One that
// never hit in its first deliveries does not stay at all.
func longer(stays []wear.Stay, a, b int) float64 {
	shot := func(setup int) float64 {
		for _, s := range stays {
			if s.Setup == setup && !math.IsNaN(s.Median) {
				return s.Median
			}
		}
		return 0
	}
	x, y := shot(a), shot(b)
	switch {
	case x > y:
		return 1
	case x < y:
		return -1
	}
	return 0
}

// tryAssumed tries with sets of assumed values which ball of a bowler lasts longer.
func (w *wornSession) tryAssumed(ctx context.Context, p *program, s *scenario.Scenario, n int) (err error) {
	used := w.Used()
	var list []conclusion
	for k, i := range used {
		for _, j := range used[k+1:] {
			a, b := i, j
			if w.players[a].Bowler != w.players[b].Bowler {
				continue
			}
			switch d := longer(w.Result.Stays, a, b); {
			case d == 0:
				continue
			case d < 0:
				a, b = b, a
			}
			list = append(list, conclusion{
				Kind: "lasts_longer", Bowler: w.players[a].bowler, Ball: w.players[a].ball, Against: &w.players[b].ball, A: a, B: b,
				Claim: fmt.Sprintf("%s lasts longer than %s", w.players[a].ball, w.players[b].ball),
			})
		}
	}
	aims := make([]bool, len(w.players))
	for i, t := range w.players {
		aims[i] = s.Bowlers[t.Bowler].AimAtPocket && !s.Bowlers[t.Bowler].LineToFind()
	}
	var lines aim.Lines
	w.Tried, err = p.tryAssumed(ctx, n, list, func(set studies.AssumedSet) (func(conclusion) bool, error) {
		study := w.Study
		study.Progress, study.Marks = nil, nil
		var err error
		var followed aim.Lines
		if study.Setups, followed, err = aim.AssumedSetups(set, w.Study.Setups, aims, w.Study.Settings); err != nil {
			return nil, err
		}
		study.Lane = study.Setups[0].Lane
		result, err := study.Run(ctx)
		if err != nil {
			return nil, err
		}
		lines.Changed += followed.Changed
		lines.Lost += followed.Lost
		return func(c conclusion) bool { return longer(result.Stays, c.A, c.B) > 0 }, nil
	})
	w.Tried.Lines = &lines
	return err
}
