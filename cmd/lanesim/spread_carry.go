package main

import (
	"context"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/carry"

	"github.com/spf13/pflag"
)

// spreadCarryFlags ask what becomes of a spread's deliveries at the pins.
type spreadCarryFlags struct {
	by        string
	games     int
	spareBall string
}

const byPocket, byCarry = "pocket", "carry"

func (o *spreadCarryFlags) add(f *pflag.FlagSet) {
	f.StringVar(&o.by, "by", byPocket, "what deliveries are judged by: pocket, or `carry` for strikes as well (assumed)")
	intVar(f, &o.games, "games", 0, "play so many `games`: their scores (assumed)")
	f.StringVar(&o.spareBall, "spare-ball", "", "the `ball` of the scenario that second balls are; each ball itself without")
}

func (o *spreadCarryFlags) check() error {
	if o.games < 0 {
		return wrongInput("--games is %d, less than 0", o.games)
	}
	if o.spareBall != "" && o.games == 0 {
		return wrongInput("--spare-ball is for --games")
	}
	return oneOf("by", o.by, []string{byPocket, byCarry})
}

// fromTable warns of what comes from the stored table of racks although the scenario has a
// rack of its own.
func fromTable(what string) string {
	return what + " from a stored table, made with the usual values of the pins, not with the scenario's"
}

// gameShots is how many first deliveries games are made up of, and gameSpares how many
// second ones of each leave.
const gameShots, gameSpares = 1000, 100

// carrySpread does what the flags ask beside the spread. What is finished is kept if it
// fails.
func (p *program) carrySpread(ctx context.Context, w *spreadWork, s *scenario.Scenario, o spreadCarryFlags) error {
	if o.by != byCarry && o.games == 0 {
		return nil
	}
	w.AtPins = &report.AtPins{SpareBall: o.spareBall}
	if !s.UsualRack() {
		text := fromTable("strikes and leaves come")
		p.warn(text)
		w.Warnings = append(w.Warnings, text)
	}
	var setups []studies.Setup
	for _, t := range w.players {
		setups = append(setups, t.setup)
	}
	if o.by == byCarry {
		var err error
		w.AtPins.Strikes, err = carry.Strikes{Setups: setups, Shots: w.Study.Shots, Misses: 300, Seed: w.Study.Seed, Settings: s.Settings, Progress: p.progress("shot")}.Run(ctx)
		if err != nil {
			return err
		}
	}
	if o.games == 0 {
		return nil
	}
	var spares []carry.Spares
	for _, t := range w.players {
		setup, err := w.spareSetup(t, o.spareBall)
		if err != nil {
			return err
		}
		spares = append(spares, carry.Spares{Setup: setup, Laydowns: carry.LaydownsIn(physics.Window{Min: 10, Max: 35}), Deliveries: gameSpares, Seed: w.Study.Seed, Deck: s.Rack, Settings: s.Settings})
	}
	var err error
	w.AtPins.Games, err = carry.Games{Setups: setups, Spares: spares, Games: o.games, Shots: gameShots, Seed: w.Study.Seed, Progress: p.progress("leave")}.Run(ctx)
	return err
}

// spareSetup is a player's with the ball for second balls.
func (w *spreadWork) spareSetup(t player, name string) (studies.Setup, error) {
	if name == "" {
		return t.setup, nil
	}
	var names []string
	for _, other := range w.players {
		if other.Bowler == t.Bowler && other.Lane == t.Lane {
			if other.ball == name {
				return other.setup, nil
			}
			names = append(names, other.ball)
		}
	}
	return studies.Setup{}, wrongInput("--spare-ball is %q: the balls are %s", name, strings.Join(names, ", "))
}
