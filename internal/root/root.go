// Package root finds where a function of one variable is zero.
package root

import "math"

// neighbours is the relative distance below which numbers count as neighbouring.
const neighbours = 0x1p-48

// Find narrows a bracket a < b of a zero of f, with the values fa and fb of
// opposite signs at its ends, to a width, or to neighbouring numbers where that is
// wider, and returns the right end, where the sign has changed. It takes steps of
// inverse quadratic interpolation where that is safe and bisects elsewhere
// (Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of a
// nonlinear function without using derivatives", Adv. Eng. Softw. 28 (1997) 145).
func Find(f func(float64) float64, a, b, fa, fb, width float64) float64 {
	rising := fb > 0
	x1, f1, x2, f2 := b, fb, a, fa // the newest point, and one across the zero
	share := 0.5
	for {
		narrow := max(width, neighbours*max(math.Abs(a), math.Abs(b)))
		if !(b-a > narrow) {
			return b
		}
		// Stay off the ends, so that both keep moving.
		least := narrow / 4 / (b - a)
		share = min(max(share, least), 1-least)
		x := x1 + share*(x2-x1)
		if !(x > a && x < b) {
			x = a + (b-a)/2
		}
		g := f(x)
		if g == 0 {
			return x
		}
		x3, f3 := x2, f2
		if (g > 0) == (f1 > 0) {
			x3, f3 = x1, f1
		} else {
			x2, f2, x3, f3 = x1, f1, x2, f2
		}
		x1, f1 = x, g
		if (g > 0) == rising {
			b = x
		} else {
			a = x
		}
		xi, phi := (x1-x2)/(x3-x2), (f1-f2)/(f3-f2)
		share = 0.5
		if 1-math.Sqrt(1-xi) < phi && phi < math.Sqrt(xi) {
			share = f1/(f2-f1)*f3/(f2-f3) + (x3-x1)/(x2-x1)*f1/(f3-f1)*f2/(f3-f2)
		}
	}
}
