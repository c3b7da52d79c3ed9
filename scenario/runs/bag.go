package runs

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/bag"
	"lanesim/studies/carry"
	"lanesim/studies/wear"
)

// Bag is a choice of balls for a scenario's lanes, with its study.
type Bag struct {
	studied.Bag
	Study bag.Study

	// Worn is the number of deliveries after which worn lanes are added; 0 means only fresh lanes.
	Worn int
}

// TryAssumed tries with sets of assumed values which balls are chosen, and which covers most alone. If balls
// are judged by strikes, the sets include constants of the pins: the lines found by the table of racks are
// then rolled at racks with these.
func (w *Bag) TryAssumed(ctx context.Context, s *scenario.Scenario, n int, step func(done, total int)) (err error) {
	if n == 0 {
		return nil
	}
	racks := carry.RackSets(s.Rack, n)
	w.Tried, err = tryAssumed(n, step, w.Conclusions(), func(set studies.AssumedSet) (func(studied.Conclusion) bool, error) {
		study := w.Study
		study.Known, study.Cell, study.Progress = nil, nil, nil
		study.Lanes = nil
		var fresh []lane.Lane
		fresh, study.Balls = applied(set, s.Lanes, w.Study.Balls)
		if _, err := addLanes(ctx, &study, fresh, w.Worn); err != nil {
			return nil, err
		}
		if rack := racks[0]; study.By == aim.ByStrikeShare {
			racks = racks[1:]
			study.Strikes = func(ctx context.Context, setup studies.Setup) ([]bool, error) {
				return carry.Deliveries{Setup: setup, Seed: study.Seed, Settings: study.Settings, Work: studies.Work{Workers: study.Workers}}.Struck(ctx, rack, assumedRacks)
			}
		}
		choice, err := study.Run(ctx)
		if err != nil {
			return nil, err
		}
		return func(c studied.Conclusion) bool {
			if c.Kind == "best_ball" {
				return choice.Chosen[0] == c.A
			}
			return slices.Contains(choice.Chosen, c.A)
		}, nil
	})
	return err
}

// ThrowChosen throws the chosen balls on the first lane, each on its best line, with tracks on the ball. The
// keys of the shots are indices of balls; a ball without a line has none.
func (w *Bag) ThrowChosen() (map[int]physics.Shot, error) {
	shots, thrower := map[int]physics.Shot{}, physics.NewThrower()
	for _, i := range w.Choice.Chosen {
		cell, release := w.Choice.Cells[i][0], w.Study.Release
		if !cell.Reaches {
			continue
		}
		release.Laydown, release.Angle = cell.Laydown, cell.Angle
		var err error
		if shots[i], err = thrower.Throw(w.Study.Lanes[0], w.Study.Balls[i], release, tracked(w.Study.Settings)); err != nil {
			return nil, err
		}
	}
	return shots, nil
}

// AddLanes adds the lanes to the study, fresh and worn. It is an error if a lane to be worn is dry.
func (w *Bag) AddLanes(ctx context.Context, fresh []lane.Lane) (err error) {
	w.States, err = addLanes(ctx, &w.Study, fresh, w.Worn)
	return err
}

// addLanes sets the lanes of a study, fresh and after a number of deliveries, and returns their names.
func addLanes(ctx context.Context, bag *bag.Study, fresh []lane.Lane, after int) (names []string, err error) {
	for _, l := range fresh {
		names = append(names, l.Name)
		bag.Lanes = append(bag.Lanes, l)
		if after == 0 {
			continue
		}
		if l.Oil == nil {
			return nil, input.Wrong("%s is dry: there is nothing to wear", l.Name)
		}
		worn := l
		if worn.Oil, err = wornOil(ctx, *bag, after); err != nil {
			return nil, err
		}
		names = append(names, fmt.Sprintf("%s after %d", l.Name, after))
		bag.Lanes = append(bag.Lanes, worn)
	}
	return names, nil
}

// wornOil returns a lane's oil after the bowler has thrown the balls on it in turn, each on its line to the
// pocket on the fresh lane if it has one.
func wornOil(ctx context.Context, bag bag.Study, deliveries int) (*lane.OilMap, error) {
	w := wear.Study{Lane: bag.Lanes[len(bag.Lanes)-1], Seed: bag.Seed, Settings: bag.Settings, Work: studies.Work{Workers: bag.Workers}}
	for _, b := range bag.Balls {
		setup := studies.Setup{Lane: w.Lane, Ball: b, Release: bag.Release, Repeatability: bag.Repeatability}
		r, err := aim.AtPocket(setup, studies.ForManyShots(bag.Settings))
		if none := (*aim.NoPocketError)(nil); err == nil {
			setup.Release = r
		} else if !errors.As(err, &none) {
			return nil, err
		}
		w.Setups = append(w.Setups, setup)
	}
	for k := range deliveries {
		w.Order = append(w.Order, k%len(w.Setups))
	}
	result, err := w.Run(ctx)
	return result.After, err
}
