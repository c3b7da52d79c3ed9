package studies_test

import (
	"context"
	"fmt"
	"log"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// A sweep: many shots by several workers, handed over in order.
func ExampleInOrder() {
	release := physics.Release{Speed: 18 * units.MPH, RevRate: 325 * units.RPM, AxisRotation: 60 * units.Degree, AxisTilt: 13 * units.Degree, Laydown: 26}
	specification := ball.Default()
	specification.Differential = 0.048 * units.Inch
	pins := []float64{1, 2, 3.375, 5, 6.25} // in
	err := studies.InOrder[float64]{
		End: uint64(len(pins)),
		Worker: func() func(k uint64) (float64, error) {
			thrower := physics.NewThrower()
			return func(k uint64) (float64, error) {
				drilled := specification
				drilled.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pins[k] * units.Inch, VALAngle: 40 * units.Degree}
				b, err := drilled.Prepare(ball.DefaultPAP(), ball.Right)
				if err != nil {
					return 0, err
				}
				shot, err := thrower.Throw(lane.Default(), b, release, studies.ForManyShots(physics.Settings{}))
				return shot.Summary.Flare, err
			}
		},
		Emit: func(k uint64, flare float64) error {
			fmt.Printf("pin to PAP %.3g in: flare %.1f in\n", pins[k], flare/units.Inch)
			return nil
		},
	}.Run(context.Background())
	if err != nil {
		log.Fatal(err)
	}
	// Output:
	// pin to PAP 1 in: flare 1.7 in
	// pin to PAP 2 in: flare 2.8 in
	// pin to PAP 3.38 in: flare 3.2 in
	// pin to PAP 5 in: flare 2.2 in
	// pin to PAP 6.25 in: flare 0.5 in
}
