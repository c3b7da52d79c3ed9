// Package scenario reads scenario files: YAML as a person writes it, with
// quantities in the units of the trade, to the values that the other packages
// compute with. Every error of an input is found and placed here.
package scenario

import (
	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// Scenario is what a scenario file says: every bowler throws every ball on
// every lane.
type Scenario struct {
	Title    string
	Lanes    []lane.Lane
	Balls    []ball.Specification
	Bowlers  []Bowler
	Settings physics.Settings

	// Warnings tell of values outside the rule book or of assumptions that
	// the file leaves to the program, a sentence each.
	Warnings []string
}

// Bowler is who throws, and how.
type Bowler struct {
	Name string
	PAP  ball.PAP

	// Release is complete unless AimAtPocket is set: its launch angle is
	// then still to be found.
	Release     physics.Release
	AimAtPocket bool
}

// Delivery is one ball to be thrown: a lane, a bowler and a ball of the
// scenario, by index, with the ball prepared for the bowler's axis.
type Delivery struct {
	Lane, Bowler, Ball int
	Prepared           ball.Ball
}
