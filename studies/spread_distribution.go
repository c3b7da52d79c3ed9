package studies

import (
	"math"

	"lanesim/physics"
)

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
