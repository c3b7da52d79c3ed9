package runs

import (
	"context"
	"slices"

	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/wear"
)

// TryLasting tries with sets of assumed values which ball of a bowler lasts longer.
func TryLasting(ctx context.Context, w *studied.Wear, players []Player, s *scenario.Scenario, n int, step func(done, total int)) (err error) {
	aims := make([]bool, len(players))
	for i, t := range players {
		aims[i] = s.Bowlers[t.At.Bowler].AimAtPocket && !s.Bowlers[t.At.Bowler].LineToFind()
	}
	var lines aim.LinesFollowed
	w.Tried, err = tryAssumed(n, step, w.Conclusions(), func(set studies.AssumedSet) (func(studied.Conclusion) bool, error) {
		study := w.Study
		study.Progress, study.Marks = nil, nil
		var err error
		var followed aim.LinesFollowed
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
		return func(c studied.Conclusion) bool { return result.Longer(c.A, c.B) > 0 }, nil
	})
	w.Tried.Lines = &lines
	return err
}

// DefaultSession is the default number of deliveries of a session.
const DefaultSession = 60

// LineMarks returns the deliveries, counted from 0, before which the lines are thrown for the picture: shots
// 1, 20, 40 and 60, in a longer session at its thirds.
func LineMarks(deliveries int) []int {
	shots := []int{1, 20, 40, 60}
	if deliveries > 80 {
		shots = []int{1, deliveries / 3, 2 * deliveries / 3, deliveries}
	}
	var marks []int
	for _, shot := range shots {
		if shot <= deliveries {
			marks = append(marks, shot-1)
		}
	}
	return marks
}

// SessionOrder returns the players' indices in the order of the deliveries.
func SessionOrder(s *scenario.Scenario, players []Player, shots int) []int {
	var order []int
	if s.Session != nil {
		for _, turn := range s.Session.Order {
			i := slices.IndexFunc(players, func(t Player) bool { return t.At.Bowler == turn.Bowler && t.At.Ball == turn.Ball })
			for range turn.Games * turn.Deliveries {
				order = append(order, i)
			}
		}
		if shots > 0 {
			order = order[:min(shots, len(order))]
		}
		return order
	}
	if shots == 0 {
		shots = DefaultSession
	}
	for k := range shots {
		order = append(order, k%len(players))
	}
	return order
}

// FindMoves finds the best move of each player on the lane after the first session.
func FindMoves(ctx context.Context, w *studied.Wear, seed uint64, step func(done, total int)) error {
	for i, t := range w.Players {
		setup := t.Setup
		setup.Lane.Oil = w.Result.After
		moved, err := wear.Move{Setup: setup, Seed: seed, Settings: w.Study.Settings, Work: studies.Work{Workers: w.Study.Workers}}.Run(ctx)
		if err != nil {
			return err
		}
		w.Moves = append(w.Moves, studied.PlayerMove{MoveResult: moved, Player: i})
		step(i+1, len(w.Players))
	}
	return nil
}

// ThrowWornLines throws the lines of the first players, without deviations, on the lane before each of the
// marked deliveries.
func ThrowWornLines(w *studied.Wear, most int) error {
	thrower := physics.NewThrower()
	settings := w.Study.Settings
	settings.ExchangeSpacing = -1
	for _, t := range w.Players[:min(len(w.Players), most)] {
		var shots []physics.Shot
		for _, oil := range w.Result.Marked {
			if oil == nil {
				continue
			}
			l := t.Setup.Lane
			l.Oil = oil
			shot, err := thrower.Throw(l, t.Setup.Ball, t.Setup.Release, settings)
			if err != nil {
				return err
			}
			shots = append(shots, shot)
		}
		w.Lines = append(w.Lines, shots)
	}
	return nil
}
