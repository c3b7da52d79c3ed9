package jacobi_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"pgregory.net/rapid"

	"lanesim/validation/jacobi"
)

// rounding is a bound on the errors of the functions: a few units of double
// precision, times the eight halvings of the amplitude that make them up.
const rounding = 1e-14

func near(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got, want, bound float64) {
	t.Helper()
	if !(math.Abs(got-want) <= bound) {
		t.Errorf("%s = %.17g, want %.17g, off by %.2g", what, got, want, got-want)
	}
}

// TestTabulated holds the functions to Abramowitz & Stegun, chapter 16: the
// worked example dn(0.20|0.81) = 0.98406 of section 16.18 and the values at
// half and whole quarter periods of section 16.5, all from memory.
func TestTabulated(t *testing.T) {
	_, _, dn := jacobi.SnCnDn(0.20, 0.81)
	near(t, "dn(0.20|0.81)", dn, 0.98406, 0.5e-5)

	for _, m := range []float64{0, 0.1, 0.19, 0.5, 0.81, 0.99, 1 - 1e-9} {
		k := mathext.CompleteK(m)
		k1 := math.Sqrt(1 - m) // k′
		// The functions' slope is at most 1, so that K's own error, a few
		// units of its last place, stays what it is.
		bound := rounding * (1 + k)
		sn, cn, dn := jacobi.SnCnDn(k/2, m)
		near(t, "sn(K/2)", sn, 1/math.Sqrt(1+k1), bound)
		near(t, "cn(K/2)", cn, math.Sqrt(k1/(1+k1)), bound)
		near(t, "dn(K/2)", dn, math.Sqrt(k1), bound)
		sn, cn, dn = jacobi.SnCnDn(k, m)
		near(t, "sn(K)", sn, 1, bound)
		near(t, "cn(K)", cn, 0, bound)
		near(t, "dn(K)", dn, k1, bound)
		sn, cn, dn = jacobi.SnCnDn(2*k, m)
		near(t, "sn(2K)", sn, 0, 2*bound)
		near(t, "cn(2K)", cn, -1, 2*bound)
		near(t, "dn(2K)", dn, 1, 2*bound)
	}
}

// TestEnds: circular functions at m = 0, hyperbolic ones at m = 1, NaN beyond.
func TestEnds(t *testing.T) {
	for _, u := range []float64{-2.5, 0, 0.3, 1, 4} {
		sn, cn, dn := jacobi.SnCnDn(u, 0)
		near(t, "sn(u|0)", sn, math.Sin(u), rounding)
		near(t, "cn(u|0)", cn, math.Cos(u), rounding)
		near(t, "dn(u|0)", dn, 1, rounding)
		sn, cn, dn = jacobi.SnCnDn(u, 1)
		near(t, "sn(u|1)", sn, math.Tanh(u), rounding)
		near(t, "cn(u|1)", cn, 1/math.Cosh(u), rounding)
		near(t, "dn(u|1)", dn, 1/math.Cosh(u), rounding)
	}
	for _, m := range []float64{-0.1, 1.1, math.NaN()} {
		if sn, cn, dn := jacobi.SnCnDn(1, m); !math.IsNaN(sn + cn + dn) {
			t.Errorf("m = %g gives %g, %g, %g", m, sn, cn, dn)
		}
	}
}

// TestInverse: sn inverts the elliptic integral of the first kind, which
// gonum takes from Carlson's forms.
func TestInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		φ := rapid.Float64Range(-1.5, 1.5).Draw(t, "amplitude")
		m := rapid.Float64Range(0, 0.999).Draw(t, "parameter")
		u := mathext.EllipticF(φ, m)
		sn, cn, dn := jacobi.SnCnDn(u, m)
		// u is at most 5 here, and known to a few units of its last place.
		near(t, "sn", sn, math.Sin(φ), 5*rounding)
		near(t, "cn", cn, math.Cos(φ), 5*rounding)
		near(t, "dn", dn, math.Sqrt(1-m*math.Sin(φ)*math.Sin(φ)), 5*rounding)
	})
}

// TestRates: sn′ = cn dn, cn′ = −sn dn, dn′ = −m sn cn, by central
// differences.
func TestRates(t *testing.T) {
	// A step of 10⁻⁵ leaves 10⁻¹⁰ of curvature and 10⁻¹¹ of rounding.
	const step, bound = 1e-5, 1e-9
	for _, m := range []float64{0.2, 0.7, 0.95} {
		for u := -3.0; u < 6; u += 0.37 {
			sn, cn, dn := jacobi.SnCnDn(u, m)
			s0, c0, d0 := jacobi.SnCnDn(u-step, m)
			s1, c1, d1 := jacobi.SnCnDn(u+step, m)
			near(t, "sn′", (s1-s0)/(2*step), cn*dn, bound)
			near(t, "cn′", (c1-c0)/(2*step), -sn*dn, bound)
			near(t, "dn′", (d1-d0)/(2*step), -m*sn*cn, bound)
		}
	}
}
