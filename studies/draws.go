package studies

import (
	"encoding/binary"
	"lanesim/internal/statistics"
	"math/rand/v2"
)

// Purpose keeps the random numbers of different studies apart.
type Purpose uint32

// The purposes for which random numbers are drawn.
const (
	// ForDeliveries draws the deviations of deliveries.
	ForDeliveries Purpose = 1 + iota

	// ForDesigns draws the points of a design.
	ForDesigns

	// ForResampling draws the observations of a bootstrap.
	ForResampling

	// ForGames draws the deliveries and racks of a game.
	ForGames

	// ForRacks draws whether a delivery strikes.
	ForRacks
)

// Draws returns the random numbers of run k of a study with a seed. They depend only on seed, purpose and k,
// so that runs can be computed in any order and on any machine. The three are the key of a ChaCha8 generator
// (Bernstein, "ChaCha, a variant of Salsa20", 2008, with 8 rounds), whose streams under different keys are
// independent.
func Draws(seed uint64, purpose Purpose, k uint64) *rand.Rand {
	return rand.New(rand.NewChaCha8(drawKey(seed, purpose, k)))
}

// DimensionDraws returns the random numbers of a dimension of a design. Their numbers k are larger than those
// of the design's points.
func DimensionDraws(seed uint64, dimension int) *rand.Rand {
	return Draws(seed, ForDesigns, 1<<63+uint64(dimension))
}

func drawKey(seed uint64, purpose Purpose, k uint64) [32]byte {
	var key [32]byte
	copy(key[:], "lanesim draw")
	binary.LittleEndian.PutUint32(key[12:], uint32(purpose))
	binary.LittleEndian.PutUint64(key[16:], seed)
	binary.LittleEndian.PutUint64(key[24:], k)
	return key
}

// Uniform returns a uniform random number between 0 and 1, both excluded: the middle of one of 2⁵³ equal
// parts.
func Uniform(r *rand.Rand) float64 { return (float64(r.Uint64()>>11) + 0.5) / (1 << 53) }

// Sampler draws the same deviates as [DrawDeviates] but reuses one generator.
type Sampler struct {
	source *rand.ChaCha8
	random *rand.Rand
}

// NewSampler returns a sampler for a single goroutine.
func NewSampler() Sampler {
	source := rand.NewChaCha8([32]byte{})
	return Sampler{source, rand.New(source)}
}

// Deviates returns the deviates of delivery k of a study with a seed.
func (d Sampler) Deviates(seed, k uint64) Deviates {
	d.source.Seed(drawKey(seed, ForDeliveries, k))
	var z Deviates
	for i := range z {
		z[i] = statistics.Normal(Uniform(d.random))
	}
	return z
}
