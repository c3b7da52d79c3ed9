package physics_test

import (
	"testing"

	"lanesim/physics"
)

func TestHitsLieSideBySide(t *testing.T) {
	for _, c := range []struct {
		board float64
		want  physics.Hit
	}{
		{2, physics.Missed}, {13.4, physics.Missed}, {13.5, physics.LightHit}, {16.7, physics.LightHit},
		{16.75, physics.PocketHit}, {17.5, physics.PocketHit}, {18.25, physics.PocketHit},
		{18.3, physics.HighHit}, {19.25, physics.HighHit}, {19.3, physics.NoseHit}, {20, physics.NoseHit}, {20.75, physics.NoseHit},
		{20.8, physics.CrossoverHit}, {26.5, physics.CrossoverHit}, {26.6, physics.Missed}, {38, physics.Missed},
	} {
		if got := physics.HitAt(c.board, physics.DefaultPocket); got != c.want {
			t.Errorf("board %g is %s, not %s", c.board, got, c.want)
		}
	}
	if got := physics.HitAt(39, physics.Window{Min: 38.9, Max: 39.1}); got != physics.PocketHit {
		t.Errorf("a pocket of one's own is %s", got)
	}
}

// The ranges agree with the hits, for both pockets and any window.
func TestHitRangesAreThoseOfTheWords(t *testing.T) {
	for _, pocket := range []physics.Window{physics.DefaultPocket, {Min: 16, Max: 19}, {Min: 21.75, Max: 23.25}} {
		list := physics.HitRanges(pocket)
		for i, r := range list {
			if got := physics.HitAt((r.From+r.To)/2, pocket); got != r.Hit {
				t.Errorf("board %v is %s, listed as %s", (r.From+r.To)/2, got, r.Hit)
			}
			if i > 0 && list[i-1].To != r.From {
				t.Errorf("%s ends at %v, %s begins at %v", list[i-1].Hit, list[i-1].To, r.Hit, r.From)
			}
		}
		for _, beyond := range []float64{2*list[0].From - list[0].To, 2*list[4].To - list[4].From} {
			if got := physics.HitAt(beyond, pocket); got != physics.Missed {
				t.Errorf("board %v is %s", beyond, got)
			}
		}
	}
}

// An angle can be good only if the ball hits light, pocket or high, for both pockets.
func TestGoodAnglesAreThoseOfGoodHits(t *testing.T) {
	s, hook, backup := physics.Settings{}, physics.Release{RevRate: 30, AxisRotation: 1}, physics.Release{RevRate: 30, AxisRotation: -1}
	const mirror, angle = 40, 0.09 // 5.2°
	for board, want := range map[float64][2]bool{13: {}, 15: {false, true}, 17.5: {true, true}, 19: {false, true}, 20: {}, 26: {}} {
		pocket, good := s.Verdicts(hook, board, angle)
		other, mirrored := s.Verdicts(backup, mirror-board, -angle)
		if (pocket != want[0] || good != want[1]) || other != pocket || mirrored != good {
			t.Errorf("board %v: %v %v, mirrored %v %v", board, pocket, good, other, mirrored)
		}
		if _, flat := s.Verdicts(hook, board, 0.01); flat {
			t.Errorf("board %v at 0.6° is good", board)
		}
	}
}
