package main

import (
	"context"
	"fmt"
	"strings"

	"lanesim/physics"
	"lanesim/pins"
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

// spreadCarry is what becomes of deliveries at the pins.
type spreadCarry struct {
	strikes []carry.StrikeShares
	games   []carry.Played
	spare   string // ball of second balls; "" for each ball itself
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
	w.carry = &spreadCarry{spare: o.spareBall}
	if !s.UsualRack() {
		text := "strikes and leaves come from a stored table, made with the usual values of the pins, not with the scenario's"
		p.warn(text)
		w.warnings = append(w.warnings, text)
	}
	var setups []studies.Setup
	for _, t := range w.players {
		setups = append(setups, t.setup)
	}
	if o.by == byCarry {
		var err error
		w.carry.strikes, err = carry.Strikes{Setups: setups, Shots: w.study.Shots, Misses: 300, Seed: w.study.Seed, Settings: s.Settings, Progress: p.progress("shot")}.Run(ctx)
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
		spares = append(spares, carry.Spares{Setup: setup, Laydowns: laydownsIn(physics.Window{Min: 10, Max: 35}), Deliveries: gameSpares, Seed: w.study.Seed, Deck: s.Rack, Settings: s.Settings})
	}
	var err error
	w.carry.games, err = carry.Games{Setups: setups, Spares: spares, Games: o.games, Shots: gameShots, Seed: w.study.Seed, Progress: p.progress("leave")}.Run(ctx)
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

// document tells the strikes and the games to people.
func (c *spreadCarry) document(w *spreadWork) (doc report.Document) {
	if c == nil {
		return doc
	}
	if len(c.strikes) > 0 {
		doc.Head("strikes with the first ball (assumed)")
		g := report.Grid{Left: []bool{true, false, true}, Rows: [][]string{{"", "strikes", "95 % interval", "pins, mean", "splits", "commonest leaves"}}}
		for i, s := range c.strikes {
			var leaves []string
			for _, l := range s.Commonest(commonLeaves) {
				leaves = append(leaves, l.String()+" "+report.Percent(s.Leaves[l], 0))
			}
			g.Rows = append(g.Rows, []string{w.players[i].name(w.players), report.Share(s.Share.Mean), report.Share(s.Share.Interval.Low) + " to " + report.Share(s.Share.Interval.High),
				report.Figure(s.Down.Mean), report.Share(s.Splits.Mean), strings.Join(leaves, ", ")})
		}
		doc.Table(g)
		for i, s := range c.strikes {
			if len(s.Without) == 0 {
				continue
			}
			doc.Say("strikes without one of the deviations, points: " + w.players[i].name(w.players))
			g := report.Grid{Left: []bool{true}, Heads: -1}
			for _, v := range s.Without {
				g.Rows = append(g.Rows, []string{report.MissNames[v.Of], report.Points(v.Gain.Mean), report.PointsBetween(v.Gain.Interval)})
			}
			doc.Table(g)
		}
		for _, d := range w.result.Differences {
			if len(c.strikes) <= max(d.A, d.B) {
				continue // interrupted
			}
			off := c.strikes[d.B].Less(c.strikes[d.A])
			a, z := report.Contrast(w.players[d.A].named(), w.players[d.B].named())
			doc.Say(fmt.Sprintf("strikes, %s less %s: %s points, 95 %% interval %s to %s%s", z, a, report.Points(off.Mean), report.Points(off.Interval.Low), report.Points(off.Interval.High), notSignificant(off.Interval)))
		}
	}
	if len(c.games) > 0 {
		with := "each with its own ball"
		if c.spare != "" {
			with = "with " + c.spare
		}
		doc.Head(fmt.Sprintf("%s (assumed), spares %s", report.Counting(len(c.games[0].Scores), "game"), with))
		g := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "mean score", "95 % interval", "sd", "strikes", "spares", "single pins", "splits left"}}}
		for i, played := range c.games {
			g.Rows = append(g.Rows, []string{w.players[i].name(w.players), report.Fixed(played.Mean, 1), report.Fixed(played.Interval.Low, 1) + " to " + report.Fixed(played.Interval.High, 1), report.Fixed(played.SD, 1),
				share(played.Strikes, played.First), share(played.Converted, played.Leaves), share(played.SinglesConverted, played.SinglePins), share(played.Splits, played.Leaves)})
		}
		doc.Table(g)
		for _, d := range w.result.Differences {
			off, within := c.games[d.B].Less(c.games[d.A])
			a, z := report.Contrast(w.players[d.A].named(), w.players[d.B].named())
			doc.Say(fmt.Sprintf("%s is worth %s pins a game against %s, 95 %% interval %s to %s%s", z, report.Signed(off, 1), a, report.Signed(within.Low, 1), report.Signed(within.High, 1), notSignificant(within)))
		}
	}
	doc.Say("Strikes, leaves and scores are assumed: they rest on restitution, friction and\nscatter of the pins, of which no measured values are published.")
	return doc
}

