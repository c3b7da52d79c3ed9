package plots

import (
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/studies"
	"lanesim/studies/wear"
	"lanesim/units"
)

func inventedWear(t *testing.T) *studied.Wear {
	t.Helper()
	l := inventedLane()
	worn, err := lane.NewWearing(l, 4, units.Foot/2)
	if err != nil {
		t.Fatal(err)
	}
	for k := range 40 {
		worn.Exchange(float64(k)*0.3, 0.1, 0.3, 6.5e-3, 2e-9)
	}
	worn.Exchange(14, 0, 2, 6.5e-3, -1e-9)
	w := &studied.Wear{Title: "A session", Study: wear.Study{Lane: l, Order: []int{0, 1}, Marks: []int{0, 19, 39, 59}}}
	w.Result.Fresh, w.Result.After = l.Oil, worn.Map
	for i, name := range []string{"First", "Second"} {
		player := studied.Player{Bowler: "A bowler", Ball: name}
		player.Setup.Release.Hand = ball.Left
		w.Players = append(w.Players, player)
		w.Result.Stays = append(w.Result.Stays, wear.Stay{Setup: i})
		for k, share := range []float64{0.6, 0.5, 0.2} {
			w.Result.Blocks = append(w.Result.Blocks, wear.Block{Setup: i, To: 10*k + 9, Pocket: studies.Count{Hits: int(100 * share), Of: 100}})
		}
	}
	var shots []physics.Shot
	for _, s := range four() {
		shots = append(shots, s.Shot)
	}
	w.Lines = [][]physics.Shot{shots}
	return w
}

func TestWearShowsBeforeAfterAndShares(t *testing.T) {
	for _, size := range sizes {
		words := []string{"oil before", "oil after", "taken and laid down", "last 20 ft, board, from the left (shaded: the pocket)", "board, from the left", "before shot 20", "pocket share of a block, %", "deliveries of the session"}
		checkSays(t, words, func() (*Drawing, error) { return DrawWear(inventedWear(t), size) })
	}
}

func TestWearNeedsOilAndPlayers(t *testing.T) {
	for name, spoil := range map[string]func(*studied.Wear){
		"no deliveries": func(w *studied.Wear) { w.Study.Order = nil },
		"no oil":        func(w *studied.Wear) { w.Result.After = nil },
		"no shots":      func(w *studied.Wear) { w.Lines[0] = nil },
	} {
		w := inventedWear(t)
		spoil(w)
		if _, err := DrawWear(w, Sheet); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
