package scenario_test

import (
	"fmt"
	"log"
	"strings"

	"lanesim/physics"
	"lanesim/scenario"
	"lanesim/units"
)

// Read returns the values that physics.Throw takes. It reports all errors of the text at
// once, each with its place.
func ExampleRead() {
	const text = `
lane: {oil: flat}
ball: {weight: 15 lb, diameter: 8.58 in, rg: 2.50 in}
bowler: {speed: 18 mph, rev_rate: 300 rpm, axis_rotation: 45 deg, axis_tilt: 10 deg, laydown: 20, angle: 1 deg}
`
	s, err := scenario.Read("shot.yaml", []byte(text), nil, []string{"bowler.laydown=22"})
	if err != nil {
		log.Fatal(err)
	}
	w := s.Bowlers[0]
	b, _, err := s.Balls[0].Drill(w.PAP, w.Release.Hand, s.Grips[0])
	if err != nil {
		log.Fatal(err)
	}
	shot, err := physics.Throw(s.Lanes[0], b, w.Release, s.Settings)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s, laid down on board %g\n", shot.Status, w.Release.Laydown)
	fmt.Printf("weight drilled %.1f lb\n", b.Mass/units.Pound)

	_, err = scenario.Read("wrong.yaml", []byte("lane: {oil: flat}\nball: {wieght: 15 lb}\nbowler: {speed: 18 lb}"), nil, nil)
	first, _, _ := strings.Cut(err.Error(), "\n")
	fmt.Println(first)
	// Output:
	// pins, laid down on board 22
	// weight drilled 14.8 lb
	// wrong.yaml:2:8: ball.wieght: unknown key "wieght"
}
