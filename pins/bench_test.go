package pins

import (
	"lanesim/units"
	"math"
	"testing"
)

func benchmarkRack(b *testing.B, board, degrees float64) {
	d := newDeck(b, Settings{})
	ball := Rolling(board, degrees*math.Pi/180, 7.6, 15*units.Pound)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		d.Roll(ball, All, 1, uint64(i%500))
	}
}

func BenchmarkPocketRack(b *testing.B) { benchmarkRack(b, 17.5, 6) }
func BenchmarkLightRack(b *testing.B)  { benchmarkRack(b, 15, 3) }
