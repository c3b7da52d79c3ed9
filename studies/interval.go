package studies

import (
	"math"

	"lanesim/internal/statistics"
)

// Interval is where a quantity lies with a confidence of 95 %, in the unit of the
// quantity: of a share from 0 to 1.
type Interval struct{ Low, High float64 }

// HalfWidth is half the interval's width.
func (i Interval) HalfWidth() float64 { return (i.High - i.Low) / 2 }

// Holds reports whether v lies in the interval, its ends included.
func (i Interval) Holds(v float64) bool { return i.Low <= v && v <= i.High }

// Mean is a mean with its interval.
type Mean struct {
	Value float64
	Interval
}

// MeanOf returns the mean of independent values, which may be differences of pairs.
func MeanOf(values []float64) Mean {
	n, mean, squares := float64(len(values)), 0.0, 0.0
	for _, v := range values {
		mean += v / n
	}
	for _, v := range values {
		squares += (v - mean) * (v - mean)
	}
	half := Confident * math.Sqrt(squares/max(n-1, 1)/n)
	return Mean{mean, Interval{mean - half, mean + half}}
}

// UnknownInterval is the interval of what was never tried.
func UnknownInterval() Interval { return Interval{math.NaN(), math.NaN()} }

// Confident is the standard normal deviate that is exceeded on either side by
// one of forty: that of intervals of 95 %.
var Confident = statistics.Normal(1 - 0.025)

// WilsonInterval returns the interval of a share of which hits of some independent
// trials are known ([statistics.Wilson]). It lies within 0 and 1. Without trials it is NaN.
func WilsonInterval(c Count) Interval {
	low, high := statistics.Wilson(c.Hits, c.Of, Confident)
	return Interval{low, high}
}

// Paired counts what became of trials that were done in two ways, a and b.
type Paired struct {
	Both, OnlyA, OnlyB, Neither int
}

// Add takes in one trial.
func (p *Paired) Add(a, b bool) {
	switch {
	case a && b:
		p.Both++
	case a:
		p.OnlyA++
	case b:
		p.OnlyB++
	default:
		p.Neither++
	}
}

// Pair pairs trials of the same numbers, as far as both ways have them.
func Pair(a, b []bool) (p Paired) {
	for k := range min(len(a), len(b)) {
		p.Add(a[k], b[k])
	}
	return p
}

// Of is the number of trials.
func (p Paired) Of() int { return p.Both + p.OnlyA + p.OnlyB + p.Neither }

// Difference is the share of hits in way b less that in way a; NaN without
// trials.
func (p Paired) Difference() float64 {
	return float64(p.OnlyB-p.OnlyA) / float64(p.Of())
}

// Interval returns the interval of the difference of shares: those differences δ
// at which the score statistic is less than z away from nothing,
//
//	|b − c − nδ| ≤ z √(n (2q + δ(1 − δ)))
//
// with b trials that hit in way b only, c in way a only, n in all and q the most
// likely probability of the latter, given δ (Tango, Stat. Med. 17, 891, 1998). It
// holds 0 exactly if McNemar's test without continuity correction (Psychometrika
// 12, 153, 1947) finds nothing at 5 %. Without trials it is NaN.
func (p Paired) Interval() Interval {
	if p.Of() <= 0 {
		return UnknownInterval()
	}
	d := p.Difference()
	return Interval{p.farthest(d, -1), p.farthest(d, 1)}
}

// Significant reports whether the interval leaves 0 out.
func (p Paired) Significant() bool { return p.SignificantAmong(1) }

// SignificantAmong reports whether a difference that was picked as the largest of some
// would be found by chance less than once in twenty times (Bonferroni's bound).
func (p Paired) SignificantAmong(several int) bool {
	// Of the score statistic at 0 there remains McNemar's.
	off, z := float64(p.OnlyB-p.OnlyA), statistics.Normal(1-0.025/float64(several))
	return off*off > z*z*float64(p.OnlyA+p.OnlyB)
}

// scoreHalvings narrow the difference to 2⁻⁵² of the way: as far as numbers near
// 1 can be distinguished.
const scoreHalvings = 52

// farthest returns the difference between from and the end of the possible ones
// up to which the score statistic is small enough: it grows all the way.
func (p Paired) farthest(from, end float64) float64 {
	if p.near(end) {
		return end
	}
	near, far := from, end
	for range scoreHalvings {
		middle := near + (far-near)/2
		if p.near(middle) {
			near = middle
		} else {
			far = middle
		}
	}
	return near
}

// near reports whether a difference is compatible with the counts.
func (p Paired) near(difference float64) bool {
	n, b, c := float64(p.Of()), float64(p.OnlyB), float64(p.OnlyA)
	// The likelihood at a given difference is largest at the root q of a
	// quadratic, 2n q² + B q − c δ(1 − δ) = 0 (Tango, eq. 6).
	linear := -b - c + (2*n-b+c)*difference
	constant := -c * difference * (1 - difference)
	q := (math.Sqrt(max(0, linear*linear-8*n*constant)) - linear) / (4 * n)
	off := b - c - n*difference
	variance := n * (2*q + difference*(1-difference))
	return off*off <= Confident*Confident*max(0, variance)
}

// Count is how many of some deliveries there are of a kind.
type Count struct{ Hits, Of int }

// CountOf counts the hits of lists.
func CountOf(lists ...[]bool) (c Count) {
	for _, list := range lists {
		c = c.Plus(CountWhere(list, func(hit bool) bool { return hit }))
	}
	return c
}

// CountWhere counts the elements of a list of which something holds.
func CountWhere[T any](list []T, holds func(T) bool) Count {
	c := Count{Of: len(list)}
	for _, v := range list {
		if holds(v) {
			c.Hits++
		}
	}
	return c
}

// Plus adds another count.
func (c Count) Plus(d Count) Count { return Count{c.Hits + d.Hits, c.Of + d.Of} }

// Share is that of the hits.
func (c Count) Share() float64 { return float64(c.Hits) / float64(c.Of) }
