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
	// ForDeliveries is how a bowler's deliveries differ.
	ForDeliveries Purpose = 1 + iota

	// ForDesigns is the points of a design.
	ForDesigns

	// ForResampling is which observations a bootstrap takes.
	ForResampling

	// ForGames is which deliveries and racks make up a game.
	ForGames

	// ForRacks is whether a delivery strikes.
	ForRacks
)

// Draws returns the random numbers of run k of a study with a seed. They follow
// from seed, purpose and k alone, so that runs can be computed in any order and
// on any machine: the three are the key of a ChaCha8 generator (Bernstein,
// "ChaCha, a variant of Salsa20", 2008, with 8 rounds), whose streams under
// different keys show no relation.
func Draws(seed uint64, purpose Purpose, k uint64) *rand.Rand {
	return rand.New(rand.NewChaCha8(drawKey(seed, purpose, k)))
}

// DimensionDraws returns the random numbers of a dimension of a design, apart from
// those of its points, whose numbers are smaller.
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

// Uniform returns a number between 0 and 1, both excluded: the middle of one of
// 2⁵³ equal parts.
func Uniform(r *rand.Rand) float64 { return (float64(r.Uint64()>>11) + 0.5) / (1 << 53) }

// Sampler draws the same deviates as [DrawDeviates] with one generator for all.
type Sampler struct {
	source *rand.ChaCha8
	random *rand.Rand
}

// NewSampler returns one, for a single goroutine.
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
