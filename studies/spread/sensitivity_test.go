package spread

import (
	"math"
	"math/rand/v2"
	"testing"

	"lanesim/ball"
	"lanesim/internal/statistics"
	"lanesim/studies"
	"lanesim/studies/internal/usual"
	"lanesim/units"

	"gonum.org/v1/gonum/stat"
)

// sure is how many standard errors an estimate may be off.
const sure = 4.0

// The function of Ishigami and Homma (Proc. ISUMA 1990, 398), sin x₁ + a sin² x₂ +
// b x₃⁴ sin x₁ with xᵢ even between ±π, a = 7 and b = 0.1. Its indices follow from
//
//	V = a²/8 + b π⁴/5 + b² π⁸/18 + 1/2,  V₁ = (1 + b π⁴/5)²/2,  V₂ = a²/8,  V₁₃ = b² π⁸ (1/18 − 1/50)
//
// and are S = 0.3139, 0.4424, 0 and T = 0.5576, 0.4424, 0.2437.
func TestSobolIndicesOfIshigamisFunction(t *testing.T) {
	ishigami := func(x [3]float64) float64 {
		return math.Sin(x[0]) + 7*math.Pow(math.Sin(x[1]), 2) + 0.1*math.Pow(x[2], 4)*math.Sin(x[0])
	}
	r := rand.New(rand.NewPCG(5, 6))
	const rows = 40_000
	a, b := make([]float64, rows), make([]float64, rows)
	var ab [3][]float64
	for k := range a {
		var p, q [3]float64
		for i := range p {
			p[i], q[i] = math.Pi*(2*r.Float64()-1), math.Pi*(2*r.Float64()-1)
		}
		a[k], b[k] = ishigami(p)+1000, ishigami(q)+1000 // a constant changes nothing
		for i := range p {
			mixed := p
			mixed[i] = q[i]
			ab[i] = append(ab[i], ishigami(mixed)+1000)
		}
	}
	for i, want := range [][2]float64{{0.3139, 0.5576}, {0.4424, 0.4424}, {0, 0.2437}} {
		first, total := sobolIndices(rows, func(k int) (_, _, _ float64) { return a[k], b[k], ab[i][k] })
		t.Logf("x%d: S %.4f ± %.4f (%.4f), T %.4f ± %.4f (%.4f)", i+1, first.Value, first.Error, want[0], total.Value, total.Error, want[1])
		for j, e := range []Estimate{first, total} {
			if math.Abs(e.Value-want[j]) > sure*e.Error {
				t.Errorf("x%d: %.4f ± %.4f, not %.4f", i+1, e.Value, e.Error, want[j])
			}
			if !(e.Error > 0.001 && e.Error < 0.02) { // measured 0.003 to 0.010
				t.Errorf("x%d: standard error %.4f", i+1, e.Error)
			}
		}
	}
}

// Of y = z₁ + 2 z₂ + (z₃² − 1) the deviates explain 1/7, 4/7 and 2/7, and a fourth
// nothing. The estimates scatter about that by the error that they give.
func TestExplainedSharesOfAKnownSum(t *testing.T) {
	want := []float64{1.0 / 7, 4.0 / 7, 2.0 / 7, 0}
	r := rand.New(rand.NewPCG(7, 8))
	const repeats, n = 150, 1000
	values, errors := make([][]float64, len(want)), make([][]float64, len(want))
	for range repeats {
		z := make([][]float64, len(want))
		var y []float64
		for range n {
			for i := range z {
				z[i] = append(z[i], r.NormFloat64())
			}
			k := len(y)
			y = append(y, 17.5+z[0][k]+2*z[1][k]+z[2][k]*z[2][k]-1)
		}
		for i := range z {
			e := explained(z[i], y)
			values[i], errors[i] = append(values[i], e.Value), append(errors[i], e.Error)
		}
	}
	for i := range want {
		mean, sd := stat.MeanStdDev(values[i], nil)
		stated := stat.Mean(errors[i], nil)
		t.Logf("%.3f: mean %.4f, standard deviation %.4f, stated %.4f", want[i], mean, sd, stated)
		// Bins cannot say what varies within them: measured up to 1 % less.
		const inBins = 0.02
		if math.Abs(mean-want[i]) > inBins*want[i]+sure*sd/math.Sqrt(repeats) {
			t.Errorf("%.3f: mean %.4f", want[i], mean)
		}
		if !(stated > 0.7*sd && stated < 2*sd) { // measured 0.95 to 1.7, where nothing is explained
			t.Errorf("%.3f: standard deviation %.4f, stated %.4f", want[i], sd, stated)
		}
	}
}

