package portable_test

import (
	"math"
	"math/big"
)

// bits is the precision of the exact values.
const bits = 240

func number(x float64) *big.Float { return new(big.Float).SetPrec(bits).SetFloat64(x) }

func newNumber() *big.Float { return new(big.Float).SetPrec(bits) }

// exactLn2 is ln 2 = Σ 1/(k 2ᵏ).
var exactLn2 = func() *big.Float {
	sum, power := newNumber(), number(1)
	for k := 1; k <= bits+8; k++ {
		power.Quo(power, number(2))
		sum.Add(sum, newNumber().Quo(power, number(float64(k))))
	}
	return sum
}()

// exactExp sums the power series of e^(x/2²⁰), whose argument is near zero, and squares the
// sum 20 times.
func exactExp(x *big.Float) *big.Float {
	ratio, _ := newNumber().Quo(x, exactLn2).Float64()
	k := math.Round(ratio)
	r := newNumber().Sub(x, newNumber().Mul(number(k), exactLn2))
	const halvings = 20
	r.SetMantExp(r, -halvings)
	sum, term := number(1), number(1)
	for n := 1; term.Sign() != 0 && term.MantExp(nil) > -bits; n++ {
		term.Mul(term, r)
		term.Quo(term, number(float64(n)))
		sum.Add(sum, term)
	}
	for range halvings {
		sum.Mul(sum, sum)
	}
	return sum.SetMantExp(sum, int(k))
}

// exactLog takes Halley's steps y += 2(x − eʸ)/(x + eʸ), each of which triples the
// correct digits.
func exactLog(x *big.Float) *big.Float {
	m := newNumber()
	e := x.MantExp(m)
	if m.Cmp(number(math.Sqrt2/2)) < 0 {
		m.Mul(m, number(2))
		e--
	}
	f, _ := m.Float64()
	y := number(math.Log(f))
	for range 3 {
		exp := exactExp(y)
		step := newNumber().Sub(m, exp)
		step.Quo(step.Mul(step, number(2)), exp.Add(exp, m))
		y.Add(y, step)
	}
	return y.Add(y, newNumber().Mul(number(float64(e)), exactLn2))
}

// unit is one in the last place of the double next to x.
func unit(x *big.Float) float64 {
	exponent := max(x.MantExp(nil)-53, -1074)
	return math.Ldexp(1, exponent)
}

// unitsOff is the difference from the exact value, in units in the last place.
func unitsOff(got float64, exact *big.Float) float64 {
	if math.IsInf(got, 0) || math.IsNaN(got) {
		return math.Inf(1)
	}
	off := newNumber().Sub(number(got), exact)
	off.Quo(off, number(unit(exact)))
	units, _ := off.Abs(off).Float64()
	return units
}
