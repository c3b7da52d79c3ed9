// Package portable computes exp, log, powers and hypotenuses with the same bits
// on every machine.
//
// Those of package math are assembly on some architectures and Go on others, and
// on amd64 math.Exp even depends on the processor: it uses fused multiply-add
// where there is one. Their last digits differ, and a shot that is computed in the
// browser would differ from the same shot computed by the program. The functions
// here use nothing but the operations that IEEE 754 defines to the bit. Products
// that are added to are converted to float64, which by the Go specification
// forbids the compiler to fuse the two operations.
//
// All results are within one unit in the last place of the exact ones; the tests
// bound them by 0.52 for Exp and Log, 0.53 for Pow, 0.56 for Log1p and 0.86 for
// Hypot. Subnormal results are rounded twice.
package portable

import "math"

const (
	lowBits  = 1<<27 - 1 // the part of a significand that high cuts off
	fraction = 52        // bits of a significand that are stored
)

// high returns the upper 26 bits of a number's significand. The product of two
// such numbers is exact, and so is x − high(x), which has 27 bits.
func high(x float64) float64 { return math.Float64frombits(math.Float64bits(x) &^ lowBits) }

// square returns x² and its rounding error (Dekker, "A floating-point technique
// for extending the available precision", Numer. Math. 18 (1971) 224).
func square(x float64) (s, low float64) {
	h := high(x)
	l := x - h
	s = float64(x * x)
	return s, float64(h*h) - s + float64(2*h*l) + float64(l*l)
}

// product returns xy and its rounding error.
func product(x, y float64) (p, low float64) {
	hx, hy := high(x), high(y)
	lx, ly := x-hx, y-hy
	p = float64(x * y)
	return p, float64(hx*hy) - p + float64(hx*ly) + float64(lx*hy) + float64(lx*ly)
}

// Hypot returns √(x² + y²) without overflow or underflow on the way.
//
// It is +Inf if either is infinite, even if the other is NaN.
func Hypot(x, y float64) float64 {
	const (
		large, small = 0x1p500, 0x1p-400 // squares and their errors are exact between
		up, down     = 0x1p600, 0x1p-600
	)
	a, b := math.Abs(x), math.Abs(y)
	if a < b {
		a, b = b, a
	}
	switch {
	case a <= large && a >= small:
		return hypot(a, b)
	case a > math.MaxFloat64 || b > math.MaxFloat64:
		return math.Inf(1)
	case a > large:
		return hypot(a*down, b*down) * up
	case a > 0:
		return hypot(a*up, b*up) * down
	}
	return a + b // zero or NaN
}

func hypot(a, b float64) float64 {
	s, errorA := square(a)
	t, errorB := square(b)
	sum := s + t
	return math.Sqrt(sum + (s - sum + t + errorA + errorB))
}
