package studies

import (
	"math"
	"math/bits"
)

// permutation is a permutation of the numbers below n, computed one at a time:
// a Feistel network (Luby and Rackoff, SIAM J. Comput. 17, 373, 1988) on twice
// half bits, walked until it comes to a number below n (Black and Rogaway,
// "Ciphers with arbitrary finite domains", CT-RSA 2002).
type permutation struct {
	n    uint64
	half uint
	keys [feistelRounds]uint64
}

const (
	// feistelRounds is twice the four that make a network of good round
	// functions pass for random, since numbers of few bits mix slowly.
	feistelRounds = 8

	// leastHalf keeps the network large enough to mix, however few points.
	leastHalf = 4

	// forDimensions sets the draws of a design's dimensions apart from those
	// of its points, whose numbers are smaller.
	forDimensions = 1 << 63
)

func newPermutation(n, seed uint64, dimension int) permutation {
	p := permutation{n: n, half: max(uint(bits.Len64(n-1)+1)/2, leastHalf)}
	r := Draws(seed, ForDesigns, forDimensions+uint64(dimension))
	for i := range p.keys {
		p.keys[i] = r.Uint64()
	}
	return p
}

func (p *permutation) at(k uint64) uint64 {
	mask := uint64(1)<<p.half - 1
	for {
		left, right := k>>p.half, k&mask
		for _, key := range p.keys {
			left, right = right, left^mixed(right^key)&mask
		}
		if k = left<<p.half | right; k < p.n {
			return k
		}
	}
}

// mixed scrambles 64 bits: the finalizer of SplitMix64 (Steele, Lea and Flood,
// OOPSLA 2014).
func mixed(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// radical computes a radical inverse: the digits of a number in a prime base,
// mirrored at the point.
type radical struct {
	base uint64

	// digits[i][v] is what stands for digit v at place i after the point; nil
	// for the plain sequence.
	digits [][]int
}

func newRadical(dimension int, seed uint64) radical {
	r := radical{base: prime(dimension)}
	if seed == 0 {
		return r
	}
	// As many places as change a float64 below 1, or as a point's number has.
	draws := Draws(seed, ForDesigns, forDimensions+uint64(dimension))
	for size := 1.0; size < 1<<53; size *= float64(r.base) {
		r.digits = append(r.digits, draws.Perm(int(r.base)))
	}
	return r
}

func (r *radical) at(k uint64) float64 {
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
