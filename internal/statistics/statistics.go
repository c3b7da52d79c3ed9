// Package statistics has intervals of shares, and quantiles with the same bits on every
// machine: those of package math and gonum use logarithms whose last digits differ.
package statistics

import (
	"math"

	"lanesim/internal/portable"
	"lanesim/internal/root"
)

// Normal returns the quantile of the standard normal distribution for a probability p
// between 0 and 1, both excluded. The relative error is about 10⁻¹⁵.
//
// It is Wichura's PPND16 ("Algorithm AS 241: The percentage points of the normal
// distribution", Appl. Statist. 37 (1988) 477).
func Normal(p float64) float64 {
	const (
		central = 0.425 // from the median on, a ratio of polynomials in the square
		far     = 5.0   // √−ln p from which the third ratio holds
	)
	q := p - 0.5
	if math.Abs(q) <= central {
		r := central*central - q*q
		return q * polynomial(&centralOver, r) / polynomial(&centralUnder, r)
	}
	r := math.Sqrt(-portable.Log(min(p, 1-p)))
	var z float64
	if r <= far {
		z = polynomial(&middleOver, r-1.6) / polynomial(&middleUnder, r-1.6)
	} else {
		z = polynomial(&farOver, r-far) / polynomial(&farUnder, r-far)
	}
	return math.Copysign(z, q)
}

func polynomial(c *[8]float64, x float64) float64 {
	sum := c[7]
	for i := 6; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}

// The coefficients of PPND16.
var (
	centralOver = [8]float64{3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3, 1.3731693765509461125e4,
		4.5921953931549871457e4, 6.7265770927008700853e4, 3.3430575583588128105e4, 2.5090809287301226727e3}
	centralUnder = [8]float64{1, 4.2313330701600911252e1, 6.8718700749205790830e2, 5.3941960214247511077e3,
		2.1213794301586595867e4, 3.9307895800092710610e4, 2.8729085735721942674e4, 5.2264952788528545610e3}
	middleOver = [8]float64{1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0, 3.64784832476320460504e0,
		1.27045825245236838258e0, 2.41780725177450611770e-1, 2.27238449892691845833e-2, 7.74545014278341407640e-4}
	middleUnder = [8]float64{1, 2.05319162663775882187e0, 1.67638483018380384940e0, 6.89767334985100004550e-1,
		1.48103976427480074590e-1, 1.51986665636164571966e-2, 5.47593808499534494600e-4, 1.05075007164441684324e-9}
	farOver = [8]float64{6.65790464350110377720e0, 5.46378491116411436990e0, 1.78482653991729133580e0, 2.96560571828504891230e-1,
		2.65321895265761230930e-2, 1.24266094738807843860e-3, 2.71155556874348757815e-5, 2.01033439929228813265e-7}
	farUnder = [8]float64{1, 5.99832206555887937690e-1, 1.36929880922735805310e-1, 1.48753612908506148525e-2,
		7.86869131145613259100e-4, 1.84631831751005468180e-5, 1.42151175831644588870e-7, 2.04426310338993978564e-15}
)

// Student returns the quantile of Student's t distribution for a probability p, with a
// whole number of degrees of freedom, 1 or more.
//
// With θ = arctan(t/√ν) the share within ±t is a sum of ν/2 terms (Abramowitz &
// Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4).
func Student(p float64, degrees int) float64 {
	wanted := math.Abs(2*p - 1)
	off := func(angle float64) float64 { return studentWithin(angle, degrees) - wanted }
	angle := root.Find(off, 0, math.Pi/2, -wanted, 1-wanted, 0)
	return math.Copysign(math.Sqrt(float64(degrees))*math.Tan(angle), p-0.5)
}

func studentWithin(angle float64, degrees int) float64 {
	sin, cos := math.Sincos(angle)
	term, k := 1.0, 2
	if degrees%2 == 1 {
		term, k = cos, 3
	}
	sum := 0.0
	for ; k <= degrees; k += 2 {
		sum += term
		term *= cos * cos * float64(k-1) / float64(k)
	}
	if degrees%2 == 1 {
		return 2 / math.Pi * (angle + sin*sum)
	}
	return sin * sum
}

// Quantile returns the quantile of sorted values for a share from 0 to 1, linear between
// values: definition 7 of Hyndman and Fan ("Sample quantiles in statistical packages", Am.
// Stat. 50 (1996) 361), the usual one, which gonum lacks. It is NaN without values.
func Quantile(sorted []float64, share float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := share * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	j := min(i+1, len(sorted)-1)
	return sorted[i] + (at-float64(i))*(sorted[j]-sorted[i])
}

// Indicator is 1 for true and 0 for false, so that its mean is a share.
func Indicator(v bool) float64 {
	if v {
		return 1
	}
	return 0
}