func share(n, of int) string { return report.Share(float64(n) / float64(of)) }

func notSignificant(i studies.Interval) string {
	if i.Holds(0) {
		return ", not significant"
	}
	return ""
}

// record is what becomes of the deliveries at the pins, for JSON.
func (c *spreadCarry) record(w *spreadWork) report.Object {
	ends := func(i studies.Interval) []float64 { return []float64{i.Low, i.High} }
	deliveries, differences := report.List{}, report.List{}
	for i, t := range w.players {
		o := report.Object{{Key: "bowler", Value: t.bowler}, {Key: "ball", Value: t.ball}, {Key: "lane", Value: t.lane}}
		if i < len(c.strikes) {
			s := c.strikes[i]
			leaves := report.List{}
			for _, l := range s.Commonest(1 << pins.Count) {
				leaves = append(leaves, report.Object{{Key: "pins", Value: l.String()}, {Key: "share", Value: s.Leaves[l]}, {Key: "split", Value: l.Split()}})
			}
			gains := report.Object{}
			for _, v := range s.Without {
				gains = append(gains, report.Member{Key: v.Of.String(), Value: report.Object{{Key: "gain", Value: v.Gain.Mean}, {Key: "gain_interval", Value: ends(v.Gain.Interval)}}})
			}
			o = append(o, report.Member{Key: "strike_share", Value: s.Share.Mean}, report.Member{Key: "strike_interval", Value: ends(s.Share.Interval)},
				report.Member{Key: "pins_down_mean", Value: s.Down.Mean}, report.Member{Key: "split_share", Value: s.Splits.Mean},
				report.Member{Key: "leaves", Value: leaves}, report.Member{Key: "strike_share_without", Value: gains})
		}
		if i < len(c.games) {
			g := c.games[i]
			o = append(o, report.Member{Key: "games", Value: report.Object{
				{Key: "played", Value: len(g.Scores)}, {Key: "score_mean", Value: g.Mean}, {Key: "score_interval", Value: ends(g.Interval)}, {Key: "score_sd", Value: g.SD},
				{Key: "strike_share", Value: ratio(g.Strikes, g.First)}, {Key: "spare_share", Value: ratio(g.Converted, g.Leaves)},
				{Key: "single_pin_share", Value: ratio(g.SinglesConverted, g.SinglePins)}, {Key: "split_share", Value: ratio(g.Splits, g.Leaves)},
			}})
		}
		deliveries = append(deliveries, o)
	}
	for _, d := range w.result.Differences {
		a, b := w.players[d.A], w.players[d.B]
		o := report.Object{{Key: "bowler", Value: a.bowler}, {Key: "ball_a", Value: a.ball}, {Key: "lane_a", Value: a.lane}, {Key: "ball_b", Value: b.ball}, {Key: "lane_b", Value: b.lane}}
		if len(c.strikes) > max(d.A, d.B) {
			off := c.strikes[d.B].Less(c.strikes[d.A])
			o = append(o, report.Member{Key: "strike_share_difference", Value: off.Mean}, report.Member{Key: "strike_difference_interval", Value: ends(off.Interval)})
		}
		if len(c.games) > max(d.A, d.B) {
			off, within := c.games[d.B].Less(c.games[d.A])
			o = append(o, report.Member{Key: "score_difference", Value: off}, report.Member{Key: "score_difference_interval", Value: ends(within)})
		}
		differences = append(differences, o)
	}
	return report.Object{{Key: "deliveries", Value: deliveries}, {Key: "differences", Value: differences}}
}

func ratio(n, of int) float64 { return float64(n) / float64(of) }
