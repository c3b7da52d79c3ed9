package studied

import (
	"math"
	"testing"

	"lanesim/studies"
	"lanesim/studies/spread"
)

// The table of misses lists deviations that vary, of a line in the gutter, too.
func TestMissesThatDoNotVaryAreLeftOut(t *testing.T) {
	gutter := spread.Miss{Minus: math.NaN(), Plus: math.NaN()}
	thrown := gutter
	thrown.Without = studies.Paired{Neither: 500}
	for _, c := range []struct {
		name string
		miss spread.Miss
		want bool
	}{
		{"no deviation", spread.Miss{}, true}, {"no deviation from a line in the gutter", gutter, true},
		{"thrown without it", thrown, false}, {"boards", spread.Miss{Plus: -0.5}, false},
	} {
		if got := costsUnknown(c.miss); got != c.want {
			t.Errorf("%s: left out %v", c.name, got)
		}
	}
}
