package fit

import (
	"math"
	"testing"
)

// TestPsiSquare computes the mean of ψ² from its formula and by a sum over the normal
// density.
func TestPsiSquare(t *testing.T) {
	c := huberTuning
	tail := math.Erfc(c/math.Sqrt2) / 2
	density := math.Exp(-c*c/2) / math.Sqrt(2*math.Pi)
	if want := 1 - 2*tail - 2*c*density + 2*c*c*tail; math.Abs(psiSquare-want) > 1e-15 {
		t.Errorf("%.17g, not %.17g", psiSquare, want)
	}
	const step = 1e-3
	sum := 0.0
	for z := -9.0; z < 9; z += step {
		ψ := z * huberWeight(z)
		sum += step * ψ * ψ * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	}
	if math.Abs(sum-psiSquare) > 1e-6 {
		t.Errorf("a sum gives %.8f, not %.8f", sum, psiSquare)
	}
}
