package lists

import (
	"io"
	"strings"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/report"
)

// BuiltinBowler is a built-in bowler.
type BuiltinBowler struct {
	Name, About string
	Release     physics.Release
	PAP         ball.PAP
	Published   bool // whether speed and rev rate are published averages
}

// mark returns the source of speed and rev rate.
func (b BuiltinBowler) mark() string {
	if b.Published {
		return "published"
	}
	return assumedMark
}

const assumedMark = "assumed"

// written converts an SI number back to the trade unit in which it was written.
func written(u report.Unit, v float64) float64 { return report.Plain(u.In(v)) }

func (b BuiltinBowler) object() report.Object {
	r := b.Release
	return report.ObjectOf(
		"name", b.Name, "about", b.About,
		"speed_mph", written(report.MPH, r.Speed), "rev_rate_rpm", written(report.RPM, r.RevRate),
		"axis_rotation_deg", written(report.Degree, r.AxisRotation), "axis_tilt_deg", written(report.Degree, r.AxisTilt),
		"pap_over_in", written(report.Inch, b.PAP.Over), "pap_up_in", written(report.Inch, b.PAP.Up),
		"laydown", r.Laydown, "aim", "pocket",
		"marks", report.ObjectOf("speed_mph", b.mark(), "rev_rate_rpm", b.mark(), "others", assumedMark),
	)
}

// WriteBowlers writes built-in bowlers as JSON.
func WriteBowlers(to io.Writer, list []BuiltinBowler) error {
	return report.WriteJSON(to, report.Each(list, BuiltinBowler.object))
}

// BowlerList formats built-in bowlers for people.
func BowlerList(list []BuiltinBowler, c report.Paint) string {
	g := report.Grid{Left: []bool{true, false, false, true, false, false, false, true}, Rows: [][]string{
		{"name", "speed, mph", "revs, rpm", "both are", "rotation, deg", "tilt, deg", "laydown", "PAP, in over and up"}}}
	var notes strings.Builder
	for _, b := range list {
		r := b.Release
		g.Rows = append(g.Rows, []string{b.Name, report.MPH.Show(r.Speed), report.RPM.Show(r.RevRate), b.mark(), report.Degree.Show(r.AxisRotation), report.Degree.Show(r.AxisTilt), report.Board.Show(r.Laydown),
			report.Inch.Show(b.PAP.Over) + ", " + report.Inch.Show(b.PAP.Up)})
		notes.WriteString(b.Name + ": " + b.About + ".\n")
	}
	g.Tone = report.HeadingFirst
	return g.Print(c) + "\n" + notes.String() +
		"\nPublished are averages of the US governing body; all the rest is assumed.\nThey aim at the pocket unless a scenario gives them a line.\n"
}
