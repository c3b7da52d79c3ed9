package portable_test

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"lanesim/internal/portable"
)

// worst keeps the largest error in units in the last place.
type worst struct{ units, x, y float64 }

func (w *worst) see(units, x, y float64) {
	if units > w.units {
		*w = worst{units, x, y}
	}
}

func (w *worst) check(t *testing.T, bound float64) {
	t.Helper()
	t.Logf("largest error: %.4f units at %v, %v", w.units, w.x, w.y)
	if w.units > bound {
		t.Errorf("%.4f units in the last place at %v (%x), %v, more than %v", w.units, w.x, w.x, w.y, bound)
	}
}

// spread is a positive number of any size: its logarithm is uniform.
func spread(r *rand.Rand, least, most float64) float64 {
	return math.Exp2(math.Log2(least) + r.Float64()*(math.Log2(most)-math.Log2(least)))
}

// near returns a number and its neighbours.
func near(x float64) []float64 {
	return []float64{math.Nextafter(x, math.Inf(-1)), x, math.Nextafter(x, math.Inf(1))}
}

func draws(n int) (*rand.Rand, int) {
	if testing.Short() {
		n /= 10
	}
	return rand.New(rand.NewPCG(1, 2)), n
}

func TestExp(t *testing.T) {
	r, n := draws(6000)
	var w, subnormal worst
	see := func(x float64) {
		units := unitsOff(portable.Exp(x), exactExp(number(x)))
		if x < -708.4 {
			subnormal.see(units, x, 0)
		} else {
			w.see(units, x, 0)
		}
	}
	for range n {
		see(r.Float64()*1453 - 744)
		see(r.Float64()*2 - 1)
		see(-spread(r, 1e-20, 700))
		see(math.Ln2 / 256 * math.Round(r.Float64()*4e4-2e4)) // halfway between two parts
	}
	for _, x := range []float64{0, -708, 708, 709.782712893384, -708.3964185322641, -745.1332191019411} {
		for _, x := range near(x) {
			if math.Abs(x) < 709.79 && x >= -745.1332191019412 && !math.IsInf(math.Exp(x), 0) {
				see(x)
			}
		}
	}
	w.check(t, 0.52)
	subnormal.check(t, 1)
}

func TestLog(t *testing.T) {
	r, n := draws(2500)
	var w worst
	see := func(x float64) { w.see(unitsOff(portable.Log(x), exactLog(number(x))), x, 0) }
	for range n {
		see(spread(r, 5e-324, math.MaxFloat64))
		see(0.5 + 1.5*r.Float64())
		see(1 + (r.Float64()-0.5)/64)
		see(1 + spread(r, 1e-16, 1))
		see((math.Round(r.Float64()*256) + 128.5) / 256) // halfway between two of the table
	}
	for _, x := range []float64{5e-324, 0x1p-1022, math.Sqrt2 / 2, 1, math.Sqrt2, math.MaxFloat64} {
		for _, x := range near(x) {
			if x > 0 && !math.IsInf(x, 0) && x != 1 {
				see(x)
			}
		}
	}
	w.check(t, 0.52)
}

func TestLog1p(t *testing.T) {
	r, n := draws(2500)
	var w worst
	see := func(x float64) {
		exact := exactLog(newNumber().Add(number(1), number(x)))
		w.see(unitsOff(portable.Log1p(x), exact), x, 0)
	}
	for range n {
		see(spread(r, 1e-15, 1e30))
		see(-spread(r, 1e-15, 0.999999))
		see(r.Float64()/4 - 0.125)
	}
	w.check(t, 0.56)
	for _, x := range []float64{0, 1e-300, -1e-300, 5e-324, 1e-20} {
		if got := portable.Log1p(x); got != x {
			t.Errorf("Log1p(%v) = %v", x, got)
		}
	}
}

