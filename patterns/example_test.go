package patterns_test

import (
	"fmt"
	"log"

	"lanesim/patterns"
	"lanesim/units"
)

// A pattern is built from a few numbers, which are met exactly, and measured.
func ExampleCrown_Build() {
	oil, err := patterns.Crown{Length: 42 * units.Foot, Volume: 27 * units.Millilitre, Ratio: 3}.Build()
	if err != nil {
		log.Fatal(err)
	}
	m := patterns.Measure(oil, patterns.DefaultBoardSets())
	fmt.Printf("%.0f ft, %.0f mL, ratio %.1f\n", m.Length/units.Foot, m.Volume/units.Millilitre, m.Ratio.Both)
	fmt.Printf("mean film %.1f units, leaves the oil near board %.0f\n", m.MeanUnits, m.ExitBoard)
	fmt.Printf("in the middle at 8 ft: %.0f units\n", m.Sections[0].Units[19])
	// Output:
	// 42 ft, 27 mL, ratio 3.0
	// mean film 11.1 units, leaves the oil near board 11
	// in the middle at 8 ft: 29 units
}
