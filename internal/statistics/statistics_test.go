package statistics_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"lanesim/internal/statistics"
)

func near(t *testing.T, name string, got, want, bound float64) {
	t.Helper()
	if !(math.Abs(got-want) <= bound*math.Abs(want)) {
		t.Errorf("%s is %.17g, not %.17g", name, got, want)
	}
}

// TestNormal compares with tabulated values (from memory), with the error function, and with
// Go's.
func TestNormal(t *testing.T) {
	near(t, "97.5 %", statistics.Normal(0.975), 1.959963984540054, 1e-15)
	near(t, "90 %", statistics.Normal(0.9), 1.2815515655446004, 1e-15)
	near(t, "a billionth", statistics.Normal(1e-9), -5.997807015007686, 1e-15)
	if z := statistics.Normal(0.5); z != 0 {
		t.Errorf("the median is %v", z)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		p := math.Pow(10, -300*r.Float64()*r.Float64()*r.Float64())
		if r.IntN(2) == 0 {
			p = r.Float64()
		}
		if p <= 0 || p >= 1 {
			continue
		}
		z := statistics.Normal(p)
		if p > 1e-10 && 1-p > 1e-6 {
			near(t, "Go's", z, math.Sqrt2*math.Erfinv(2*p-1), 1e-6)
		}
		if z < -0.01 {
			near(t, "the share below", math.Erfc(-z/math.Sqrt2)/2, p, 1e-14*max(1, z*z))
		}
		if q := 1 - p; 1-q == p { // exact both ways
			near(t, "the other side", statistics.Normal(q), -z, 1e-14)
		}
	}
}

// TestStudent compares with tabulated values (from memory) and with gonum's.
func TestStudent(t *testing.T) {
	near(t, "ν = 1", statistics.Student(0.975, 1), 12.706204736174698, 1e-13)
	near(t, "ν = 2", statistics.Student(0.975, 2), 4.302652729749464, 1e-13)
	near(t, "ν = 10", statistics.Student(0.95, 10), 1.8124611228116754, 1e-13)
	for _, degrees := range []int{1, 2, 3, 4, 5, 9, 30, 121, 1000, 5001} {
		for _, p := range []float64{0.001, 0.2, 0.49, 0.6, 0.9, 0.975, 0.9999} {
			want := distuv.StudentsT{Sigma: 1, Nu: float64(degrees)}.Quantile(p)
			near(t, "gonum's", statistics.Student(p, degrees), want, 1e-10) // gonum errs by that next to the median
		}
	}
	if z := statistics.Student(0.5, 7); math.Abs(z) > 1e-15 {
		t.Errorf("the median is %v", z)
	}
}

func TestQuantile(t *testing.T) {
	values := []float64{1, 2, 4, 8}
	for _, c := range [][2]float64{{0, 1}, {1, 8}, {0.5, 3}, {1. / 3, 2}, {0.9, 6.8}} {
		near(t, "quantile", statistics.Quantile(values, c[0]), c[1], 1e-15)
	}
	near(t, "of one value", statistics.Quantile(values[:1], 0.3), 1, 0)
	if !math.IsNaN(statistics.Quantile(nil, 0.5)) {
		t.Error("without values there is one")
	}
}
