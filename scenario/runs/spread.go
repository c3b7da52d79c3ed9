package runs

import (
	"context"
	"strings"

	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/carry"
)

// SpreadPairs returns the pairs of players whose pocket shares are compared: of one bowler with two balls or
// on two lanes.
func SpreadPairs(list []Player) [][2]int {
	var pairs [][2]int
	for i, a := range list {
		for j, b := range list[i+1:] {
			if a.At.Bowler == b.At.Bowler && (a.At.Ball == b.At.Ball || a.At.Lane == b.At.Lane) {
				pairs = append(pairs, [2]int{i, i + 1 + j})
			}
		}
	}
	return pairs
}

// drawnPaths is the number of deliveries whose paths a picture shows.
const drawnPaths = 60

// ThrowSpreadPaths throws each player's line and first deliveries again, with paths.
func ThrowSpreadPaths(w *studied.Spread) error {
	settings := studies.ForManyShots(w.Study.Settings)
	settings.PathSpacing = 0
	thrower := physics.NewThrower()
	for _, t := range w.Players {
		deliverer, err := t.Setup.Repeatability.Deliverer(t.Setup.Release)
		if err != nil {
			return err
		}
		var paths studied.SpreadPaths
		if paths.Line, err = thrower.Throw(t.Setup.Lane, t.Setup.Ball, t.Setup.Release, settings); err != nil {
			return err
		}
		for k := range min(drawnPaths, w.Result.Shots) {
			shot, err := thrower.Throw(t.Setup.Lane, t.Setup.Ball, deliverer.Delivery(studies.DrawDeviates(w.Study.Seed, uint64(k))), settings)
			if err != nil {
				return err
			}
			paths.Shots = append(paths.Shots, shot)
		}
		w.Paths = append(w.Paths, paths)
	}
	return nil
}

// SpreadAtPins computes the results of a spread's deliveries at the pins.
type SpreadAtPins struct {
	Strikes   bool   // compute strikes and leaves of the first balls
	Games     int    // number of games to play; 0 for none
	SpareBall string // name of the spare ball; "" if each player uses the same ball

	Progress func(what string) func(done, total int) // returns the progress function for work of a name
}

// Run computes the results at the pins with the workers of the spread and adds them to it. After an error or
// an interrupt the finished parts remain.
func (q SpreadAtPins) Run(ctx context.Context, w *studied.Spread, players []Player, s *scenario.Scenario) (err error) {
	w.AtPins = &studied.AtPins{SpareBall: q.SpareBall}
	setups := Setups(players)
	if q.Strikes {
		w.AtPins.Strikes, err = carry.Strikes{Setups: setups, Shots: w.Study.Shots, Misses: 300, Seed: w.Study.Seed, Settings: s.Settings, Work: studies.Work{Workers: w.Study.Workers, Progress: q.Progress("shot")}}.Run(ctx)
		if err != nil {
			return err
		}
	}
	if q.Games == 0 {
		return nil
	}
	var spares []carry.Spares
	for _, t := range players {
		setup, err := spareSetup(players, t, q.SpareBall)
		if err != nil {
			return err
		}
		spares = append(spares, carry.Spares{
			Setup: setup, Laydowns: carry.LaydownsIn(physics.Window{Min: 10, Max: 35}), Seed: w.Study.Seed,
			Deck: s.Rack, Settings: s.Settings, Work: studies.Work{Workers: w.Study.Workers},
		})
	}
	w.AtPins.Games, err = carry.Games{Setups: setups, Spares: spares, Games: q.Games, Seed: w.Study.Seed, Work: studies.Work{Workers: w.Study.Workers, Progress: q.Progress("leave")}}.Run(ctx)
	return err
}

// spareSetup returns a player's setup with the spare ball.
func spareSetup(players []Player, t Player, name string) (studies.Setup, error) {
	if name == "" {
		return t.Setup, nil
	}
	var names []string
	for _, other := range players {
		if other.At.Bowler == t.At.Bowler && other.At.Lane == t.At.Lane {
			if other.Ball == name {
				return other.Setup, nil
			}
			names = append(names, other.Ball)
		}
	}
	return studies.Setup{}, input.Wrong("--spare-ball is %q: the balls are %s", name, strings.Join(names, ", "))
}
