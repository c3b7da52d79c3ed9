package root_test

import (
	"math"
	"testing"

	"lanesim/internal/root"
)

// TestFind: zeros of smooth, steep, flat and discontinuous functions, to the last digit or
// to a width, with few evaluations.
func TestFind(t *testing.T) {
	for _, c := range []struct {
		name    string
		f       func(float64) float64
		a, b, x float64
		most    int
	}{
		{"straight", func(x float64) float64 { return x - 0.3 }, -1, 1, 0.3, 6},
		{"falling", func(x float64) float64 { return 0.3 - x }, -1, 1, 0.3, 6},
		{"cosine", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607, 12},
		{"far off", func(x float64) float64 { return x*x - 2e12 }, 0, 1e9, math.Sqrt2 * 1e6, 40},
		{"triple", func(x float64) float64 { return (x - 0.7) * (x - 0.7) * (x - 0.7) }, 0, 1, 0.7, 120},
		{"jump", func(x float64) float64 { return math.Copysign(1, x-0.123) }, 0, 1, 0.123, 60},
	} {
		for _, width := range []float64{0, 1e-4} {
			looks := 0
			f := func(x float64) float64 { looks++; return c.f(x) }
			x := root.Find(f, c.a, c.b, c.f(c.a), c.f(c.b), width)
			if off := math.Abs(x - c.x); off > max(width, 0x1p-48*math.Abs(c.x)) {
				t.Errorf("%s, width %g: %v, not %v", c.name, width, x, c.x)
			}
			if looks > c.most {
				t.Errorf("%s, width %g: %d looks, more than %d", c.name, width, looks, c.most)
			}
			if c.f(x)*c.f(c.b) < 0 {
				t.Errorf("%s: %v is left of the zero", c.name, x)
			}
		}
	}
}
