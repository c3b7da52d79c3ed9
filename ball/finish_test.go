package ball

import (
	"math"
	"testing"

	"lanesim/units"
)

func TestFinerGritIsSmoother(t *testing.T) {
	last := math.Inf(1)
	for grit := 180.0; grit <= 5000; grit += 10 {
		ra, ok := RoughnessOfGrit(grit)
		if !ok || !(ra < last) {
			t.Fatalf("%g grit: Ra %g m, %v, after %g m", grit, ra, ok, last)
		}
		last = ra
	}
}

func TestGritOfTheTable(t *testing.T) {
	for _, e := range gritRoughness {
		if ra, ok := RoughnessOfGrit(e.grit); !ok || ra != e.ra*units.Microinch {
			t.Errorf("%g grit: Ra %g m, %v, want %g uin", e.grit, ra, ok, e.ra)
		}
	}
}

func TestGritOutsideTheTable(t *testing.T) {
	for _, grit := range []float64{-1, 0, 179.9, 5000.1, math.Inf(1), math.NaN()} {
		if ra, ok := RoughnessOfGrit(grit); ok {
			t.Errorf("%g grit has an Ra of %g m", grit, ra)
		}
	}
}

// A cover approaches the final value from either side, and has 1/e of the difference left
// after the given number of games.
func TestFinishWear(t *testing.T) {
	w := DefaultFinishWear()
	for _, fresh := range []float64{5 * units.Microinch, 60 * units.Microinch} {
		if got := w.Worn(fresh, 0); got != fresh {
			t.Errorf("fresh: %g m, want %g m", got, fresh)
		}
		last := fresh
		for games := 1.0; games < 200; games++ {
			ra := w.Worn(fresh, games)
			if !(math.Abs(ra-w.Toward) < math.Abs(last-w.Toward)) || (ra > w.Toward) != (fresh > w.Toward) {
				t.Fatalf("after %g games: %g m after %g m", games, ra, last)
			}
			last = ra
		}
		if left := (w.Worn(fresh, w.Games) - w.Toward) / (fresh - w.Toward); math.Abs(left*math.E-1) > 1e-12 {
			t.Errorf("%g of the difference is left", left)
		}
	}
	s := Default()
	s.Roughness, s.GamesSinceFinish = 40*units.Microinch, 20
	b, err := s.Prepare(DefaultPAP(), Right)
	if err != nil || b.Roughness != w.Worn(s.Roughness, 20) {
		t.Errorf("the ball's Ra is %g m, %v", b.Roughness, err)
	}
}
