package runs

import (
	"slices"
	"testing"

	"lanesim/report/studied"
	"lanesim/scenario"
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
