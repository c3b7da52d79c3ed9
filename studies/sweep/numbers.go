package sweep

import (
	"math/bits"

	"lanesim/studies"
)

// permutation is a permutation of the numbers below n, computed one at a time: a Feistel network (Luby and
// Rackoff, SIAM J. Comput. 17, 373, 1988) on 2·half bits, applied again until the result is below n (cycle
// walking: Black and Rogaway, "Ciphers with arbitrary finite domains", CT-RSA 2002).
type permutation struct {
	n    uint64
	half uint
	keys [feistelRounds]uint64
}

const (
	// feistelRounds is twice the four rounds that make a network of good round functions pseudorandom, since
	// numbers of few bits mix slowly.
	feistelRounds = 8

	// leastHalf keeps the network large enough to mix for few points.
	leastHalf = 4
)

func newPermutation(n, seed uint64, dimension int) permutation {
	p := permutation{n: n, half: max(uint(bits.Len64(n-1)+1)/2, leastHalf)}
	r := studies.DimensionDraws(seed, dimension)
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

// mixed hashes 64 bits by the finalizer of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
func mixed(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
