package aim_test

import (
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
)

// Judged by strikes the best line strikes at least as often as that judged by the pocket,
// over the same deliveries, and shares are counted with the same numbers for any number
// of workers.
func TestLinesByStrikes(t *testing.T) {
	search := func(by aim.Measure, workers int) aim.Result {
		setup := usual.Setup(t, ball.Right, 4.5, usual.League())
		q := aim.Search{Setup: setup, By: by, Shots: 300, RunnersUp: 1, Seed: 4, Work: studies.Work{Workers: workers},
			Limits: aim.Limits{Laydown: physics.Window{Min: 25, Max: 27.5}, Arrows: physics.Window{Min: 8, Max: lane.Boards}}}
		found := usual.Run(t, q)
		return found
	}
	strikes, again, pocket := search(aim.ByStrikeShare, 1), search(aim.ByStrikeShare, 3), search(aim.ByPocketShare, 2)
	if strikes.Best.Release != again.Best.Release || strikes.Best.Strikes != again.Best.Strikes {
		t.Errorf("%+v with one worker, %+v with three", strikes.Best.Strikes, again.Best.Strikes)
	}
	share := strikes.Best.Strikes.Share()
	t.Logf("strikes %.3f, pocket %.3f judged by strikes; pocket %.3f judged by it", share, strikes.Best.Pocket.Share(), pocket.Best.Pocket.Share())
	if strikes.By != aim.ByStrikeShare || share < 0.15 || share > 0.95 || share < strikes.Best.Pocket.Share() {
		t.Errorf("%v strikes, %v in the pocket", share, strikes.Best.Pocket.Share())
	}
	if pocket.Best.Strikes.Hits != 0 || pocket.Map.Strikes != nil {
		t.Error("strikes that nobody asked for")
	}
	// The interpolated share of the map agrees with that counted.
	most := 0.0
	for _, row := range strikes.Map.Strikes {
		for _, s := range row {
			most = max(most, s)
		}
	}
	if most < share-0.1 || most > share+0.1 {
		t.Errorf("the map has up to %v, the best line %v", most, share)
	}
}
