package runs

import (
	"context"
	"fmt"

	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/report/layouts"
	"lanesim/report/thrown"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Thrown is a shot with its delivery.
type Thrown struct {
	At   scenario.Delivery // delivery of the scenario
	Made thrown.Shot
}

// MadeOf returns the shots.
func MadeOf(shots []Thrown) []thrown.Shot {
	return input.Each(shots, func(t Thrown) thrown.Shot { return t.Made })
}

// ThrowAll throws all shots of a scenario, with their paths and inputs if paths is set. Tracks on the ball,
// with points trackSpacing rad of turning apart, are checked for warnings and kept with the paths. The work's
// progress counts shots.
func ThrowAll(ctx context.Context, s *scenario.Scenario, paths bool, trackSpacing float64, work studies.Work, warn func(text string)) ([]Thrown, error) {
	deliveries, err := s.Deliveries()
	if err != nil {
		return nil, input.AsWrong(err)
	}
	thrower := physics.NewThrower()
	settings := s.Settings
	settings.ExchangeSpacing, settings.TrackSpacing = -1, trackSpacing
	if !paths {
		settings.PathSpacing = -1
	}
	var shots []Thrown
	for i, d := range deliveries {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		bowler := s.Bowlers[d.Bowler]
		t := thrown.Shot{Lane: s.Lanes[d.Lane].Name, Ball: s.Balls[d.Ball].Name, Bowler: bowler.Name, Pocket: thrown.Pocket(settings, bowler.Release), FootToBall: bowler.FootToBall}
		t.Release, t.Aimed, t.Shot, err = Deliver(ctx, thrower, s, d, settings, work)
		if err == nil && paths {
			t.Inputs, err = s.InputsFrom(d, t.Release.Laydown, t.Release.Angle)
		}
		if err != nil {
			return nil, fmt.Errorf("%s with %s on %s: %w", t.Bowler, t.Ball, t.Lane, err)
		}
		if warning := layouts.OverHoles(t.Shot.Track, d.Drilling); warning != "" {
			warn(fmt.Sprintf("%s with %s on %s: %s", t.Bowler, t.Ball, t.Lane, warning))
		}
		if !paths {
			t.Shot.Track = nil
		}
		shots = append(shots, Thrown{d, t})
		work.Report(i+1, len(deliveries))
	}
	return shots, nil
}

// Deliver throws one shot of a scenario on its bowler's line; see [LineOf].
func Deliver(ctx context.Context, t *physics.Thrower, s *scenario.Scenario, d scenario.Delivery, settings physics.Settings, work studies.Work) (physics.Release, *aim.PocketResult, physics.Shot, error) {
	release, aimed, err := LineOf(ctx, s, d, settings, RepeatabilityOf(s.Bowlers[d.Bowler]), work)
	if err != nil {
		return release, nil, physics.Shot{}, err
	}
	shot, err := t.Throw(s.Lanes[d.Lane], d.Prepared, release, settings)
	return release, aimed, shot, err
}
