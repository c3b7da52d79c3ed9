package portable

import "math"

const (
	expParts  = 128 // of a factor of two, in expTable
	partBits  = 7
	partsPerE = expParts * math.Log2E // in a factor of e

	// expStep is ln 2/128, in two parts; the first has 35 bits, so that its
	// product with any number of steps that gives a finite result is exact.
	expStepHigh = 0x1.62e42fef8p-8
	expStepLow  = 0x1.1cf79abc9e3b4p-43

	// Adding roundShift to a small number rounds it to an integer and leaves that in the
	// lowest bits.
	roundShift = 0x1.8p52

	// Within expNormal either way the result and what is added up to it are normal numbers.
	expNormal    = 700.0
	expOverflow  = 710.0
	expUnderflow = -746.0
)

// Exp returns eˣ; 0 for −Inf.
func Exp(x float64) float64 {
	if math.Abs(x) < expNormal {
		n := float64(x*partsPerE) + roundShift
		scale, p := expAt(x, 0, n)
		return scale + float64(scale*p)
	}
	return expExtreme(x, 0)
}

// expAt returns 2^(k/128) and e^(x + low − k ln 2/128) − 1 for a number
// n = roundShift + k, k the integer nearest to (x + low) · 128/ln 2, and a small
// low. The exponent of the first is right if it is that of a normal number.
//
// The method is that of table and polynomial (Tang, "Table-driven implementation
// of the exponential function in IEEE floating-point arithmetic", ACM TOMS 15
// (1989) 144). What is left of the argument is at most 0.0028, and the
// polynomial's error below 2⁻⁶⁰.
func expAt(x, low, n float64) (scale, p float64) {
	k := math.Float64bits(n)
	n -= roundShift
	r := x - float64(n*expStepHigh) - float64(n*expStepLow) + low
	e := &expTable[k%expParts]
	r2 := r * r
	p = e.low + r + float64(r2*(1./2+float64(r*(1./6)))) + float64(float64(r2*r2)*(1./24+float64(r*(1./120))))
	return math.Float64frombits(e.bits + k>>partBits<<fraction), p
}

// expExtreme returns e^(x+low) where the result may not be a normal number.
func expExtreme(x, low float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x > expOverflow:
		return math.Inf(1)
	case x < expUnderflow:
		return 0
	}
	n := float64(x*partsPerE) + roundShift
	scale, p := expAt(x, low, n)
	// The exponent may have run over: it is put to 0 and applied at the end.
	power := int(n-roundShift) >> partBits
	scale = math.Float64frombits(math.Float64bits(scale) - uint64(power)<<fraction)
	return math.Ldexp(scale+float64(scale*p), power)
}

// Pow returns x^y; the special cases are those of math.Pow.
func Pow(x, y float64) float64 {
	const huge = 0x1p64 // with an exponent beyond it, all but 1 overflows or underflows
	a := math.Abs(x)
	if !(a > 0 && a <= math.MaxFloat64 && y != 0 && math.Abs(y) <= math.MaxFloat64) {
		return math.Pow(x, y) // zero, infinite or NaN: exactly defined
	}
	negative := false
	if x < 0 {
		whole := math.Trunc(y)
		if whole != y {
			return math.NaN()
		}
		negative = math.Mod(y, 2) != 0
	}
	y = min(max(y, -huge), huge)
	l, low := logParts(a)
	p, rest := product(y, l)
	rest += float64(y * low)
	var result float64
	if math.Abs(p) < expNormal {
		scale, q := expAt(p, rest, float64(p*partsPerE)+roundShift)
		result = scale + float64(scale*q)
	} else {
		result = expExtreme(p, rest)
	}
	if negative {
		return -result
	}
	return result
}
