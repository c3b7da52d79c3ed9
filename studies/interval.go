package studies

import (
	"math"

	"lanesim/internal/statistics"
)

// Interval is the 95 % confidence interval of a quantity, in the unit of the quantity; for a share from 0 to
// 1.
type Interval struct{ Low, High float64 }

// HalfWidth returns half the interval's width.
func (i Interval) HalfWidth() float64 { return (i.High - i.Low) / 2 }

// Holds reports whether v lies in the interval, its ends included.
func (i Interval) Holds(v float64) bool { return i.Low <= v && v <= i.High }

// Mean is a mean with its 95 % interval.
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

// UnknownInterval returns the interval of a quantity without data, NaN at both ends.
func UnknownInterval() Interval { return Interval{math.NaN(), math.NaN()} }

// Confident is the standard normal deviate of 95 % intervals: one in forty exceeds it on either side.
var Confident = statistics.Normal(1 - 0.025)

// WilsonInterval returns the interval of a share from the hits of independent trials ([statistics.Wilson]).
// It lies within 0 and 1. Without trials it is NaN.
func WilsonInterval(c Count) Interval {
	low, high := statistics.Wilson(c.Hits, c.Of, Confident)
	return Interval{low, high}
}

// Paired counts the hits of trials that were done under two conditions, a and b: on two lines, with two balls
// and the like.
type Paired struct {
	Both, OnlyA, OnlyB, Neither int
}

// Add adds one trial.
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

// Pair pairs the trials of the same index, up to the length of the shorter list.
func Pair(a, b []bool) (p Paired) {
	for k := range min(len(a), len(b)) {
		p.Add(a[k], b[k])
	}
	return p
}

// Of returns the number of trials.
func (p Paired) Of() int { return p.Both + p.OnlyA + p.OnlyB + p.Neither }

// Difference returns the share of hits of b minus that of a; NaN without trials.
func (p Paired) Difference() float64 {
	return float64(p.OnlyB-p.OnlyA) / float64(p.Of())
}

// Interval returns the interval of the difference of shares: the differences δ at which the score statistic
// is within z,
//
//	|b − c − nδ| ≤ z √(n (2q + δ(1 − δ)))
//
// with n trials, of which b hit under b only and c under a only, and q the most likely probability of the
// latter, given δ (Tango, Stat. Med. 17, 891, 1998). It contains 0 exactly if McNemar's test without
// continuity correction (Psychometrika 12, 153, 1947) finds no difference at 5 %. Without trials it is NaN.
func (p Paired) Interval() Interval {
	if p.Of() <= 0 {
		return UnknownInterval()
	}
	d := p.Difference()
	return Interval{p.farthest(d, -1), p.farthest(d, 1)}
}

// Significant reports whether the interval does not contain 0.
func (p Paired) Significant() bool { return p.SignificantAmong(1) }

// SignificantAmong reports whether a difference picked as the largest of several is significant at 5 %
// (Bonferroni's bound).
func (p Paired) SignificantAmong(several int) bool {
	// At 0 the score statistic is McNemar's.
	off, z := float64(p.OnlyB-p.OnlyA), statistics.Normal(1-0.025/float64(several))
	return off*off > z*z*float64(p.OnlyA+p.OnlyB)
}

// scoreHalvings is the number of bisections: to 2⁻⁵² of the range, the resolution of numbers near 1.
const scoreHalvings = 52

// farthest returns the difference between from and end, the end of the possible differences, up to which the
// score statistic is small enough. The statistic grows monotonically.
func (p Paired) farthest(from, end float64) float64 {
	if p.compatible(end) {
		return end
	}
	near, far := from, end
	for range scoreHalvings {
		middle := near + (far-near)/2
		if p.compatible(middle) {
			near = middle
		} else {
			far = middle
		}
	}
	return near
}

// compatible reports whether a difference is within the interval.
func (p Paired) compatible(difference float64) bool {
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

// Count is the number of hits among a number of deliveries or other trials.
type Count struct{ Hits, Of int }

// CountOf counts the hits in lists.
func CountOf(lists ...[]bool) (c Count) {
	for _, list := range lists {
		c = c.Plus(CountWhere(list, func(hit bool) bool { return hit }))
	}
	return c
}

// CountWhere counts the elements of a list that satisfy a condition.
func CountWhere[T any](list []T, holds func(T) bool) Count {
	c := Count{Of: len(list)}
	for _, v := range list {
		if holds(v) {
			c.Hits++
		}
	}
	return c
}

// Plus returns the sum of two counts.
func (c Count) Plus(d Count) Count { return Count{c.Hits + d.Hits, c.Of + d.Of} }

// Share returns the share of hits; NaN without trials.
func (c Count) Share() float64 { return float64(c.Hits) / float64(c.Of) }
