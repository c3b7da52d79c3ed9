package main

import (
	"context"
	"fmt"
	"strings"

	"lanesim/report"
	"lanesim/runs"
	"lanesim/scenario"
	"lanesim/studies"
)

// player is a bowler with a ball on a lane, for a study of many shots.
type player struct {
	scenario.Delivery
	lane, ball, bowler string // names

	setup studies.Setup

	footToBall float64 // boards

	// level is the skill level that stands in for what the scenario does not
	// say; "" if it does.
	level string
}

// named is a player as reports have it.
func (t player) named() report.Player {
	return report.Player{Lane: t.lane, Ball: t.ball, Bowler: t.bowler, Setup: t.setup, FootToBall: t.footToBall, Level: t.level}
}

func namedPlayers(list []player) []report.Player {
	named := make([]report.Player, len(list))
	for i, t := range list {
		named[i] = t.named()
	}
	return named
}

// name tells a player among others by what differs.
func (t player) name(all []player) string { return t.named().Name(namedPlayers(all)) }

// players prepares every bowler × ball on every lane: aimed, where the bowler
// aims, and with a repeatability. A level, if it is not "", replaces those of the
// scenario. The warnings say what was assumed.
func (p *program) players(ctx context.Context, s *scenario.Scenario, level string) (list []player, warnings []string, err error) {
	deliveries, err := s.Deliveries()
	if err != nil {
		return nil, nil, inputError{err}
	}
	step := p.progress("aim")
	assumed := map[string]bool{}
	for i, d := range deliveries {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		bowler := s.Bowlers[d.Bowler]
		t := player{Delivery: d, lane: s.Lanes[d.Lane].Name, ball: s.Balls[d.Ball].Name, bowler: bowler.Name}
		t.footToBall = bowler.FootToBall
		t.setup = studies.Setup{Lane: s.Lanes[d.Lane], Ball: d.Prepared, Release: bowler.Release}
		repeatability := bowler.Repeatability
		if level != "" || repeatability == nil {
			t.level = level
			if level == "" {
				t.level = scenario.AssumedLevel
				if !assumed[t.bowler] {
					assumed[t.bowler] = true
					warnings = append(warnings, fmt.Sprintf("%s: repeatability is missing: %q is assumed", t.bowler, t.level))
				}
			}
			var known bool
			if repeatability, known = scenario.SkillLevel(t.level); !known {
				return nil, nil, wrongInput("--level is %q: it can be %s", t.level, strings.Join(scenario.SkillLevels(), ", "))
			}
		}
		t.setup.Repeatability = repeatability.Repeatability
		if t.setup.Release, _, err = runs.LineOf(ctx, s, d, s.Settings, t.setup.Repeatability); err != nil {
			return nil, nil, fmt.Errorf("%s with %s on %s: %w", t.bowler, t.ball, t.lane, err)
		}
		list = append(list, t)
		step(i+1, len(deliveries))
	}
	return list, warnings, nil
}
