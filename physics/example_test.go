package physics_test

import (
	"fmt"
	"log"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/units"
)

// One throw: an oiled lane, a drilled ball and a release give a shot.
func ExampleThrow() {
	oil, err := patterns.Crown{Length: 40 * units.Foot, Volume: 24.5 * units.Millilitre, Ratio: 10}.Build()
	if err != nil {
		log.Fatal(err)
	}
	l := lane.Default()
	l.Oil = oil

	s := ball.Default()
	s.Differential = 0.048 * units.Inch
	s.Roughness = 14 * units.Microinch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 4.5 * units.Inch, VALAngle: 40 * units.Degree}
	b, _, err := s.Drill(ball.DefaultPAP(), ball.Right, ball.DefaultGrip())
	if err != nil {
		log.Fatal(err)
	}

	release := physics.Release{
		Speed: 18 * units.MPH, RevRate: 325 * units.RPM,
		AxisRotation: 60 * units.Degree, AxisTilt: 13 * units.Degree,
		Laydown: 28, Angle: 2.7 * units.Degree,
	}
	shot, err := physics.Throw(l, b, release, physics.Settings{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("ended:", shot.Status)
	if at := shot.Events.FrictionRead; at != nil {
		fmt.Printf("friction read: %.0f ft\n", at.Distance/units.Foot)
	}
	if at := shot.Events.Pins; at != nil {
		fmt.Printf("entry: board %.1f at %.1f°\n", at.Board, at.Heading/units.Degree)
	}
	// Output:
	// ended: pins
	// friction read: 36 ft
	// entry: board 17.3 at 4.6°
}

// To throw many shots keep a Thrower, and a looser tolerance.
func ExampleThrower() {
	l := lane.Default() // dry
	b, _, err := ball.Default().Drill(ball.DefaultPAP(), ball.Right, ball.Grip{Kind: ball.Undrilled})
	if err != nil {
		log.Fatal(err)
	}
	thrower := physics.NewThrower()
	for _, revs := range []float64{0, 150, 300} {
		r := physics.Release{Speed: 18 * units.MPH, RevRate: revs * units.RPM, AxisRotation: 10 * units.Degree, Laydown: 20}
		shot, err := thrower.Throw(l, b, r, physics.Settings{Tolerance: 1e-4, EndOnly: true})
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%3.0f rpm: %s", revs, shot.Status)
		if shot.Status == physics.Pins {
			fmt.Printf(", board %.1f", shot.EntryBoard())
		}
		fmt.Println()
	}
	// Output:
	// 0 rpm: pins, board 20.0
	// 150 rpm: pins, board 26.5
	// 300 rpm: pins, board 32.9
}
