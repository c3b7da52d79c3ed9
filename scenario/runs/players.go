package runs

import (
	"context"
	"fmt"
	"strings"

	"lanesim/internal/input"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
)

// Player is a bowler with a ball on a lane, for a study of many shots.
type Player struct {
	At scenario.Delivery // delivery of the scenario
	studied.Player
}

// Names returns players for reports.
func Names(list []Player) []studied.Player {
	return input.Each(list, func(t Player) studied.Player { return t.Player })
}

// Setups returns the setups of players.
func Setups(list []Player) []studies.Setup {
	return input.Each(list, func(t Player) studies.Setup { return t.Setup })
}

// Players prepares every bowler with every ball on every lane: with the line found if the bowler aims, and
// with a repeatability. A level that is not "" replaces those of the scenario. Warnings name assumed levels.
// The work's progress counts players.
func Players(ctx context.Context, s *scenario.Scenario, level string, work studies.Work) (list []Player, warnings []string, err error) {
	deliveries, err := s.Deliveries()
	if err != nil {
		return nil, nil, input.AsWrong(err)
	}
	assumed := map[string]bool{}
	for i, d := range deliveries {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		bowler := s.Bowlers[d.Bowler]
		t := Player{At: d, Player: studied.Player{Lane: s.Lanes[d.Lane].Name, Ball: s.Balls[d.Ball].Name, Bowler: bowler.Name, FootToBall: bowler.FootToBall}}
		t.Setup = s.Setup(d).Setup
		repeatability := bowler.Repeatability
		if level != "" || repeatability == nil {
			t.Level = level
			if level == "" {
				t.Level = scenario.AssumedLevel
				if !assumed[t.Bowler] {
					assumed[t.Bowler] = true
					warnings = append(warnings, t.LevelCaution())
				}
			}
			var known bool
			if repeatability, known = scenario.SkillLevel(t.Level); !known {
				return nil, nil, input.Wrong("--level is %q: it can be %s", t.Level, strings.Join(scenario.SkillLevels(), ", "))
			}
		}
		t.Setup.Repeatability = repeatability.Repeatability
		if t.Setup.Release, _, err = LineOf(ctx, s, d, s.Settings, t.Setup.Repeatability, work); err != nil {
			return nil, nil, fmt.Errorf("%s with %s on %s: %w", t.Bowler, t.Ball, t.Lane, err)
		}
		list = append(list, t)
		work.Report(i+1, len(deliveries))
	}
	return list, warnings, nil
}
