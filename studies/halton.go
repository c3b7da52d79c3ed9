package studies

import "math"

// Halton is one dimension of a Halton sequence: the radical inverse, in which the digits of a number in a
// prime base are mirrored at the point.
type Halton struct {
	base uint64

	// digits[i][v] replaces digit v at place i after the point; nil for the plain sequence.
	digits [][]int
}

// NewHalton returns the sequence of a dimension, counted from 0, whose base is the prime of that index. A
// seed that is not 0 permutes the digits.
func NewHalton(dimension int, seed uint64) Halton {
	r := Halton{base: prime(dimension)}
	if seed == 0 {
		return r
	}
	// As many places as affect a float64 below 1, or as a point's number has.
	draws := DimensionDraws(seed, dimension)
	for size := 1.0; size < 1<<53; size *= float64(r.base) {
		r.digits = append(r.digits, draws.Perm(int(r.base)))
	}
	return r
}

// At returns the coordinate of point k, from 0 to below 1.
func (r *Halton) At(k uint64) float64 {
	if r.digits == nil {
		mirrored, size := uint64(0), uint64(1)
		for ; k > 0; k /= r.base {
			mirrored, size = mirrored*r.base+k%r.base, size*r.base
		}
		return float64(mirrored) / float64(size)
	}
	var place [53]uint64
	for i := range r.digits {
		place[i], k = k%r.base, k/r.base
	}
	x := 0.0
	for i := len(r.digits) - 1; i >= 0; i-- {
		x = (x + float64(r.digits[i][place[i]])) / float64(r.base)
	}
	return min(x, math.Nextafter(1, 0))
}

// prime returns the i-th prime number, from 0.
func prime(i int) uint64 {
	for n := uint64(2); ; n++ {
		divides := false
		for d := uint64(2); d*d <= n; d++ {
			divides = divides || n%d == 0
		}
		if divides {
			continue
		}
		if i == 0 {
			return n
		}
		i--
	}
}
