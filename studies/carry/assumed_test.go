package carry

import (
	"math"
	"testing"

	"lanesim/pins"
)

// Sets fill each range evenly, no two constants are correlated, and constants that differ from the defaults
// stay.
func TestRackSets(t *testing.T) {
	const n = 24
	sets := RackSets(pins.Settings{}, n)
	var columns [][]float64
	taken := 0
	for _, s := range sets {
		if err := s.Validate(); err != nil {
			t.Fatal(err)
		}
		if s.Rebound == pins.ReboundTaken {
			taken++
		}
	}
	for _, r := range rackRanges {
		usual := (pins.Settings{}).WithDefaults()
		if v := *r.value(&usual); v <= r.Low || v >= r.High {
			t.Errorf("the usual value %v is outside %v to %v", v, r.Low, r.High)
		}
		var column []float64
		mean := 0.0
		for _, s := range sets {
			share := (*r.value(&s) - r.Low) / (r.High - r.Low)
			column = append(column, share)
			mean += share / n
		}
		if math.Abs(mean-0.5) > 1e-9 {
			t.Errorf("mean of a constant at %.2f of its range", mean)
		}
		columns = append(columns, column)
	}
	for i, a := range columns {
		for _, b := range columns[:i] {
			ab, aa, bb := 0.0, 0.0, 0.0
			for k := range a {
				ab, aa, bb = ab+(a[k]-0.5)*(b[k]-0.5), aa+(a[k]-0.5)*(a[k]-0.5), bb+(b[k]-0.5)*(b[k]-0.5)
			}
			if c := ab / math.Sqrt(aa*bb); math.Abs(c) > 0.6 {
				t.Errorf("two constants go together: correlation %.2f", c)
			}
		}
	}
	if taken != n/2 {
		t.Errorf("%d of %d sets leave blows in the deck", taken, n)
	}
	own := pins.Settings{PinPinFriction: 0.4, Rebound: pins.ReboundTaken}
	for _, s := range RackSets(own, 4) {
		if s.PinPinFriction != 0.4 || s.Rebound != pins.ReboundTaken || s.BallPinFriction == 0 {
			t.Errorf("%+v", s)
		}
	}
}
