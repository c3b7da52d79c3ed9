package studied

import (
	"fmt"
	"strings"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/carry"
)

// AtPins is what becomes of a spread's deliveries at the pins.
type AtPins struct {
	Strikes   []carry.StrikesResult // of each player
	Games     []carry.GamesResult   // of each player, if games were played
	SpareBall string                // name of the ball of second balls; "" if each ball is its own
}

func (c *AtPins) document(w *Spread) (doc report.Document) {
	if len(c.Strikes) > 0 {
		doc.Head("strikes with the first ball (assumed)")
		g := report.Grid{Left: []bool{true, false, true}, Rows: [][]string{{"", "strikes", "95 % interval", "pins, mean", "splits", "commonest leaves"}}}
		var shares []studies.Mean
		for i, s := range c.Strikes {
			var leaves []string
			for _, l := range s.Commonest(commonLeaves) {
				leaves = append(leaves, l.String()+" "+report.Percent(s.Leaves[l].Value, 0))
				shares = append(shares, s.Leaves[l])
			}
			shares = append(shares, s.Splits)
			g.Rows = append(g.Rows, []string{w.Players[i].Name(w.Players), report.Share(s.Share.Value), Between(s.Share.Interval),
				report.Figure(s.Down.Value), report.Share(s.Splits.Value), strings.Join(leaves, ", ")})
		}
		doc.Table(g)
		noteGoodTo(&doc, "shares of splits and leaves", shares)
		for i, s := range c.Strikes {
			if len(s.Without) == 0 {
				continue
			}
			doc.Say("strikes without one of the deviations, points: " + w.Players[i].Name(w.Players))
			g := report.Grid{Left: []bool{true}, Heads: -1}
			for _, v := range s.Without {
				g.Rows = append(g.Rows, []string{MissNames[v.Of], report.Points(v.Gain.Value), PointsBetween(v.Gain.Interval)})
			}
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
		g := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "mean score", "95 % interval", "sd", "strikes", "spares", "single pins", "splits left"}}}
		var all []studies.Mean
		for i, played := range c.Games {
			row := []string{w.Players[i].Name(w.Players), report.Fixed(played.Mean, 1), report.Fixed(played.Interval.Low, 1) + " to " + report.Fixed(played.Interval.High, 1), report.Fixed(played.SD, 1)}
			for _, s := range gameShares(played) {
				row, all = append(row, report.Share(s.Value)), append(all, s.Mean)
			}
			g.Rows = append(g.Rows, row)
		}
		doc.Table(g)
		noteGoodTo(&doc, "shares", all)
		for _, d := range w.Result.Differences {
			off := c.Games[d.B].Less(c.Games[d.A])
			a, z := Contrast(w.Players[d.A], w.Players[d.B])
			doc.Say(fmt.Sprintf("%s is worth %s pins a game against %s, 95 %% interval %s to %s%s", z, report.Signed(off.Value, 1), a, report.Signed(off.Low, 1), report.Signed(off.High, 1), notSignificant(off.Interval)))
		}
	}
	doc.SayWrapped(TableWords("Strikes, leaves and scores"))
	return doc
}

// TableWords say of what comes from the stored table of racks on what it rests and how far
// it is off.
func TableWords(what string) string {
	points := func(share float64) string { return report.Fixed(100*share, 1) }
	return fmt.Sprintf("%s are assumed: they rest on restitution, friction and scatter of the pins, of which no measured values are published. "+
		"They come from a stored table of racks. Of %d places its strikes are off racks rolled for the same deliveries by %s points (root mean square), %s at most, and %s too low in the mean.",
		what, pins.StoredPlaces, points(pins.StoredError), points(pins.StoredErrorMost), points(-pins.StoredMean))
}

type namedShare struct {
	of string
	studies.Mean
}

// gameShares are the shares that are counted in games.
func gameShares(g carry.GamesResult) []namedShare {
	return []namedShare{
		{"strike", shareOf(studies.Count{Hits: g.Strikes, Of: g.First})},
		{"spare", shareOf(studies.Count{Hits: g.Converted, Of: g.Leaves})},
		{"single_pin", shareOf(studies.Count{Hits: g.SinglesConverted, Of: g.SinglePins})},
		{"split", shareOf(studies.Count{Hits: g.Splits, Of: g.Leaves})},
	}
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
			s := c.Strikes[i]
			leaves := report.List{}
			for _, l := range s.Commonest(1 << pins.Count) {
				leaves = append(leaves, report.ObjectOf("pins", l.String(), shareObject("", s.Leaves[l]), "split", l.Split()))
			}
			gains := report.Object{}
			for _, v := range s.Without {
				gains = gains.With(v.Of.String(), meanObject("gain", v.Gain))
			}
			o = o.With(shareObject("strike", s.Share), "pins_down_mean", s.Down.Value, shareObject("split", s.Splits), "leaves", leaves, "strike_share_without", gains)
		}
		if i < len(c.Games) {
			g := c.Games[i]
			games := report.ObjectOf("played", len(g.Scores), "score_mean", g.Mean, "score_interval", ends(g.Interval), "score_sd", g.SD)
			for _, s := range gameShares(g) {
				games = games.With(shareObject(s.of, s.Mean))
			}
			o = o.With("games", games)
		}
		deliveries = append(deliveries, o)
	}
	for _, d := range w.Result.Differences {
		a, b := w.Players[d.A], w.Players[d.B]
		o := pairObject(a, b)
		if len(c.Strikes) > max(d.A, d.B) {
			off := c.Strikes[d.B].Less(c.Strikes[d.A])
			o = o.With("strike_share_difference", off.Value, "strike_difference_interval", ends(off.Interval))
		}
		if len(c.Games) > max(d.A, d.B) {
			o = o.With(meanObject("score_difference", c.Games[d.B].Less(c.Games[d.A])))
		}
		differences = append(differences, o)
	}
	return report.ObjectOf("deliveries", deliveries, "differences", differences)
}
