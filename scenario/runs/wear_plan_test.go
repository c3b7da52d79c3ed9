package runs

import (
	"slices"
	"testing"

	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/wear"
)

const planned = `
lanes: [{name: left lane, oil: flat}, {name: right lane, oil: flat}]
balls: [{name: A, weight: 15 lb, diameter: 8.58 in, rg: 2.5 in}, {name: B, weight: 15 lb, diameter: 8.58 in, rg: 2.5 in}]
bowlers: [low revs, medium revs, high revs]
`

// A team bowls in the order of its session, each bowler with the balls named there and on
// the lanes in turn; alone each ball bowls as much as there.
func TestPlansBowlInTheOrderOfTheSession(t *testing.T) {
	text := planned + `
session:
  order:
    - {bowler: medium revs, ball: A, games: 1, deliveries: 3}
    - {bowler: low revs, ball: B, games: 2, deliveries: 1}
    - {bowler: medium revs, ball: B, games: 1, deliveries: 2}
`
	s, err := scenario.Read("plan.yaml", []byte(text), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.Deliveries()
	if err != nil {
		t.Fatal(err)
	}
	var players []Player
	for _, d := range list {
		players = append(players, Player{At: d, Player: studied.Player{Lane: s.Lanes[d.Lane].Name, Bowler: s.Bowlers[d.Bowler].Name, Ball: s.Balls[d.Ball].Name}})
	}
	part := PlanParts(s, players, false, 0)[0]
	var names []string
	for _, player := range part.Players {
		names = append(names, player.Lane+" "+player.Bowler+" "+player.Balls[0]+player.Balls[len(player.Balls)-1])
	}
	if want := []string{"left lane low revs BB", "left lane medium revs AB", "right lane low revs BB", "right lane medium revs AB"}; !slices.Equal(names, want) {
		t.Errorf("players %q, want %q", names, want)
	}
	if want := []int{1, 3, 1, 0, 2, 3, 1}; !slices.Equal(part.Study.Order, want) || part.Study.Shots != len(want) {
		t.Errorf("order %v of %d shots, want %v", part.Study.Order, part.Study.Shots, want)
	}
	var alone []int
	for _, p := range PlanParts(s, players, true, 0) {
		alone = append(alone, p.Study.Shots)
	}
	if want := []int{2, 3, 2, 2, 3, 2}; !slices.Equal(alone, want) {
		t.Errorf("alone %v shots, want %v", alone, want)
	}
	if p := PlanParts(s, players, true, 50); p[0].Study.Shots != 50 {
		t.Errorf("%d shots where 50 are asked for", p[0].Study.Shots)
	}
}

// Conclusions of plans hold with other values if first changes are alike and the same line lasts longer.
func TestPlansAreTried(t *testing.T) {
	a := []wear.Period{{}, {Feet: 2, Arrows: 1}}
	for _, c := range []struct {
		name string
		b    []wear.Period
		want bool
	}{
		{"to the same side", []wear.Period{{}, {Feet: 1}}, true}, {"to the other", []wear.Period{{}, {Feet: -1}}, false},
		{"at the arrows alone", []wear.Period{{}, {Arrows: 1}}, true}, {"none", []wear.Period{{}}, false}, {"another ball", []wear.Period{{}, {Ball: 1, Feet: 2}}, false},
	} {
		if got := alike(a, c.b); got != c.want {
			t.Errorf("a change %s is alike: %v", c.name, got)
		}
	}
	// One that lasts to 40 against one that lasts to 20, with intervals apart and not.
	part := func(at int, low, high float64) studied.PlanPart {
		full, lost := studies.Count{Hits: 40, Of: 100}, studies.Count{Hits: 10, Of: 100}
		period := wear.Period{Share: full, End: lost, Fell: true, Judgements: []wear.Judgement{{Share: full}, {Shot: at, Share: lost}}}
		return studied.PlanPart{Players: []studied.PlannedPlayer{{Bowler: "x"}}, Study: wear.Plan{Keep: 0.75, Shots: 30},
			Result: wear.PlanResult{Players: []wear.PlayerResult{{Stays: float64(at), Interval: studies.Interval{Low: low, High: high}, Periods: []wear.Period{period}}}}}
	}
	long, short := part(40, 35, 50), part(20, 10, 30)
	if studied.LastsLonger(long, short) != 1 || studied.LastsLonger(short, long) != -1 || studied.LastsLonger(long, part(20, 10, 36)) != 0 {
		t.Error("which lasts longer")
	}
	if long.FallsInSession(0) || !short.FallsInSession(0) {
		t.Error("which falls in the session")
	}
}
