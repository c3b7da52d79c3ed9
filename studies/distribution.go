package studies

import (
	"lanesim/internal/statistics"
	"math"
	"slices"
)

// Quantiles are the shares of which a [Distribution] has the quantiles.
var Quantiles = [...]float64{0.05, 0.25, 0.5, 0.75, 0.95}

// Distribution says how a quantity is spread. Its numbers are NaN where there
// are too few values: one for the mean and the quantiles, two for the standard
// deviation.
type Distribution struct {
	Of        int                     // values
	Mean      float64                 // as all, in the unit of the quantity
	SD        float64                 // with n − 1
	Quantiles [len(Quantiles)]float64 // those of [Quantiles]
}

// NewDistribution describes values, which it sorts.
func NewDistribution(values []float64) Distribution {
	d := Distribution{Of: len(values), Mean: math.NaN(), SD: math.NaN()}
	// Welford's recurrence (Technometrics 4, 419, 1962) subtracts no large
	// numbers from each other.
	mean, squares := 0.0, 0.0
	for i, v := range values {
		off := v - mean
		mean += off / float64(i+1)
		squares += off * (v - mean)
	}
	if d.Of > 0 {
		d.Mean = mean
	}
	if d.Of > 1 {
		d.SD = math.Sqrt(squares / float64(d.Of-1))
	}
	slices.Sort(values)
	for i, share := range Quantiles {
		d.Quantiles[i] = statistics.Quantile(values, share)
	}
	return d
}
