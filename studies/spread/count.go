package spread

import (
	"math"

	"lanesim/physics"
	"lanesim/studies"
)

// scattered counts a setup's deliveries.
func scattered(each []ShotResult) SetupResult {
	r := SetupResult{Each: each, Pocket: pocketsOf(each), GoodAngle: studies.CountWhere(each, func(s ShotResult) bool { return s.GoodAngle }), Ends: map[physics.Status]int{}}
	r.Line = ShotResult{EntryBoard: math.NaN(), EntryAngle: math.NaN()} // until it is thrown
	var ends [256]int
	for _, s := range each {
		ends[s.end]++
		if s.reached() {
			r.EntryBoard.Of++
		}
	}
	for i, n := range ends {
		if n > 0 {
			r.Ends[shotEnds[i]] = n
		}
	}
	values := make([]float64, r.EntryBoard.Of)
	of := func(value func(ShotResult) float64) studies.Distribution {
		values = values[:0]
		for _, s := range each {
			if s.reached() {
				values = append(values, value(s))
			}
		}
		return studies.NewDistribution(values)
	}
	r.EntryBoard = of(func(s ShotResult) float64 { return s.EntryBoard })
	r.EntryAngle = of(func(s ShotResult) float64 { return s.EntryAngle })
	return r
}
