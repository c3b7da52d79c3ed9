package studied

import (
	"fmt"
	"slices"
	"strings"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/carry"
)

// AtPins has the results of a spread's deliveries at the pins.
type AtPins struct {
	Strikes   []carry.StrikesResult // of each player
	Games     []carry.GamesResult   // of each player, if games were played
	SpareBall string                // name of the spare ball; "" if each player uses the same ball
}

func (c *AtPins) document(w *Spread) (doc report.Document) {
	if len(c.Strikes) > 0 {
		doc.Head("strikes with the first ball (assumed)")
		strikes := c.strikeColumns()
		g := tableOf(c.Strikes, namesOf(w.Players), strikes.Pick("strike_share", "strike_interval", "pins_down_mean", "split_share"),
			columns{report.Text("leaves", "commonest leaves", "Leaves with their shares", func(i int) string {
				var leaves []string
				for _, l := range c.Strikes[i].Commonest(commonLeaves) {
					leaves = append(leaves, l.String()+" "+report.Percent(c.Strikes[i].Leaves[l].Value, 0))
				}
				return strings.Join(leaves, ", ")
			}).FlushRight()})
		g.Left[2] = true
		doc.Table(g)
		shares := intervals(c.Strikes, strikes.Pick("split_interval"))
		for _, s := range c.Strikes {
			for _, l := range s.Commonest(commonLeaves) {
				shares = append(shares, s.Leaves[l])
			}
		}
		noteGoodTo(&doc, "shares of splits and leaves", shares)
		for i, s := range c.Strikes {
			if len(s.Without) == 0 {
				continue
			}
			doc.Say("strikes without one of the deviations, points: " + w.Players[i].Name(w.Players))
			g := tableOf(s.Without, named(func(k int) string { return MissNames[s.Without[k].Of] }), strikesGained(s))
			g.Rows, g.Heads = g.Rows[1:], -1
			doc.Table(g)
		}
		for _, d := range w.Result.Differences {
			if len(c.Strikes) <= max(d.A, d.B) {
				continue // interrupted
			}
			off := c.Strikes[d.B].Less(c.Strikes[d.A])
			a, z := Contrast(w.Players[d.A], w.Players[d.B])
			doc.Say(fmt.Sprintf("strikes, %s less %s: %s points, 95 %% interval %s%s", z, a, report.Points(off.Value), PointsBetween(off.Interval), notSignificant(off.Interval)))
		}
	}
	if len(c.Games) > 0 {
		with := "each with its own ball"
		if c.SpareBall != "" {
			with = "with " + c.SpareBall
		}
		doc.Head(fmt.Sprintf("%s (assumed), spares %s", report.Counting(len(c.Games[0].Scores), "game"), with))
		games := c.gameColumns()
		doc.Table(tableOf(c.Games, namesOf(w.Players), games.Pick("score_mean", "score_interval", "score_sd", "strike_share", "spare_share", "single_pin_share", "split_share")))
		noteGoodTo(&doc, "shares", intervals(c.Games, games.Pick("strike_interval", "spare_interval", "single_pin_interval", "split_interval")))
		for _, d := range w.Result.Differences {
			off := c.Games[d.B].Less(c.Games[d.A])
			a, z := Contrast(w.Players[d.A], w.Players[d.B])
			doc.Say(fmt.Sprintf("%s is worth %s pins a game against %s, 95 %% interval %s to %s%s", z, report.Signed(off.Value, 1), a, report.Signed(off.Low, 1), report.Signed(off.High, 1), notSignificant(off.Interval)))
		}
	}
	doc.SayWrapped(TableWords("Strikes, leaves and scores"))
	return doc
}

// TableWords says on which assumptions results from the stored table of racks depend, and their error.
func TableWords(what string) string {
	points := func(share float64) string { return report.Fixed(100*share, 1) }
	return fmt.Sprintf("%s are assumed: they rest on restitution, friction and scatter of the pins, of which no measured values are published. "+
		"They come from a stored table of racks. Of %d places its strikes are off racks rolled for the same deliveries by %s points (root mean square), %s at most, and %s too low in the mean.",
		what, pins.StoredPlaces, points(pins.StoredError), points(pins.StoredErrorMost), points(-pins.StoredMean))
}