func TestPow(t *testing.T) {
	r, n := draws(2500)
	var w, subnormal worst
	see := func(x, y float64) {
		p := newNumber().Mul(number(y), exactLog(number(math.Abs(x))))
		if f, _ := p.Float64(); math.Abs(f) > 709.7 && f > -744.4 {
			subnormal.see(unitsOff(math.Abs(portable.Pow(x, y)), exactExp(p)), x, y)
		} else if math.Abs(f) < 708 {
			w.see(unitsOff(math.Abs(portable.Pow(x, y)), exactExp(p)), x, y)
		}
	}
	for range n {
		x := spread(r, 5e-324, math.MaxFloat64)
		see(x, (r.Float64()*1400-700)/math.Log(x))
		see(spread(r, 0.001, 1000), r.Float64()*40-20)
		see(1+(r.Float64()-0.5)/1000, spread(r, 1, 1e6))
		see(r.Float64(), []float64{0.5, 1. / 3, 2. / 3, 2, 3, -1}[r.IntN(6)])
		see(-spread(r, 0.1, 10), math.Round(r.Float64()*200-100))
		see(spread(r, 1e-4, 0.1), 80*r.Float64()+80)
	}
	w.check(t, 0.53)
	subnormal.check(t, 1)
	for x := 1.0; x < 200; x++ {
		for y, want := 0, 1.0; want < 1<<53; y++ {
			if got := portable.Pow(x, float64(y)); got != want {
				t.Fatalf("%v to the %d is %v, not %v", x, y, got, want)
			}
			if want *= x; x == 1 && y > 60 {
				break
			}
		}
		if got := portable.Pow(x*x, 0.5); got != x {
			t.Errorf("the root of %v is %v", x*x, got)
		}
	}
}

func TestHypot(t *testing.T) {
	r, n := draws(20000)
	var w, subnormal worst
	see := func(x, y float64) {
		exact := newNumber().Mul(number(x), number(x))
		exact.Sqrt(exact.Add(exact, newNumber().Mul(number(y), number(y))))
		switch f, _ := exact.Float64(); {
		case f < 0x1p-1022:
			subnormal.see(unitsOff(portable.Hypot(x, y), exact), x, y)
		case !math.IsInf(f, 0):
			w.see(unitsOff(portable.Hypot(x, y), exact), x, y)
		}
	}
	for range n {
		x := spread(r, 5e-324, math.MaxFloat64)
		see(x, -x*math.Exp2(-30*r.Float64()))
		see(1+3*r.Float64(), 4*r.Float64())
		see(spread(r, 5e-324, 1e-300), spread(r, 5e-324, 1e-300))
		see(spread(r, 1e140, math.MaxFloat64), spread(r, 1e140, math.MaxFloat64))
	}
	w.check(t, 0.86)
	subnormal.check(t, 1)
	for _, triple := range [][3]float64{{3, 4, 5}, {5, -12, 13}, {20, 21, 29}, {0, 7, 7}, {1e308, 0, 1e308}, {5e-324, 0, 5e-324}} {
		if got := portable.Hypot(triple[0], triple[1]); got != triple[2] {
			t.Errorf("Hypot(%v, %v) = %v", triple[0], triple[1], got)
		}
	}
}

// TestSpecialCases: special cases are those of package math.
func TestSpecialCases(t *testing.T) {
	same := func(a, b float64) bool {
		return a == b && math.Signbit(a) == math.Signbit(b) || math.IsNaN(a) && math.IsNaN(b)
	}
	list := []float64{0, math.Copysign(0, -1), 1, -1, math.Inf(1), math.Inf(-1), math.NaN(), 2, -2, 3, -3,
		0.5, -0.5, 1.5, -1.5, 5e-324, -5e-324, math.MaxFloat64, -math.MaxFloat64, 0x1p53, 0x1p53 + 2, -0x1p53,
		1e300, -1e300, math.Nextafter(1, 0), math.Nextafter(1, 2), 1023, 1024, -1074, -1075, -1076, 710, -746}
	edge := func(want float64) bool { return want == 0 || want == 1 || math.IsNaN(want) || math.IsInf(want, 0) }
	check := func(name string, got, want float64, of ...float64) {
		t.Helper()
		if edge(want) && !same(got, want) || !edge(want) && !(math.Abs(got-want) <= 1e-15*math.Abs(want)) {
			t.Errorf("%s(%v) = %v, not %v", name, of, got, want)
		}
	}
	for _, x := range list {
		check("Exp", portable.Exp(x), math.Exp(x), x)
		check("Log1p", portable.Log1p(x), math.Log1p(x), x)
		if math.Abs(x) >= 0x1p-1022 || x <= 0 { // math.Log errs for subnormal numbers
			check("Log", portable.Log(x), math.Log(x), x)
		}
		for _, y := range list {
			check("Hypot", portable.Hypot(x, y), math.Hypot(x, y), x, y)
			want := math.Pow(x, y)
			if math.Abs(x) != 1 && y != 0 && want != 0 && !math.IsNaN(want) && !math.IsInf(want, 0) { // math.Pow errs by its logarithm's rounding, times y
				want, _ = exactExp(newNumber().Mul(number(y), exactLog(number(math.Abs(x))))).Float64()
				want = math.Copysign(want, math.Pow(x, y))
			}
			check("Pow", portable.Pow(x, y), want, x, y)
		}
	}
}

