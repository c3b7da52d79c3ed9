package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/bag"
	"lanesim/studies/wear"
)

// tryAssumed tries with sets of assumed values which balls are chosen, and which
// covers most alone.
func (w *bagWork) tryAssumed(ctx context.Context, p *program, s *scenario.Scenario, o bagOptions) (err error) {
	if o.assumed == 0 {
		return nil
	}
	var list []conclusion
	for k, i := range w.choice.Chosen {
		if k == 0 {
			list = append(list, conclusion{Kind: "best_ball", Bowler: w.bowler, Ball: w.balls[i], A: i, Claim: w.balls[i] + " is the best ball"})
		}
		if len(w.balls) > o.size {
			list = append(list, conclusion{Kind: "chosen", Bowler: w.bowler, Ball: w.balls[i], A: i, Claim: w.balls[i] + " is among those chosen"})
		}
	}
	w.tried, err = p.tryAssumed(ctx, o.assumed, list, func(set studies.AssumedSet) (func(conclusion) bool, error) {
		study := w.study
		study.Known, study.Cell, study.Progress = nil, nil, nil
		study.Balls, study.Lanes = slices.Clone(w.study.Balls), nil
		fresh := slices.Clone(s.Lanes)
		var lanes []*lane.Lane
		var balls []*ball.Ball
		for i := range fresh {
			lanes = append(lanes, &fresh[i])
		}
		for i := range study.Balls {
			balls = append(balls, &study.Balls[i])
		}
		set.Lanes(lanes...)
		set.Balls(balls...)
		if _, err := p.lanesOfBag(ctx, &study, fresh, o); err != nil {
			return nil, err
		}
		choice, err := study.Run(ctx)
		if err != nil {
			return nil, err
		}
		return func(c conclusion) bool {
			if c.Kind == "best_ball" {
				return choice.Chosen[0] == c.A
			}
			return slices.Contains(choice.Chosen, c.A)
		}, nil
	})
	return err
}

// lanesOfBag fills in the lanes of a bag, fresh and worn, and returns their names.
func (p *program) lanesOfBag(ctx context.Context, bag *bag.Study, fresh []lane.Lane, o bagOptions) (names []string, err error) {
	for _, l := range fresh {
		names = append(names, l.Name)
		bag.Lanes = append(bag.Lanes, l)
		if o.worn == 0 {
			continue
		}
		if l.Oil == nil {
			return nil, wrongInput("%s is dry: there is nothing to wear", l.Name)
		}
		worn := l
		if worn.Oil, err = p.wornOil(ctx, *bag, o); err != nil {
			return nil, err
		}
		names = append(names, fmt.Sprintf("%s after %d", l.Name, o.worn))
		bag.Lanes = append(bag.Lanes, worn)
	}
	return names, nil
}

// wornOil is a lane's oil after the bowler has thrown the balls on it in turn, each
// from its line to the pocket on the fresh lane where it has one.
func (p *program) wornOil(ctx context.Context, bag bag.Study, o bagOptions) (*lane.OilMap, error) {
	w := wear.Study{Lane: bag.Lanes[len(bag.Lanes)-1], Seed: o.seed, Settings: bag.Settings}
	for _, b := range bag.Balls {
		r, err := aim.AtPocket(w.Lane, b, bag.Release, studies.ForManyShots(bag.Settings))
		if none := (*aim.NoPocketError)(nil); errors.As(err, &none) {
			r = bag.Release
		} else if err != nil {
			return nil, err
		}
		w.Setups = append(w.Setups, studies.Setup{Ball: b, Release: r, Repeatability: bag.Repeatability})
	}
	for k := range o.worn {
		w.Order = append(w.Order, k%len(w.Setups))
	}
	result, err := w.Run(ctx)
	return result.After, err
}
