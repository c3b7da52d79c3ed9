package aim

import (
	"context"
	"fmt"
	"math"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// widestAngle bounds in degrees the launch angles among which is looked for the
// pocket.
const widestAngle = 6.0

// Pocket asks for the launch angles with which a ball enters in the middle of the
// pocket.
type Pocket struct {
	Setup    studies.Setup // its launch angle and its repeatability do not matter
	Settings physics.Settings

	// Phases is the number of phases of the release over which the entry board is
	// averaged: that of the release and others at even distances. 0 means 1.
	Phases int

	// Within is how near to the middle of the pocket, in boards, an angle has to
	// bring the ball; 0 means 10⁻⁴. The entry board as computed is no smooth
	// function of the angle: adaptive steps make it jump by some of the error
	// that the tolerance allows. Where a jump passes over the middle, the
	// result is as near as the jump lets it come.
	Within float64

	studies.Work // its progress is that of the angles that are tried first
}

// PocketResult holds the launch angles that were found.
type PocketResult struct {
	Angles []float64 // rad, ascending
	Used   int       // the index of the one with the smallest |angle|
}

// Angle returns the launch angle in rad that is used.
func (a PocketResult) Angle() float64 { return a.Angles[a.Used] }

// NoPocketError says that no launch angle within ±6° brings the ball to the
// middle of the pocket.
type NoPocketError struct {
	// Board is the middle of the pocket.
	Board float64

	// Nearest is the board nearest to it at which the ball was found to
	// arrive at the pins, and Angle the launch angle in rad for it; NaN if it
	// never stayed on the lane.
	Nearest, Angle float64
}

func (e *NoPocketError) Error() string {
	if math.IsNaN(e.Nearest) {
		return fmt.Sprintf("no launch angle within ±%g° reaches board %.4g at the pins: the ball never stays on the lane", widestAngle, e.Board)
	}
	return fmt.Sprintf("no launch angle within ±%g° reaches board %.4g at the pins: the nearest board reached is %.4g, at %.4g°",
		widestAngle, e.Board, e.Nearest, e.Angle/units.Degree)
}

// Run returns all launch angles within ±6° for which the ball stays on the lane
// and enters in the middle of the pocket window, as the mean over the phases.
//
// Angles a tenth of a degree apart are tried with the tolerance of studies. More
// are tried where the entry board turns back near the pocket and beside angles
// that end in a gutter. Each crossing is then narrowed down with the tolerance of
// the settings.
//
// The error is a [*NoPocketError] if there is no such angle, that of
// [physics.Throw] if a shot breaks down, and that of the context if it ends.
func (a Pocket) Run(ctx context.Context) (PocketResult, error) {
	c := a.curve()
	roots, all, err := c.find(ctx)
	if err != nil {
		return PocketResult{}, err
	}
	if len(roots) == 0 {
		none := &NoPocketError{Board: c.target, Nearest: math.NaN(), Angle: math.NaN()}
		best := math.Inf(1)
		for _, t := range all {
			if off := math.Abs(t.off); t.pins && off < best {
				best, none.Nearest, none.Angle = off, t.off+c.target, t.angle*units.Degree
			}
		}
		return PocketResult{}, none
	}
	var found PocketResult
	for i, t := range roots {
		found.Angles = append(found.Angles, t.angle*units.Degree)
		if math.Abs(t.angle) < math.Abs(roots[found.Used].angle) {
			found.Used = i
		}
	}
	return found, nil
}

// AtPocket returns the setup's release with the launch angle of smallest size that
// [Pocket.Run] finds for one shot, by a single worker.
func AtPocket(of studies.Setup, s physics.Settings) (physics.Release, error) {
	found, err := Pocket{Setup: of, Settings: s, Work: studies.Work{Workers: 1}}.Run(context.Background())
	if err == nil {
		of.Release.Angle = found.Angle()
	}
	return of.Release, err
}
