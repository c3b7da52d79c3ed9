package ball

import (
	"math"
	"testing"
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
		if ra, ok := RoughnessOfGrit(e.grit); !ok || ra != e.ra*Microinch {
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