// explained is the share of the variance of y that z explains.
func explained(z, y []float64) Estimate {
	e := newExplainer(len(y), func(take func(float64)) {
		for _, v := range y {
			take(v)
		}
	})
	for k, v := range y {
		e.add(z[k], v)
	}
	return e.share()
}

func TestNothingIsExplainedOfNothing(t *testing.T) {
	for _, n := range []int{0, 1, 99, 500} {
		z, y := make([]float64, n), make([]float64, n)
		for i := range z {
			z[i], y[i] = statistics.Normal((float64(i)+0.5)/float64(n)), 3
		}
		if e := explained(z, y); !math.IsNaN(e.Value) || !math.IsNaN(e.Error) {
			t.Errorf("of %d equal values: %+v", n, e)
		}
	}
}

// With a single deviation all is its work, and without it the bowler is a machine.
func TestASingleDeviationExplainsAll(t *testing.T) {
	setup := usual.Setup(t, ball.Right, 3.4, studies.Repeatability{Angle: 0.3 * units.Degree})
	r := usual.Run(t, Study{Setups: []studies.Setup{setup}, Shots: 2000, Misses: 500, Sobol: 200})
	s := r.Setups[0]
	for _, m := range s.Misses {
		if m.Of != studies.VariedAngle {
			if m.Board != (Estimate{}) || m.Pocket != (Estimate{}) || m.Minus != 0 || m.Plus != 0 || m.Without.Of() != 0 || *m.Indices != (MissIndices{}) {
				t.Errorf("%v: %+v", m.Of, m)
			}
			continue
		}
		t.Logf("board %.4f ± %.4f, pocket %.4f ± %.4f, %+.2f and %+.2f boards", m.Board.Value, m.Board.Error, m.Pocket.Value, m.Pocket.Error, m.Minus, m.Plus)
		// Measured 0.998 and 0.81: bins cannot say what varies within them, and the
		// pocket's edges lie within bins.
		if m.Board.Value < 0.99 || m.Pocket.Value < 0.7 || m.Board.Value > 1 || m.Pocket.Value > 1 {
			t.Errorf("the angle explains %.4f of the boards and %.4f of the pocket", m.Board.Value, m.Pocket.Value)
		}
		// Outward, which is +, leads to a lower board.
		if !(m.Minus > 0.5) || !(m.Plus < -0.5) {
			t.Errorf("%+.2f and %+.2f boards", m.Minus, m.Plus)
		}
		if w := m.Without; w.Of() != 500 || w.Both+w.OnlyB != 500 || w.OnlyB == 0 {
			t.Errorf("without it: %+v", w)
		}
		// One input alone: first and total index are 1.
		for _, e := range []Estimate{m.Indices.BoardFirst, m.Indices.BoardTotal} {
			if off := math.Abs(e.Value - 1); off > sure*e.Error || !(e.Error < 0.2) {
				t.Errorf("index %.3f ± %.3f", e.Value, e.Error)
			}
		}
	}
}

// The two ways to the share that a deviate explains agree.
func TestSampleAndSobolAgree(t *testing.T) {
	setup := usual.Setup(t, ball.Right, 3.4, usual.League())
	setup.Ball.Memory.Off = true
	r := usual.Run(t, Study{Setups: []studies.Setup{setup}, Shots: 3000, Misses: -1, Sobol: 1500})
	sum := 0.0
	for _, m := range r.Setups[0].Misses {
		x := m.Indices
		t.Logf("%-13v board %.3f ± %.3f, first %.3f ± %.3f, total %.3f ± %.3f; pocket %.3f ± %.3f, first %.3f ± %.3f, total %.3f ± %.3f", m.Of,
			m.Board.Value, m.Board.Error, x.BoardFirst.Value, x.BoardFirst.Error, x.BoardTotal.Value, x.BoardTotal.Error,
			m.Pocket.Value, m.Pocket.Error, x.PocketFirst.Value, x.PocketFirst.Error, x.PocketTotal.Value, x.PocketTotal.Error)
		sum += m.Board.Value
		for _, pair := range [][2]Estimate{{m.Board, x.BoardFirst}, {m.Pocket, x.PocketFirst}} {
			const inBins = 0.02 // what bins cannot resolve
			if off := math.Abs(pair[0].Value - pair[1].Value); off > sure*math.Hypot(pair[0].Error, pair[1].Error)+inBins {
				t.Errorf("%v: %.3f ± %.3f from the sample, %.3f ± %.3f as index", m.Of, pair[0].Value, pair[0].Error, pair[1].Value, pair[1].Error)
			}
		}
		if x.BoardTotal.Value < x.BoardFirst.Value-sure*math.Hypot(x.BoardFirst.Error, x.BoardTotal.Error) {
			t.Errorf("%v: total below first", m.Of)
		}
	}
	if sum > 1.1 {
		t.Errorf("the deviates explain %.3f in all", sum)
	}
}
