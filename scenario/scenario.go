package scenario

import (
	"fmt"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/studies"
	"lanesim/studies/compare"
)

// Scenario is a scenario file as read: every bowler throws every ball on every lane. Make
// one with [Read].
type Scenario struct {
	Title    string
	Lanes    []lane.Lane
	Balls    []ball.Specification
	Bowlers  []Bowler
	Settings physics.Settings

	// Visible is the smallest visible difference between shots.
	Visible compare.Visible

	// Grips are the balls' grips, one for each of Balls.
	Grips []ball.Grip

	// BallsWritten and BowlersWritten are the quantities of Balls and Bowlers as
	// they were written.
	BallsWritten, BowlersWritten []Written

	// Clearances are the distances on a drilled ball below which a warning is given.
	Clearances ball.Clearances

	// Rack has the constants of the pins; a 0 in the file is −1 here, see [pins.Settings].
	Rack pins.Settings

	// Session is the order of turns; nil if the file has none.
	Session *Session

	// Warnings are about values outside the limits listed and about assumptions in
	// place of values not given, a sentence each.
	Warnings []string

	// oils are the patterns of Lanes, as they are written out again.
	oils []oil
}

// Bowler is who throws, and how.
type Bowler struct {
	Name string

	// Person and Line are the parts of the name if the scenario lists lines: the
	// bowler's name and the line's. Both are empty if it lists none.
	Person, Line string

	PAP ball.PAP

	// Release is complete unless AimAtPocket, AimAtPins or Breakpoint is set: its
	// launch angle is then still to be found, and with Breakpoint its laydown.
	Release     physics.Release
	AimAtPocket bool

	// AimAtPins is the leave at which the bowler aims, 0 for none.
	AimAtPins pins.Leave

	// Breakpoint is the line to be found by its breakpoint, nil for none.
	Breakpoint *Breakpoint

	// Move is the move of the line after it is found. It is zero for a complete
	// release, which is already moved.
	Move studies.LineMove

	// FootToBall is the distance in boards from the sliding foot to the ball's
	// centre at the laydown.
	FootToBall float64

	// Repeatability is how alike the bowler's deliveries are; nil if the file does
	// not give it.
	Repeatability *Repeatability
}

// Breakpoint is a line over a board at the arrows with its breakpoint on another.
type Breakpoint struct{ Arrows, Board float64 }

// Repeatability is how alike a bowler's deliveries are.
type Repeatability struct {
	// Level is the skill level that was named, "" for given deviations. The
	// deviations of a level are assumed.
	Level string

	studies.Repeatability
}

// Session is the order of turns.
type Session struct {
	Order []Turn
}

// Turn is a bowler's turn with one ball, of Games × Deliveries deliveries.
type Turn struct {
	Bowler, Ball int // indices into the scenario's bowlers and balls
	Games        int
	Deliveries   int // in a game
}

// Delivery is a shot to throw: a lane, a bowler and a ball of the scenario, by index, with
// the ball drilled for the bowler's axis.
type Delivery struct {
	Lane, Bowler, Ball int
	Prepared           ball.Ball
	Drilling           ball.Drilling
}

// Deliveries lists every bowler × ball on every lane, in the order of lanes, then bowlers,
// then balls.
func (s *Scenario) Deliveries() ([]Delivery, error) {
	var list []Delivery
	for l := range s.Lanes {
		for w, bowler := range s.Bowlers {
			for b, specification := range s.Balls {
				prepared, drilling, err := specification.Drill(bowler.PAP, bowler.Release.Hand, s.Grips[b])
				if err != nil {
					return nil, fmt.Errorf("%s for %s: %w", specification.Name, bowler.Name, err)
				}
				list = append(list, Delivery{Lane: l, Bowler: w, Ball: b, Prepared: prepared, Drilling: drilling})
			}
		}
	}
	return list, nil
}

// Setup returns a delivery as the input of a study, without repeatability.
func (s *Scenario) Setup(d Delivery) studies.Undrilled {
	bowler := s.Bowlers[d.Bowler]
	return studies.Undrilled{
		Setup:         studies.Setup{Lane: s.Lanes[d.Lane], Ball: d.Prepared, Release: bowler.Release},
		Specification: s.Balls[d.Ball], Grip: s.Grips[d.Ball], PAP: bowler.PAP,
	}
}

// Heading returns the title or, without one, the names of the bowler, ball and lane of
// which there is only one.
func (s *Scenario) Heading() string {
	if s.Title != "" {
		return s.Title
	}
	var names []string
	if len(s.Bowlers) == 1 {
		names = append(names, s.Bowlers[0].Name)
	}
	if len(s.Balls) == 1 {
		names = append(names, s.Balls[0].Name)
	}
	if len(s.Lanes) == 1 {
		names = append(names, s.Lanes[0].Name)
	}
	return strings.Join(names, ", ")
}
