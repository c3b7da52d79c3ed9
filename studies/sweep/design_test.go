package sweep

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"runtime"
	"testing"

	"pgregory.net/rapid"
)

func sampler(t interface{ Fatal(...any) }, d Design) *Sampler {
	s, err := d.Sampler()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func dimensions(n int) []Dimension { return make([]Dimension, n) }

// Every stratum of every dimension of a Latin hypercube holds one point.
func TestLatinStrataAreHitOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Uint64Range(1, 3000).Draw(t, "points")
		d := Design{Kind: Latin, Dimensions: dimensions(3), Points: n, Seed: rapid.Uint64().Draw(t, "seed")}
		s := sampler(t, d)
		x := make([]Coordinate, 3)
		hits := make([][3]int, n)
		for k := range n {
			s.Point(k, x)
			for j, c := range x {
				hits[int(c.Share*float64(n))][j]++
			}
		}
		for i, h := range hits {
			if h != [3]int{1, 1, 1} {
				t.Fatalf("stratum %d of %d: %v points", i, n, h)
			}
		}
	})
}

// Far out, where rounding could carry a point over the edge of its stratum,
// shares stay in the stratum that the permutation gives.
func TestLatinStaysInItsStratum(t *testing.T) {
	s := sampler(t, Design{Kind: Latin, Dimensions: dimensions(2), Points: MostPoints, Seed: 3})
	x := make([]Coordinate, 2)
	for k := uint64(0); k < MostPoints; k += MostPoints / 5000 {
		s.Point(k, x)
		for j := range x {
			if got, want := uint64(x[j].Share*MostPoints), s.latin[j].at(k); got != want {
				t.Fatalf("point %d lies in stratum %d, want %d", k, got, want)
			}
		}
	}
}

// The dimensions of a Latin hypercube do not go together: the rank correlation
// of n points has a standard deviation of 1/√(n−1).
func TestLatinDimensionsAreUnrelated(t *testing.T) {
	const n, deviations = 4000, 4
	for seed := range uint64(20) {
		s := sampler(t, Design{Kind: Latin, Dimensions: dimensions(2), Points: n, Seed: seed})
		x, sum := make([]Coordinate, 2), 0.0
		for k := range uint64(n) {
			s.Point(k, x)
			sum += (x[0].Share - 0.5) * (x[1].Share - 0.5)
		}
		if r := 12 * sum / n; math.Abs(r) > deviations/math.Sqrt(n-1) {
			t.Errorf("seed %d: a correlation of %.3f", seed, r)
		}
	}
}

// Levels of a Latin hypercube and of a Halton sequence come in equal shares.
func TestLevelsComeInEqualShares(t *testing.T) {
	const n, levels = 1200, 4
	for _, kind := range []Kind{Latin, Halton} {
		s := sampler(t, Design{Kind: kind, Dimensions: []Dimension{{Levels: levels}, {}}, Points: n, Seed: 5})
		x := make([]Coordinate, 2)
		var count [levels]int
		for k := range uint64(n) {
			s.Point(k, x)
			count[x[0].Level]++
		}
		for level, c := range count {
			if math.Abs(float64(c)-n/levels) > 2 {
				t.Errorf("%s: level %d has %d of %d points", kind, level, c, n)
			}
		}
	}
}

// The first points in bases 2 and 3 are those of the sequences of van der
// Corput and Halton.
func TestHaltonFirstPoints(t *testing.T) {
	want := [][2]float64{
		{1. / 2, 1. / 3}, {1. / 4, 2. / 3}, {3. / 4, 1. / 9}, {1. / 8, 4. / 9}, {5. / 8, 7. / 9},
		{3. / 8, 2. / 9}, {7. / 8, 5. / 9}, {1. / 16, 8. / 9}, {9. / 16, 1. / 27},
	}
	s := sampler(t, Design{Kind: Halton, Dimensions: dimensions(2), Points: 9})
	x := make([]Coordinate, 2)
	for k, w := range want {
		s.Point(uint64(k), x)
		if x[0].Share != w[0] || x[1].Share != w[1] {
			t.Errorf("point %d is %v, want %v", k, x, w)
		}
	}
}