// TestSameBits: the results are the same to the bit on every machine, also where the
// compiler may fuse products and sums.
func TestSameBits(t *testing.T) {
	const want = "962a9574de451440"
	r := rand.New(rand.NewPCG(5, 6))
	h := fnv.New64a()
	for range 20000 {
		// Bits at random, with an exponent that is not too far off.
		number := func(bits uint64) float64 {
			return math.Float64frombits(r.Uint64()&(1<<63|1<<52-1) | (1023-1<<(bits-1)+r.Uint64()%(1<<bits))<<52)
		}
		x, y, z := number(10), number(4), number(9)
		for _, v := range [...]float64{portable.Exp(z), portable.Exp(y), portable.Log(math.Abs(x)), portable.Log1p(math.Abs(y)),
			portable.Pow(math.Abs(y), z), portable.Hypot(x, z), portable.Hypot(y, y*y)} {
			binary.Write(h, binary.LittleEndian, v)
		}
	}
	if got := fmt.Sprintf("%016x", h.Sum64()); got != want {
		t.Errorf("the results have the hash %s, not %s", got, want)
	}
}

// TestExactValues compares the exact values with known ones: e, ln 10 and 2^½, from memory.
func TestExactValues(t *testing.T) {
	for _, c := range []struct {
		got  *big.Float
		want string
	}{
		{exactExp(number(1)), "2.718281828459045235360287471352662497757"},
		{exactLog(number(10)), "2.302585092994045684017991454684364207601"},
		{exactExp(newNumber().Quo(exactLn2, number(2))), "1.414213562373095048801688724209698078570"},
	} {
		if got := c.got.Text('f', 39); got != c.want {
			t.Errorf("%s, not %s", got, c.want)
		}
	}
}

var (
	sink      float64
	arguments = func() (list [1024]float64) {
		r := rand.New(rand.NewPCG(3, 4))
		for i := range list {
			list[i] = r.Float64()
		}
		return list
	}()
)

func bench(b *testing.B, f func(x float64) float64) {
	for i := 0; b.Loop(); i++ {
		sink += f(arguments[i%len(arguments)])
	}
}

func BenchmarkExp(b *testing.B)       { bench(b, func(x float64) float64 { return portable.Exp(-20 * x) }) }
func BenchmarkExpMath(b *testing.B)   { bench(b, func(x float64) float64 { return math.Exp(-20 * x) }) }
func BenchmarkLog(b *testing.B)       { bench(b, portable.Log) }
func BenchmarkLogMath(b *testing.B)   { bench(b, math.Log) }
func BenchmarkLog1p(b *testing.B)     { bench(b, portable.Log1p) }
func BenchmarkLog1pMath(b *testing.B) { bench(b, math.Log1p) }
func BenchmarkPow(b *testing.B)       { bench(b, func(x float64) float64 { return portable.Pow(x, 0.7) }) }
func BenchmarkPowMath(b *testing.B)   { bench(b, func(x float64) float64 { return math.Pow(x, 0.7) }) }
func BenchmarkHypot(b *testing.B) {
	bench(b, func(x float64) float64 { return portable.Hypot(x, 0.3) })
}
func BenchmarkHypotMath(b *testing.B) {
	bench(b, func(x float64) float64 { return math.Hypot(x, 0.3) })
}
