package studied

import (
	"slices"
	"strings"

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

// playerColumns tell players apart.
func playerColumns[T any](of func(T) Player) report.Columns[T] {
	return report.Columns[T]{
		report.Text("bowler", "bowler", "Name of the bowler", func(t T) string { return of(t).Bowler }),
		report.Text("ball", "ball", "Name of the ball", func(t T) string { return of(t).Ball }),
		report.Text("lane", "lane", "Name of the lane", func(t T) string { return of(t).Lane }),
	}
}

func (t Player) object() report.Object {
	return report.ObjectOf("bowler", t.Bowler, "ball", t.Ball, "lane", t.Lane)
}

// pairObject tells two players of one bowler apart.
func pairObject(a, b Player) report.Object {
	return report.ObjectOf("bowler", a.Bowler, "ball_a", a.Ball, "lane_a", a.Lane, "ball_b", b.Ball, "lane_b", b.Lane)
}

func shareObject(key string, c studies.Count) report.Object {
	return report.ObjectOf(key+"_share", c.Share(), key+"_interval", ends(studies.WilsonInterval(c)))
}

func meanObject(key string, m studies.Mean) report.Object {
	return report.ObjectOf(key, m.Value, key+"_interval", ends(m.Interval))
}

func shareText(c studies.Count) string {
	return report.Share(c.Share()) + " (" + Between(studies.WilsonInterval(c)) + ")"
}

func meanText(m studies.Mean) string { return report.Share(m.Value) + " (" + Between(m.Interval) + ")" }

func ends(i studies.Interval) []float64 { return []float64{i.Low, i.High} }

// Between prints an interval of shares in percent.
func Between(i studies.Interval) string { return report.Share(i.Low) + " to " + report.Share(i.High) }

// PointsBetween prints an interval of differences of shares.
func PointsBetween(i studies.Interval) string {
	return report.Points(i.Low) + " to " + report.Points(i.High)
}