// Plain and with permuted digits, any b^m points of a Halton sequence in a row
// that start at a multiple of it fall one into each of b^m equal parts.
func TestHaltonIsEven(t *testing.T) {
	for _, seed := range []uint64{0, 1, 77} {
		s := sampler(t, Design{Kind: Halton, Dimensions: dimensions(3), Points: 1000, Seed: seed})
		for j, parts := range []uint64{64, 81, 125} {
			x := make([]Coordinate, 3)
			count := make([]int, parts)
			for k := range parts {
				s.Point(parts*2+k-1, x)
				count[int(x[j].Share*float64(parts)+float64(parts)*0x1p-50)]++ // exact but for the rounding of a share
			}
			for i, c := range count {
				if c != 1 {
					t.Errorf("seed %d, dimension %d: part %d of %d has %d points", seed, j, i, parts, c)
				}
			}
		}
	}
}

func TestGridCountsLikeDigits(t *testing.T) {
	s := sampler(t, Design{Kind: Grid, Dimensions: []Dimension{{2}, {3}, {4}}})
	if s.Size() != 24 {
		t.Fatalf("%d points", s.Size())
	}
	x := make([]Coordinate, 3)
	for k := range uint64(24) {
		s.Point(k, x)
		if got := uint64((x[0].Level*3+x[1].Level)*4 + x[2].Level); got != k {
			t.Errorf("point %d is %v", k, x)
		}
	}
}

func TestBadDesigns(t *testing.T) {
	for name, d := range map[string]Design{
		"no dimension":  {Kind: Grid},
		"empty grid":    {Kind: Grid, Dimensions: []Dimension{{3}, {0}}},
		"no points":     {Kind: Latin, Dimensions: dimensions(1)},
		"too many":      {Kind: Halton, Dimensions: dimensions(1), Points: MostPoints + 1},
		"overflow":      {Kind: Grid, Dimensions: []Dimension{{1 << 40}, {1 << 40}, {1 << 40}}},
		"unknown kind":  {Kind: "spiral", Dimensions: dimensions(1), Points: 1},
		"too many axes": {Kind: Halton, Dimensions: dimensions(MostDimensions + 1), Points: 1},
	} {
		if _, err := d.Sampler(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// Designs stay what they are from version to version: results name a seed.
func TestDesignsAreFixed(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("last digits are those of amd64")
	}
	h := sha256.New()
	for _, kind := range []Kind{Latin, Halton} {
		s := sampler(t, Design{Kind: kind, Dimensions: []Dimension{{}, {5}, {}}, Points: 1000, Seed: 42})
		x := make([]Coordinate, 3)
		for k := range uint64(1000) {
			s.Point(k, x)
			if err := binary.Write(h, binary.LittleEndian, []float64{x[0].Share, float64(x[1].Level), x[2].Share}); err != nil {
				t.Fatal(err)
			}
		}
	}
	const want = "a597a8c944531dfd51d55db94ba74679db5df001e8f6f7bc2db4cb3ef304c141"
	if got := hex.EncodeToString(h.Sum(nil)); got != want {
		t.Errorf("designs have the hash %s, want %s", got, want)
	}
}

func BenchmarkDesignPoint(b *testing.B) {
	for _, kind := range []Kind{Latin, Halton} {
		b.Run(string(kind), func(b *testing.B) {
			s := sampler(b, Design{Kind: kind, Dimensions: dimensions(4), Points: 1e6, Seed: 42})
			x := make([]Coordinate, 4)
			for k := uint64(0); b.Loop(); k++ {
				s.Point(k%1e6, x)
			}
		})
	}
}
