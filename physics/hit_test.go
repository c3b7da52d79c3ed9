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
