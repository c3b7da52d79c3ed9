package portable

import "math"

const (
	perUnit    = 128                // steps of c in a unit
	logFirst   = 90                 // the step with which logTable begins
	logLast    = 182                // and ends
	rootOfHalf = 0x3FE6A09E667F3BCD // √½

	// ln 2 in two parts; the first is a multiple of 2⁻⁴², as are those of the
	// table, so that its product with any exponent, and sums with the table's, are
	// exact.
	ln2High = 0x1.62e42fefa38p-1
	ln2Low  = 0x1.ef35793c7673p-45
)

// Log returns the natural logarithm of x; −Inf for 0, NaN below.
func Log(x float64) float64 {
	if !(x > 0 && x <= math.MaxFloat64) {
		return logExtreme(x)
	}
	h, low := logParts(x)
	return h + low
}

// Log1p returns the natural logarithm of 1 + x, exact for small x too; −Inf for
// −1, NaN below.
func Log1p(x float64) float64 {
	if x == 0 {
		return x // −0 too
	}
	u := 1 + x
	if !(u > 0 && u <= math.MaxFloat64) {
		return logExtreme(u)
	}
	// What rounding took off: 1 + x = u + rest.
	rest := x - (u - 1)
	if x > 1 {
		rest = 1 - (u - x)
	}
	h, low := logParts(u)
	return h + (low + rest/u)
}

func logExtreme(x float64) float64 {
	switch {
	case x == 0:
		return math.Inf(-1)
	case x < 0:
		return math.NaN()
	}
	return x // +Inf or NaN
}

// logParts returns the natural logarithm of a positive finite number in two
// parts, with a relative error of 2⁻⁶⁸ at most.
//
// With x = 2ᵏ z, z in [√½, √2), and c the multiple of 1/128 next to z it is
//
//	k ln 2 + ln c + ln(1 + r),   r = (z − c)/c
//
// with ln c from a table and a polynomial in r, |r| < 0.0056 (Tang,
// "Table-driven implementation of the logarithm function in IEEE floating-point
// arithmetic", ACM TOMS 16 (1990) 378).
func logParts(x float64) (h, low float64) {
	bits, shift := math.Float64bits(x), 0
	if bits < 1<<fraction { // subnormal
		bits, shift = math.Float64bits(x*(1<<fraction)), fraction
	}
	exponent := int64(bits-rootOfHalf) >> fraction
	z := math.Float64frombits(bits - uint64(exponent)<<fraction)
	k := float64(int(exponent) - shift)
	i := int(float64(z*perUnit) + 0.5)
	t := &logTable[i-logFirst]
	c := float64(i) * (1. / perUnit)

	// r = rh + rl, of which the first has 26 bits: its product with c and its
	// square are exact.
	d := z - c
	rh := high(d * t.inverse)
	rl := float64((d - float64(rh*c)) * t.inverse)
	r := rh + rl

	// k ln 2 + ln c + rh − rh²/2, and what the sums lose.
	head := float64(k*ln2High) + t.high
	s1 := head + rh
	low = head - s1 + rh
	q := -0.5 * float64(rh*rh)
	s2 := s1 + q
	low += s1 - s2 + q

	r2 := r * r
	p := 1./3 - float64(r*(1./4)) + float64(r2*(1./5-float64(r*(1./6)))) + float64(float64(r2*r2)*(1./7-float64(r*(1./8))+float64(r2*(1./9))))
	low += float64(float64(r2*r)*p) - float64(rl*(rh+0.5*rl)) + rl + (float64(k*ln2Low) + t.low)
	h = s2 + low
	return h, s2 - h + low
}
