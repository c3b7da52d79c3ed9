package statistics

import "math"

// Wilson returns the interval of a share for a number of hits of independent trials: the
// shares p from which the observed one is at most z standard errors away,
//
//	|p̂ − p| ≤ z √(p(1 − p)/n)
//
// (Wilson, J. Am. Stat. Assoc. 22, 209, 1927; method 3 of Newcombe, Stat. Med.
// 17, 857, 1998). It lies within 0 and 1. Without trials it is NaN.
func Wilson(hits, of int, z float64) (low, high float64) {
	if of <= 0 {
		return math.NaN(), math.NaN()
	}
	n := float64(of)
	p := float64(hits) / n
	middle := p + z*z/(2*n)
	half := z * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	scale := 1 + z*z/n
	low, high = max(0, (middle-half)/scale), min(1, (middle+half)/scale)
	// At the ends the formula is exact but for rounding.
	if hits == 0 {
		low = 0
	}
	if hits == of {
		high = 1
	}
	return low, high
}
