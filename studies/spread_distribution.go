package studies

import (
	"math"
	"math/rand/v2"
	"slices"

	"lanesim/internal/statistics"
	"lanesim/physics"
)

// SpreadQuantiles are the shares of which a [Distribution] has the quantiles.
var SpreadQuantiles = [...]float64{0.05, 0.25, 0.5, 0.75, 0.95}

// Distribution tells how a quantity is spread. Its numbers are NaN where there
// are too few values: one for the mean and the quantiles, two for the standard
// deviation.
type Distribution struct {
	Of        int                           // values
	Mean      float64                       // as all, in the unit of the quantity
	SD        float64                       // with n − 1
	Quantiles [len(SpreadQuantiles)]float64 // those of [SpreadQuantiles]
}

// distribution describes values, which it sorts.
func distribution(values []float64) Distribution {
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
	for i, share := range SpreadQuantiles {
		d.Quantiles[i] = statistics.Quantile(values, share)
	}
	return d
}

// scattered counts a setup's deliveries.
func scattered(each []SpreadShot) ScatteredSetup {
	r := ScatteredSetup{Each: each, Pocket: pocketsOf(each), GoodAngle: Count{Of: len(each)}, Ends: map[physics.Status]int{}}
	r.Line = SpreadShot{EntryBoard: math.NaN(), EntryAngle: math.NaN()} // until it is thrown
	var ends [256]int
	for _, s := range each {
		ends[s.end]++
		if s.GoodAngle {
			r.GoodAngle.Hits++
		}
		if s.reached() {
			r.EntryBoard.Of++
		}
	}
	for i, n := range ends {
		if n > 0 {
			r.Ends[shotEnds[i]] = n
		}
	}
	r.PocketInterval, r.GoodAngleInterval = WilsonInterval(r.Pocket), WilsonInterval(r.GoodAngle)
	values := make([]float64, r.EntryBoard.Of)
	of := func(value func(SpreadShot) float64) Distribution {
		values = values[:0]
		for _, s := range each {
			if s.reached() {
				values = append(values, value(s))
			}
		}
		return distribution(values)
	}
	r.EntryBoard = of(func(s SpreadShot) float64 { return s.EntryBoard })
	r.EntryAngle = of(func(s SpreadShot) float64 { return s.EntryAngle })
	return r
}

// drawer draws the same deviates as [DrawDeviates] with one generator for all.
type drawer struct {
	source *rand.ChaCha8
	random *rand.Rand
}

func newDrawer() drawer {
	source := rand.NewChaCha8([32]byte{})
	return drawer{source, rand.New(source)}
}

func (d drawer) deviates(seed, k uint64) Deviates {
	d.source.Seed(drawKey(seed, ForDeliveries, k))
	var z Deviates
	for i := range z {
		z[i] = statistics.Normal(open(d.random))
	}
	return z
}
