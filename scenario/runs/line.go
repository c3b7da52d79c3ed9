package runs

import (
	"context"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/carry"
)

// LineOf returns the release of a delivery with its line: the given one, or the one found and moved by the
// bowler's fields. It also returns the launch angles to the pocket, nil if the bowler does not aim at it. The
// repeatability is used if the bowler has none. Only the workers of work are used.
func LineOf(ctx context.Context, s *scenario.Scenario, d scenario.Delivery, settings physics.Settings, repeatability studies.Repeatability, work studies.Work) (physics.Release, *aim.PocketResult, error) {
	bowler, setup := s.Bowlers[d.Bowler], s.Setup(d).Setup
	setup.Repeatability, work.Progress = repeatability, nil
	release := bowler.Release
	switch {
	case bowler.AimAtPins != 0:
		var err error
		release, err = atPins(ctx, s, setup, bowler.AimAtPins, work)
		return release, nil, err
	case bowler.AimAtPocket:
		found, err := aim.Pocket{Setup: setup, Settings: settings, Work: work}.Run(ctx)
		if err != nil {
			return release, nil, err
		}
		release.Angle = found.Angle()
		release, err = bowler.Found(release)
		return release, &found, err
	case bowler.Breakpoint != nil:
		release, err := aim.BreakpointLine{Setup: setup, Settings: settings, Arrows: bowler.Breakpoint.Arrows, Breakpoint: bowler.Breakpoint.Board, Work: work}.Run(ctx)
		if err == nil {
			release, err = bowler.Found(release)
		}
		return release, nil, err
	}
	return release, nil, nil
}

// atPins returns the release that converts a leave most often from the bowler's laydown.
func atPins(ctx context.Context, s *scenario.Scenario, setup studies.Setup, leave pins.Leave, work studies.Work) (physics.Release, error) {
	q := carry.Spares{Setup: setup, Deliveries: 1, Seed: 1, Deck: s.Rack, Settings: s.Settings, Work: work}
	if err := q.Prepare(ctx); err != nil {
		return physics.Release{}, err
	}
	line, err := q.Find(ctx, leave)
	return line.Release, err
}

// RepeatabilityOf returns a bowler's repeatability, that of the assumed level if the scenario gives none.
func RepeatabilityOf(b scenario.Bowler) studies.Repeatability {
	if b.Repeatability != nil {
		return b.Repeatability.Repeatability
	}
	level, _ := scenario.SkillLevel(scenario.AssumedLevel)
	return level.Repeatability
}
