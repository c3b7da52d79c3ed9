package pins_test

import (
	"context"
	"fmt"
	"log"

	"lanesim/pins"
	"lanesim/units"
)

// A ball rolls at racks: only shares over many mean something, and they rest on
// assumed restitution and friction.
func ExampleRolls_Run() {
	// A ball of 15 lb on board 17.5 at 6°, rolling at 17 mph.
	flush := pins.Rolling(17.5, 6*units.Degree, 17*units.MPH, 15*units.Pound)
	tally, err := pins.Rolls{Delivery: func(int) pins.Delivery { return flush }, Seed: 1, Racks: 20}.Run(context.Background())
	if err != nil {
		log.Fatal(err)
	}
	strikes := tally.Strikes()
	fmt.Println("racks:", tally.Racks)
	fmt.Println("more than half are strikes:", strikes.Low > 0.5)
	fmt.Println("the ball touches the head pin first in", tally.First[0][pins.ByBall])
	// Output:
	// racks: 20
	// more than half are strikes: true
	// the ball touches the head pin first in 20
}

// One rack: which pins stand, and what touched each pin first.
func ExampleDeck_Roll() {
	deck, err := pins.NewDeck(pins.Settings{})
	if err != nil {
		log.Fatal(err)
	}
	missed := pins.Rolling(3, 0, 17*units.MPH, 15*units.Pound) // into the corner
	result := deck.Roll(missed, pins.All, 1, 0)
	fmt.Println("strike:", result.Strike())
	fmt.Println("head pin stands:", result.Standing.Has(1))
	fmt.Println("10 pin stands:", result.Standing.Has(10))
	// Output:
	// strike: false
	// head pin stands: true
	// 10 pin stands: false
}
