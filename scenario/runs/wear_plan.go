package runs

import (
	"context"

	"lanesim/lane"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/wear"
)

// PlanParts returns the groups of bowlers who share lanes: each bowler's ball on each lane alone, or all
// bowlers together on all lanes, which they change after each delivery. The scenario's session gives the
// order of the bowlers and their balls; alone each bowls as many deliveries as in the session. shots is the
// length of the session, 0 for that of the scenario.
func PlanParts(s *scenario.Scenario, players []Player, alone bool, shots int) []studied.PlanPart {
	if alone {
		var parts []studied.PlanPart
		for _, t := range players {
			n := turnsOf(s, t)
			if n == 0 {
				continue
			}
			if shots > 0 {
				n = shots
			}
			parts = append(parts, studied.PlanPart{Players: []studied.PlannedPlayer{plannedPlayer(t)},
				Study: wear.Plan{Shots: n, Lanes: []lane.Lane{s.Lanes[t.At.Lane]}, Players: []wear.Player{{Balls: []studies.Setup{t.Setup}}}, Order: []int{0}}})
		}
		return parts
	}
	part := studied.PlanPart{Study: wear.Plan{Lanes: s.Lanes}}
	at := map[[2]int]int{} // indices of players by lane and bowler
	for _, t := range players {
		if turnsOf(s, t) == 0 {
			continue
		}
		key := [2]int{t.At.Lane, t.At.Bowler}
		i, known := at[key]
		if !known {
			i, at[key] = len(part.Players), len(part.Players)
			part.Players = append(part.Players, plannedPlayer(t))
			part.Study.Players = append(part.Study.Players, wear.Player{Lane: t.At.Lane})
		} else {
			part.Players[i].Balls = append(part.Players[i].Balls, t.Ball)
		}
		part.Study.Players[i].Balls = append(part.Study.Players[i].Balls, t.Setup)
	}
	order := &part.Study.Order
	if s.Session == nil {
		for l := range s.Lanes {
			for b := range s.Bowlers {
				*order = append(*order, at[[2]int{l, b}])
			}
		}
		part.Study.Shots = DefaultSession
	} else {
		thrown := make([]int, len(s.Bowlers))
		for _, turn := range s.Session.Order {
			for range turn.Games * turn.Deliveries {
				*order = append(*order, at[[2]int{thrown[turn.Bowler] % len(s.Lanes), turn.Bowler}])
				thrown[turn.Bowler]++
			}
		}
		part.Study.Shots = len(*order)
	}
	if shots > 0 {
		part.Study.Shots = shots
	}
	return []studied.PlanPart{part}
}

func plannedPlayer(t Player) studied.PlannedPlayer {
	return studied.PlannedPlayer{Bowler: t.Bowler, Lane: t.Lane, Balls: []string{t.Ball}, Hand: t.Setup.Release.Hand, FootToBall: t.FootToBall}
}

// turnsOf returns the number of deliveries of a player on one lane in the session, or in a default session.
func turnsOf(s *scenario.Scenario, t Player) int {
	if s.Session == nil {
		return DefaultSession
	}
	n := 0
	for _, turn := range s.Session.Order {
		if turn.Bowler == t.At.Bowler && turn.Ball == t.At.Ball {
			n += turn.Games * turn.Deliveries
		}
	}
	return n
}

// TryPlan tries with sets of assumed values whether first lines fall in the session, which change is then the
// best, and which ball of a bowler lasts longer. The first lines keep their laydowns and follow the values.
func TryPlan(ctx context.Context, w *studied.WearPlan, n int, step func(done, total int)) (err error) {
	var lines aim.LinesFollowed
	w.Tried, err = tryAssumed(n, step, w.Conclusions(), func(set studies.AssumedSet) (func(studied.Conclusion) bool, error) {
		parts := make([]studied.PlanPart, len(w.Parts))
		for i, part := range w.Parts {
			tried, followed, err := tryPart(ctx, set, part)
			if err != nil {
				return nil, err
			}
			parts[i] = tried
			lines.Changed += followed.Changed
			lines.Lost += followed.Lost
		}
		return func(c studied.Conclusion) bool { return w.Holds(c, parts) }, nil
	})
	w.Tried.Lines = &lines
	return err
}

// tryPart plays a part with a set of assumed values until its first lines have fallen.
func tryPart(ctx context.Context, set studies.AssumedSet, part studied.PlanPart) (studied.PlanPart, aim.LinesFollowed, error) {
	q := part.Study
	q.Progress, q.FirstLinesOnly, q.FirstLines = nil, true, nil
	var setups []studies.Setup
	var aims []bool
	for k, player := range q.Players {
		first := part.Result.Players[k].Periods[0]
		q.FirstLines = append(q.FirstLines, wear.FirstLine{Ball: first.Ball})
		for b, setup := range player.Balls {
			setup.Lane, setup.Release.Laydown, setup.Release.Angle = q.Lanes[player.Lane], first.Release.Laydown, first.Release.Angle
			setups, aims = append(setups, setup), append(aims, b == first.Ball)
		}
	}
	setups, lines, err := aim.AssumedSetups(set, setups, aims, q.Settings)
	if err != nil {
		return part, lines, err
	}
	q.Lanes, q.Players = append([]lane.Lane{}, q.Lanes...), append([]wear.Player{}, q.Players...)
	for k := range q.Players {
		n := len(q.Players[k].Balls)
		q.Players[k].Balls, setups = setups[:n], setups[n:]
		begin := &q.FirstLines[k]
		begin.Release = q.Players[k].Balls[begin.Ball].Release
		q.Lanes[q.Players[k].Lane] = q.Players[k].Balls[begin.Ball].Lane
	}
	part.Study = q
	part.Result, err = q.Run(ctx)
	return part, lines, err
}
