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

// Player is a bowler with a ball on a lane, of a study of many shots.
type Player struct {
	Lane, Ball, Bowler string // names
	Setup              studies.Setup

	// FootToBall is the distance in boards from the sliding foot to the ball's centre
	// at the laydown.
	FootToBall float64

	// Level is the skill level that stands in for what the scenario does not say; ""
	// if it does.
	Level string
}

// Name is a player's name among others: what differs.
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

// line is the player's shot as far as its line goes.
func (t Player) line() thrown.Shot {
	return thrown.Shot{Release: t.Setup.Release, FootToBall: t.FootToBall}
}

// Contrast names two players by what differs between them.
func Contrast(a, b Player) (string, string) {
	pair := []Player{a, b}
	return a.Name(pair), b.Name(pair)
}

// object tells a player from others.
func (t Player) object() report.Object {
	return playerColumns(func(int) Player { return t }).Members(0)
}

// pairObject tells two players of one bowler apart.
func pairObject(a, b Player) report.Object {
	return report.ObjectOf("bowler", a.Bowler, "ball_a", a.Ball, "lane_a", a.Lane, "ball_b", b.Ball, "lane_b", b.Lane)
}

// shareOf is the share of hits with its interval.
func shareOf(c studies.Count) studies.Mean {
	return studies.Mean{Value: c.Share(), Interval: studies.WilsonInterval(c)}
}

// racksShare is a share of racks.
func racksShare(s pins.Share) studies.Mean {
	return studies.Mean{Value: s.Share, Interval: studies.Interval{Low: s.Low, High: s.High}}
}

// differenceOf is the difference of the shares of both ways, with its interval.
func differenceOf(p studies.Paired) studies.Mean {
	return studies.Mean{Value: p.Difference(), Interval: p.Interval()}
}

// shareObject has a share and its interval; where there is one share alone, of is "".
func shareObject(of string, share studies.Mean) report.Object {
	return shareColumns(of, "", "", func(int) studies.Mean { return share }).Members(0)
}

// meanObject has a mean and its interval, by the keys of both.
func meanObject(key, interval string, m studies.Mean) report.Object {
	return report.ObjectOf(key, m.Value, interval, ends(m.Interval))
}

// CountText prints the share of hits with its interval.
func CountText(c studies.Count) string { return ShareText(shareOf(c)) }

// ShareText prints a share with its interval.
func ShareText(m studies.Mean) string {
	return report.Share(m.Value) + " (" + Between(m.Interval) + ")"
}

// noteGoodTo notes below a table how good its shares are.
func noteGoodTo(doc *report.Document, shares string, list []studies.Mean) {
	if words := goodTo(list); words != "" {
		doc.Note(shares + " are " + words)
	}
}

// goodTo says how wide the widest interval of some shares is; nothing without shares.
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

// Between prints an interval of shares in percent.
func Between(i studies.Interval) string { return report.Share(i.Low) + " to " + report.Share(i.High) }

// PointsBetween prints an interval of differences of shares.
func PointsBetween(i studies.Interval) string {
	return report.Points(i.Low) + " to " + report.Points(i.High)
}
