// Package jacobi computes the Jacobi elliptic functions and, with them, the free
// rotation of a body with three different moments of inertia.
package jacobi

import (
	"math"

	"lanesim/internal/portable"
)

// mostMeans bounds the arithmetic–geometric means. They converge
// quadratically: from any parameter below 1 in double precision, 1 − m ≥ 2⁻⁵³,
// the difference is below rounding after eight.
const mostMeans = 10

// rounding is the unit of double precision: means closer than this are equal.
const rounding = 0x1p-53

// SnCnDn returns the Jacobi elliptic functions sn(u|m), cn(u|m) and dn(u|m)
// of the argument u and the parameter m = k², 0 ≤ m ≤ 1. Outside these bounds
// all three are NaN.
//
// They follow from arithmetic–geometric means and a descent of the amplitude
// (Abramowitz & Stegun, Handbook of Mathematical Functions, 16.4, from memory),
//
//	sin(2φ_{n−1} − φ_n) = (c_n/a_n) sin φ_n,   φ_N = 2ᴺ a_N u,   sn u = sin φ₀
//
// and dn² = cn² + (1 − m) sn², which loses no digits near m = 1.
func SnCnDn(u, m float64) (sn, cn, dn float64) {
	if !(m >= 0 && m <= 1) || math.IsInf(u, 0) {
		return math.NaN(), math.NaN(), math.NaN()
	}
	if m == 1 {
		// A&S 16.6: the period is infinite.
		e := portable.Exp(-2 * math.Abs(u))
		sech := 2 * math.Sqrt(e) / (1 + e)
		return math.Copysign((1-e)/(1+e), u), sech, sech
	}
	var ratios [mostMeans]float64 // c_n/a_n
	a, b := 1.0, math.Sqrt(1-m)
	n := 0
	for n < mostMeans && a-b > a*rounding {
		mean := (a + b) / 2
		ratios[n] = (a - b) / 2 / mean
		a, b = mean, math.Sqrt(a*b)
		n++
	}
	φ := math.Ldexp(a*u, n)
	for n--; n >= 0; n-- {
		φ = (φ + math.Asin(ratios[n]*math.Sin(φ))) / 2
	}
	sn, cn = math.Sincos(φ)
	return sn, cn, portable.Hypot(cn, math.Sqrt(1-m)*sn)
}

// quarterPeriod is the complete elliptic integral K(m) = π/(2 AGM(1, √(1 − m)))
// (Abramowitz & Stegun 17.6.3, from memory).
func quarterPeriod(m float64) float64 {
	a, b := 1.0, math.Sqrt(1-m)
	for range mostMeans {
		a, b = (a+b)/2, math.Sqrt(a*b)
	}
	return math.Pi / 2 / a
}