// leaveColumns returns leaves with their shares.
func leaveColumns(list []pins.Leave, share func(int) studies.Mean) columns {
	return slices.Concat(columns{report.Text("pins", "leave", "Pins that are left", func(i int) string { return list[i].String() })},
		shareColumns("", "share", "Share of the racks", share),
		columns{report.Truth("split", "split", "Whether the leave is a split", func(i int) bool { return list[i].Split() })})
}

// strikeColumns returns the results of first balls.
func (c *AtPins) strikeColumns() columns {
	return slices.Concat(
		shareColumns("strike", "strikes", "Share of strikes, assumed", func(i int) studies.Mean { return c.Strikes[i].Share }),
		columns{report.Number("pins_down_mean", "pins, mean", "Mean number of pins that fall", report.Figures, func(i int) float64 { return c.Strikes[i].Down.Value })},
		shareColumns("split", "splits", "Share of splits, assumed", func(i int) studies.Mean { return c.Strikes[i].Splits }))
}

// strikesGained returns the gain in strikes without each deviation.
func strikesGained(s carry.StrikesResult) columns {
	return meanColumns("gain", "gain_interval", "gain", "By how much the share of strikes is larger without the deviation", report.Point, func(k int) studies.Mean { return s.Without[k].Gain })
}

func (c *AtPins) gameColumns() columns {
	return slices.Concat(
		columns{report.Count("played", "games", "Number of games", func(i int) int { return len(c.Games[i].Scores) })},
		meanColumns("score_mean", "score_interval", "mean score", "Mean score", report.Ratio.Digits(1), func(i int) studies.Mean { return studies.Mean{Value: c.Games[i].Mean, Interval: c.Games[i].Interval} }),
		columns{report.Number("score_sd", "sd", "Standard deviation of the scores", report.Ratio.Digits(1), func(i int) float64 { return c.Games[i].SD })},
		countColumns("strike", "strikes", "Share of first balls that strike", func(i int) studies.Count { return studies.Count{Hits: c.Games[i].Strikes, Of: c.Games[i].First} }),
		countColumns("spare", "spares", "Share of leaves that are converted", func(i int) studies.Count { return studies.Count{Hits: c.Games[i].Converted, Of: c.Games[i].Leaves} }),
		countColumns("single_pin", "single pins", "Share of single pins that are converted", func(i int) studies.Count {
			return studies.Count{Hits: c.Games[i].SinglesConverted, Of: c.Games[i].SinglePins}
		}),
		countColumns("split", "splits left", "Share of leaves that are splits", func(i int) studies.Count { return studies.Count{Hits: c.Games[i].Splits, Of: c.Games[i].Leaves} }))
}

func notSignificant(i studies.Interval) string {
	if i.Holds(0) {
		return ", not significant"
	}
	return ""
}

func (c *AtPins) object(w *Spread) report.Object {
	deliveries, differences := report.List{}, report.List{}
	for i, t := range w.Players {
		o := t.object()
		if i < len(c.Strikes) {
			s, gains := c.Strikes[i], report.Object{}
			for k, v := range s.Without {
				gains = gains.With(v.Of.String(), strikesGained(s).Members(k))
			}
			leaves := s.Commonest(1 << pins.Count)
			o = o.With(c.strikeColumns().Members(i), "leaves", listOf(leaves, leaveColumns(leaves, func(k int) studies.Mean { return s.Leaves[leaves[k]] })), "strike_share_without", gains)
		}
		if i < len(c.Games) {
			o = o.With("games", c.gameColumns().Members(i))
		}
		deliveries = append(deliveries, o)
	}
	for _, d := range w.Result.Differences {
		a, b := w.Players[d.A], w.Players[d.B]
		o := pairObject(a, b)
		if len(c.Strikes) > max(d.A, d.B) {
			off := c.Strikes[d.B].Less(c.Strikes[d.A])
			o = o.With(meanObject("strike_share_difference", "strike_difference_interval", off))
		}
		if len(c.Games) > max(d.A, d.B) {
			o = o.With(meanObject("score_difference", "score_difference_interval", c.Games[d.B].Less(c.Games[d.A])))
		}
		differences = append(differences, o)
	}
	return report.ObjectOf("deliveries", deliveries, "differences", differences)
}
