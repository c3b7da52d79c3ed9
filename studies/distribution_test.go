package studies

import (
	"math"
	"testing"
)

func TestDistributionOfKnownNumbers(t *testing.T) {
	d := NewDistribution([]float64{5, 1, 4, 2, 3})
	want := Distribution{5, 3, math.Sqrt(2.5), [...]float64{1.2, 2, 3, 4, 4.8}}
	if math.Abs(d.Mean-want.Mean)+math.Abs(d.SD-want.SD) > rounding {
		t.Errorf("%+v, not %+v", d, want)
	}
	for i := range d.Quantiles {
		if math.Abs(d.Quantiles[i]-want.Quantiles[i]) > rounding {
			t.Errorf("quantile %g is %g, not %g", Quantiles[i], d.Quantiles[i], want.Quantiles[i])
		}
	}
	if one := NewDistribution([]float64{7}); one.Mean != 7 || !math.IsNaN(one.SD) || one.Quantiles[0] != 7 {
		t.Errorf("of one: %+v", one)
	}
}
