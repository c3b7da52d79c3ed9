package studied

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/pins"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
)

// Player is a bowler with a ball on a lane, in a study of many shots.
type Player struct {
	Lane, Ball, Bowler string // names
	Setup              studies.Setup

	// FootToBall is the distance in boards from the sliding foot to the ball's centre
	// at the laydown.
	FootToBall float64

	// Level is the skill level used if the scenario gives no repeatability; otherwise "".
	Level string
}

// Name returns a player's name among others: the parts that differ.
func (t Player) Name(all []Player) string {
	var parts []string
	for _, of := range []func(Player) string{
		func(t Player) string { return t.Bowler }, func(t Player) string { return t.Ball }, func(t Player) string { return t.Lane },
	} {
		if slices.ContainsFunc(all, func(other Player) bool { return of(other) != of(t) }) {
			parts = append(parts, of(t))
		}
	}
	if len(parts) == 0 {
		return t.Ball
	}
	return strings.Join(parts, ", ")
}

// line returns a shot with only the player's line.
func (t Player) line() thrown.Shot {
	return thrown.Shot{Release: t.Setup.Release, FootToBall: t.FootToBall}
}

// Contrast returns names of two players from the parts that differ.
func Contrast(a, b Player) (string, string) {
	pair := []Player{a, b}
	return a.Name(pair), b.Name(pair)
}

// object returns lane, ball and bowler of a player.
func (t Player) object() report.Object {
	return playerColumns(func(int) Player { return t }).Members(0)
}

// pairObject returns the names of two players of one bowler.
func pairObject(a, b Player) report.Object {
	return report.ObjectOf("bowler", a.Bowler, "ball_a", a.Ball, "lane_a", a.Lane, "ball_b", b.Ball, "lane_b", b.Lane)
}

// shareOf returns the share of hits with its interval.
func shareOf(c studies.Count) studies.Mean {
	return studies.Mean{Value: c.Share(), Interval: studies.WilsonInterval(c)}
}

// racksShare returns a share of racks with its interval.
func racksShare(s pins.Share) studies.Mean {
	return studies.Mean{Value: s.Share, Interval: studies.Interval{Low: s.Low, High: s.High}}
}

// differenceOf returns the difference of shares b − a with its interval.
func differenceOf(p studies.Paired) studies.Mean {
	return studies.Mean{Value: p.Difference(), Interval: p.Interval()}
}

// shareObject returns a share and its interval; of is "" for a single share.
func shareObject(of string, share studies.Mean) report.Object {
	return shareColumns(of, "", "", func(int) studies.Mean { return share }).Members(0)
}

// meanObject returns a mean and its interval, with the keys of both.
func meanObject(key, interval string, m studies.Mean) report.Object {
	return report.ObjectOf(key, m.Value, interval, ends(m.Interval))
}

// CountText formats the share of hits with its interval.
func CountText(c studies.Count) string { return ShareText(shareOf(c)) }

// ShareText formats a share with its interval.
func ShareText(m studies.Mean) string {
	return report.Share(m.Value) + " (" + Between(m.Interval) + ")"
}

// noteGoodTo adds a note about the intervals of a table's shares.
func noteGoodTo(doc *report.Document, shares string, list []studies.Mean) {
	if words := goodTo(list); words != "" {
		doc.Note(shares + " are " + words)
	}
}

// goodTo describes the widest interval of shares; empty without shares.
func goodTo(list []studies.Mean) string {
	widest := math.Inf(-1)
	for _, m := range list {
		if half := m.HalfWidth(); half > widest {
			widest = half
		}
	}
	if widest < 0 {
		return ""
	}
	return fmt.Sprintf("good to ± %s points or better (95 %%)", report.Fixed(100*widest, 1))
}

func ends(i studies.Interval) []float64 { return []float64{i.Low, i.High} }

// Between formats an interval of shares in percent.
func Between(i studies.Interval) string { return report.Share(i.Low) + " to " + report.Share(i.High) }

// PointsBetween formats an interval of differences of shares in points.
func PointsBetween(i studies.Interval) string {
	return report.Points(i.Low) + " to " + report.Points(i.High)
}
