package studies

import (
	"lanesim/internal/statistics"
	"math"
	"slices"
)

// Quantiles lists the shares whose quantiles a [Distribution] has.
var Quantiles = [...]float64{0.05, 0.25, 0.5, 0.75, 0.95}

// Distribution describes the distribution of a quantity. Mean and quantiles need one value, the standard
// deviation two; otherwise they are NaN.
type Distribution struct {
	Of        int                     // number of values
	Mean      float64                 // in the unit of the quantity, as the others
	SD        float64                 // standard deviation, with n − 1
	Quantiles [len(Quantiles)]float64 // at the shares of [Quantiles]
}

// NewDistribution returns the distribution of values. It sorts them in place.
func NewDistribution(values []float64) Distribution {
	d := Distribution{Of: len(values), Mean: math.NaN(), SD: math.NaN()}
	// Welford's recurrence (Technometrics 4, 419, 1962) avoids differences of large numbers.
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
