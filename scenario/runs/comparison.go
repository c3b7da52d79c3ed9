package runs

import (
	"cmp"
	"context"
	"fmt"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/compare"
)

// Comparison is a comparison of the deliveries of one or several scenarios.
type Comparison struct {
	thrown.Comparison
	Scenarios  []*scenario.Scenario // of each shot
	At         []scenario.Delivery  // delivery of each shot in its scenario
	Deliveries []studies.Undrilled  // inputs of each shot, with the undrilled ball
	Chosen     [][2]int             // pairs to compare
}

// Lanes returns the lane of each shot.
func (c *Comparison) Lanes() []lane.Lane {
	return input.Each(c.Deliveries, func(d studies.Undrilled) lane.Lane { return d.Lane })
}

// Add adds the deliveries of a scenario that was read from a file.
//
// A line that is found by its breakpoint, or found and then moved, is that of the bowler's first ball on a
// lane, and is kept with other assumed values. Only the workers of work are used.
func (c *Comparison) Add(ctx context.Context, path, title string, s *scenario.Scenario, work studies.Work) error {
	deliveries, err := s.Deliveries()
	if err != nil {
		return input.AsWrong(err)
	}
	c.Title = cmp.Or(c.Title, title)
	c.Warnings = append(c.Warnings, s.Warnings...)
	var release physics.Release
	for _, d := range deliveries {
		bowler := s.Bowlers[d.Bowler]
		if !bowler.LineToFind() {
			release = bowler.Release
		} else if d.Ball == 0 {
			if release, err = comparedLine(ctx, s, d, work); err != nil {
				return fmt.Errorf("%s with %s on %s: %w", bowler.Name, s.Balls[d.Ball].Name, s.Lanes[d.Lane].Name, err)
			}
		}
		c.Shots = append(c.Shots, thrown.Shot{Lane: s.Lanes[d.Lane].Name, Ball: s.Balls[d.Ball].Name, Bowler: bowler.Name, Person: cmp.Or(bowler.Person, bowler.Name), Line: bowler.Line, FootToBall: bowler.FootToBall})
		c.Files, c.Scenarios, c.At = append(c.Files, path), append(c.Scenarios, s), append(c.At, d)
		setup := s.Setup(d)
		setup.Release = release
		c.Deliveries = append(c.Deliveries, setup)
	}
	return nil
}

// comparedLine returns a line found by its breakpoint, or at the pocket by the mean over the phases, and
// moved.
func comparedLine(ctx context.Context, s *scenario.Scenario, d scenario.Delivery, work studies.Work) (physics.Release, error) {
	bowler := s.Bowlers[d.Bowler]
	if !bowler.AimAtPocket {
		release, _, err := LineOf(ctx, s, d, s.Settings, studies.Repeatability{}, work)
		return release, err
	}
	release := bowler.Release
	found, err := compare.Study{Settings: s.Settings, Work: work}.LineOf(s.Setup(d).Setup).Run(ctx)
	if err != nil {
		return release, err
	}
	release.Angle = found.Angle()
	return bowler.Found(release)
}
