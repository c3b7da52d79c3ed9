package aim

import (
	"context"
	"fmt"
	"math"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// widestAngle is the largest launch angle searched, in degrees to either side.
const widestAngle = 6.0

// Pocket finds the launch angles with which a ball enters in the middle of the pocket.
type Pocket struct {
	Setup    studies.Setup // its launch angle and its repeatability do not matter
	Settings physics.Settings

	// Phases is the number of evenly spaced phases, that of the release included, over which the entry board
	// is averaged. 0 means 1.
	Phases int

	// Within is the allowed distance of the entry board from the middle of the pocket, in boards; 0 means
	// 10⁻⁴. The computed entry board is not a smooth function of the angle: adaptive steps make it jump by
	// part of the error of the tolerance. Where it jumps over the middle, the result is as near as the jump
	// allows.
	Within float64

	studies.Work // its progress counts the angles tried first
}

// PocketResult has the launch angles found.
type PocketResult struct {
	Angles []float64 // rad, ascending
	Used   int       // index of the angle of smallest size
}

// Angle returns the launch angle of smallest size in rad.
func (a PocketResult) Angle() float64 { return a.Angles[a.Used] }

// NoPocketError means that no launch angle within ±6° brings the ball to the middle of the pocket.
type NoPocketError struct {
	// Board is the middle of the pocket.
	Board float64

	// Nearest is the nearest board at the pins that was reached, and Angle its launch angle in rad; NaN if
	// the ball never stayed on the lane.
	Nearest, Angle float64
}

func (e *NoPocketError) Error() string {
	if math.IsNaN(e.Nearest) {
		return fmt.Sprintf("no launch angle within ±%g° reaches board %.4g at the pins: the ball never stays on the lane", widestAngle, e.Board)
	}
	return fmt.Sprintf("no launch angle within ±%g° reaches board %.4g at the pins: the nearest board reached is %.4g, at %.4g°",
		widestAngle, e.Board, e.Nearest, e.Angle/units.Degree)
}

// Run returns all launch angles within ±6° with which the ball stays on the lane and enters, in the mean over
// the phases, in the middle of the pocket.
//
// Run tries angles a tenth of a degree apart with the tolerance of studies, and more where the entry board
// turns near the pocket and beside angles that end in a gutter. It then locates each crossing with the
// tolerance of the settings.
//
// The error is a [*NoPocketError] if there is no such angle, that of [physics.Throw] for a shot, or that of
// the context.
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

// AtPocket returns the setup's release with the launch angle of smallest size that [Pocket.Run] finds, for
// one phase and with one worker.
func AtPocket(of studies.Setup, s physics.Settings) (physics.Release, error) {
	found, err := Pocket{Setup: of, Settings: s, Work: studies.Work{Workers: 1}}.Run(context.Background())
	if err == nil {
		of.Release.Angle = found.Angle()
	}
	return of.Release, err
}
