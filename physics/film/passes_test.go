package film

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestPassesAreAllFound: the passes followed are those that the index finds, on balls whose axis moves by up
// to 0.1 rad a turn (0.4 in of flare); few are lost if it moves by far more. Touches are tried far ahead and
// again nearer.
func TestPassesAreAllFound(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	for _, flare := range []struct{ most, lost float64 }{{0.1, 0}, {0.3, 3e-4}, {0.8, 6e-3}} {
		lost, crossed, looks := 0, 0, 0
		for range 40 {
			var followed, searched Field
			spacing := between(0.05, 0.26)
			for _, f := range []*Field{&followed, &searched} {
				f.Reset(memory(between(0.02, 0.4), math.Inf(1)), radius, spacing, MostStrips)
			}
			searched.useIndex()
			tilt, rising, lean := between(-0.8, 0.8), between(-0.03, 0.03), between(-flare.most, flare.most)/(2*math.Pi)
			swing, swings := between(0, 0.3), between(0, 0.2)
			at := func(turned float64) Touch {
				return spinning(turned, tilt+rising*turned/(2*math.Pi), lean*turned+swing*math.Sin(swings*turned))
			}
			for turned := 0.0; turned < 100; {
				step := spacing * between(0.1, 1)
				for _, ahead := range []float64{3 * step, step} {
					touch := at(turned + ahead)
					followed.findCrossings(&touch)
					searched.findCrossings(&touch)
					looks++
					crossed += len(searched.crossed)
					if !slices.Equal(followed.crossed, searched.crossed) {
						lost += max(len(searched.crossed)-len(followed.crossed), 1)
					}
				}
				turned += step
				touch := at(turned)
				followed.Append(&touch)
				searched.Append(&touch)
			}
			if !followed.passes.followed && flare.most <= 0.3 {
				t.Errorf("%v rad a turn: gave up following", flare.most)
			}
		}
		t.Logf("up to %v rad a turn: of %d passes over %d touches %d lost", flare.most, crossed, looks, lost)
		if 3*crossed < looks {
			t.Errorf("up to %v rad a turn: only %d passes over %d touches", flare.most, crossed, looks)
		}
		if float64(lost) > flare.lost*float64(crossed) {
			t.Errorf("up to %v rad a turn: %d of %d passes lost, above %v of them", flare.most, lost, crossed, flare.lost)
		}
	}
}
