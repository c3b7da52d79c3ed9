package compare_test

import (
	"context"
	"fmt"
	"log"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/units"
)

// exampleLane is a lane with a nearly flat pattern.
func exampleLane() lane.Lane {
	l := lane.Default()
	oil, err := patterns.Crown{Length: 42 * units.Foot, Volume: 27 * units.Millilitre, Ratio: 1.5}.Build()
	if err != nil {
		log.Fatal(err)
	}
	l.Oil = oil
	return l
}

// exampleBall has its pin so far from the axis.
func exampleBall(pinToPAP float64) ball.Specification {
	s := ball.Default()
	s.Differential = 0.048 * units.Inch
	s.Roughness = 14 * units.Microinch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pinToPAP, VALAngle: 40 * units.Degree}
	return s
}

var exampleRelease = physics.Release{
	Speed: 18 * units.MPH, RevRate: 325 * units.RPM, AxisRotation: 60 * units.Degree, AxisTilt: 13 * units.Degree, Laydown: 26,
}

// A comparison: two layouts thrown alike, on the line of the first.
func ExampleStudy() {
	delivery := func(pinToPAP float64) studies.Undrilled {
		return studies.Undrilled{Setup: studies.Setup{Lane: exampleLane(), Release: exampleRelease}, Specification: exampleBall(pinToPAP), Grip: ball.DefaultGrip(), PAP: ball.DefaultPAP()}
	}
	compared, err := compare.Study{
		Deliveries: []studies.Undrilled{delivery(3.375 * units.Inch), delivery(6.25 * units.Inch)},
		Lines:      []int{0, 0}, // both on the line that brings the first to the pocket
		Pairs:      [][2]int{{0, 1}},
		Visible:    compare.DefaultVisible(),
		Sets:       4, // 24 is usual
	}.Run(context.Background())
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(thrown.PairOf(compared, 0, "Pin near", "Pin far").Headline())
	fmt.Println("visible:", compared.Pairs[0].Visible)
	for _, m := range compared.Pairs[0].Mechanisms {
		if later := m.FrictionRead / units.Foot; math.Abs(later) >= 0.05 {
			fmt.Printf("%s: %.1f ft\n", m.Name, later)
		}
	}
	// Output:
	// Pin far reads the friction about 1.7 ft later than Pin near and ends 1 board farther right, on board 16.5, not 17.5.
	// visible: true
	// oil_on_track: 1.7 ft
}
