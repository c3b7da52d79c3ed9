package aim_test

import (
	"math"
	"os"
	"slices"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
)

// At the returned lines the map has their counted shares, the shots of the band enter at the edges of the
// pocket, and a best line within the limits is on no edge, for both hands.
func TestMarkBandAndEdges(t *testing.T) {
	for _, hand := range []ball.Hand{ball.Right, ball.Left} {
		setup := studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 10), Ball: usual.LaidOut(t, hand, false), Release: usual.Release(), Repeatability: tournament()}
		setup.Release.Hand = hand
		search := aim.Search{Setup: setup, By: aim.ByPocketShare, Shots: 200, RunnersUp: -1, Band: true, Strikes: true}
		found := usual.Run(t, search)
		i := slices.Index(found.Map.Laydown, found.Best.Release.Laydown)
		j := slices.IndexFunc(found.Map.Arrows, func(a float64) bool { return math.Abs(a-found.Best.Arrows) < 1e-9 })
		if i < 0 || j < 0 {
			t.Fatal("the best line is not on the map")
		}
		if got, want := found.Map.Pocket[i][j], found.Best.Pocket.Share(); math.Abs(got-want) > 0.005 {
			t.Errorf("%v: %.3f on the map, %.3f at the mark", hand, got, want)
		}
		b := found.Band
		if len(b.Line.Path) < 10 || b.Line.EntryBoard() != found.Best.Shot.EntryBoard() {
			t.Errorf("%v: the band's line is not the best one", hand)
		}
		// On a crown both misses may enter on the same side.
		for _, edge := range []physics.Shot{b.Outside, b.Inside} {
			board := edge.EntryBoard()
			if off := min(math.Abs(board-physics.DefaultPocket.Min), math.Abs(board-physics.DefaultPocket.Max)); off > 0.02 {
				t.Errorf("%v: a shot of the band enters on board %v, not on an edge of the pocket", hand, board)
			}
		}
		if b.Outside.Path[len(b.Outside.Path)/3].Board >= b.Inside.Path[len(b.Inside.Path)/3].Board {
			t.Errorf("%v: the outer edge of the band lies inside of the inner", hand)
		}
		if len(found.Edges) > 0 {
			t.Errorf("%v: on an edge: %v", hand, found.Edges)
		}
		if found.Best.Strikes.Hits < found.Best.Pocket.Hits/2 {
			t.Errorf("%v: %d strikes of %d in the pocket", hand, found.Best.Strikes.Hits, found.Best.Pocket.Hits)
		}
		search.Limits.Laydown = physics.Window{Min: found.Best.Release.Laydown - 6, Max: found.Best.Release.Laydown - 3}
		if hemmed := usual.Run(t, search); len(hemmed.Edges) == 0 {
			t.Errorf("%v: the best line is from board %v and on no edge", hand, hemmed.Best.Release.Laydown)
		}
	}
}

// No line of a grid of 2,000 is better by more than two points, on three patterns;
// with LANESIM_BRUTE=1.
func TestNoLineOfAGridIsBetter(t *testing.T) {
	if os.Getenv("LANESIM_BRUTE") == "" {
		t.Skip("takes minutes: LANESIM_BRUTE=1 runs it")
	}
	const n, rough, points = 2000, 100, 0.02
	for _, pattern := range []struct{ feet, volume, ratio float64 }{{40, 24.5, 10}, {42, 27, 1.5}, {36, 22, 3}} {
		setup := studies.Setup{Lane: usual.Crowned(t, pattern.feet, pattern.volume, pattern.ratio), Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release(), Repeatability: tournament()}
		found := usual.Run(t, aim.Search{Setup: setup, By: aim.ByPocketShare, Shots: n, RunnersUp: -1})
		var lines []physics.Release
		for laydown := 5.0; laydown <= 35; laydown += 1 {
			for k := range 65 { // to boards at the arrows from 12 inside of the laydown's to 20 outside
				r := setup.Release
				r.Laydown = laydown
				r.Angle = math.Atan((float64(k)/2 - 12) * lane.BoardWidth / lane.Arrows)
				lines = append(lines, r)
			}
		}
		if len(lines) < 2000 {
			t.Fatalf("%d lines", len(lines))
		}
		share := func(r physics.Release, from, to int) float64 {
			deliverer := usual.Deliverer(t, setup.Repeatability, r)
			hits := 0
			thrower := physics.NewThrower()
			settings := studies.ForManyShots(physics.Settings{})
			settings.EndOnly = true
			for k := from; k < to; k++ {
				shot := usual.Throw(t, thrower, setup.Lane, setup.Ball, deliverer.Delivery(studies.DrawDeviates(0, uint64(k))), settings)
				if shot.Summary.Pocket {
					hits++
				}
			}
			return float64(hits) / float64(to-from)
		}
		best, most := physics.Release{}, 0.0
		for _, r := range lines {
			// Fifteen points below the best in 100 deliveries are not above it in 2000.
			if share(r, 0, rough) < found.Best.Pocket.Share()-0.15 {
				continue
			}
			if s := share(r, 0, n); s > most {
				best, most = r, s
			}
		}
		t.Logf("%g ft, %g:1: %.3f found from board %.2f over %.2f, %.3f on the grid from board %g over %.2f", pattern.feet, pattern.ratio,
			found.Best.Pocket.Share(), found.Best.Release.Laydown, found.Best.Arrows, most, best.Laydown, studies.BoardAtArrows(best))
		if most > found.Best.Pocket.Share()+points {
			t.Errorf("%.3f of the grid, %.3f found", most, found.Best.Pocket.Share())
		}
	}
}
