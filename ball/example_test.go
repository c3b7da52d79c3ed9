package ball_test

import (
	"fmt"
	"log"

	"lanesim/ball"
	"lanesim/units"
)

// Drilling a ball: its holes change mass, radii of gyration and axes.
func ExampleSpecification_Drill() {
	s := ball.Default()
	s.Differential = 0.048 * units.Inch
	s.IntermediateDifferential = 0.010 * units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 65 * units.Degree, PinToPAP: 4.75 * units.Inch, VALAngle: 30 * units.Degree}
	b, d, err := s.Drill(ball.DefaultPAP(), ball.Right, ball.DefaultGrip())
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("weight %.2f lb, before %.2f lb\n", b.Mass/units.Pound, d.Before.Mass/units.Pound)
	fmt.Printf("differential %.3f in, before %.3f in\n", d.After.Differential()/units.Inch, d.Before.Differential()/units.Inch)
	fmt.Printf("intermediate differential %.3f in, before %.3f in\n",
		d.After.IntermediateDifferential()/units.Inch, d.Before.IntermediateDifferential()/units.Inch)
	fmt.Printf("RG about the axis to the PAP %.3f in\n", b.RG(b.PAP)/units.Inch)
	fmt.Printf("PSA to PAP as marked %.2f in\n", d.Before.Measures.Distances.PSAToPAP/units.Inch)
	// Output:
	// weight 14.82 lb, before 15.00 lb
	// differential 0.050 in, before 0.048 in
	// intermediate differential 0.021 in, before 0.010 in
	// RG about the axis to the PAP 2.527 in
	// PSA to PAP as marked 5.08 in
}
