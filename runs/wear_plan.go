package runs

import (
	"lanesim/lane"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/wear"
)

// PlanParts are the groups who share lanes: each bowler's ball on each lane for itself,
// or all bowlers together on all lanes, which they change after each delivery.
func PlanParts(s *scenario.Scenario, players []Player, alone bool) []studied.PlanPart {
	seat := func(t Player) studied.PlannedSeat {
		return studied.PlannedSeat{Bowler: t.Bowler, Lane: t.Lane, Balls: []string{t.Ball}, Hand: t.Setup.Release.Hand, FootToBall: t.FootToBall}
	}
	if alone {
		var parts []studied.PlanPart
		for _, t := range players {
			parts = append(parts, studied.PlanPart{Seats: []studied.PlannedSeat{seat(t)},
				Study: wear.Plan{Lanes: []lane.Lane{s.Lanes[t.At.Lane]}, Seats: []wear.Seat{{Balls: []studies.Setup{t.Setup}}}, Order: []int{0}}})
		}
		return parts
	}
	part := studied.PlanPart{Study: wear.Plan{Lanes: s.Lanes}}
	at := map[[2]int]int{}
	for _, t := range players {
		key := [2]int{t.At.Lane, t.At.Bowler}
		i, known := at[key]
		if !known {
			i, at[key] = len(part.Seats), len(part.Seats)
			part.Seats = append(part.Seats, seat(t))
			part.Study.Seats = append(part.Study.Seats, wear.Seat{Lane: t.At.Lane})
		} else {
			part.Seats[i].Balls = append(part.Seats[i].Balls, t.Ball)
		}
		part.Study.Seats[i].Balls = append(part.Study.Seats[i].Balls, t.Setup)
	}
	for l := range s.Lanes {
		for b := range s.Bowlers {
			part.Study.Order = append(part.Study.Order, at[[2]int{l, b}])
		}
	}
	return []studied.PlanPart{part}
}
