package thrown

import (
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
)

// WriteShots writes shots as JSON, with a line for each part of a shot and for each of its states, and more
// members.
func WriteShots(to io.Writer, warnings []string, shots []Shot, more ...report.Member) error {
	lines := make(report.Lines, len(shots))
	for i, s := range shots {
		lines[i] = append(s.page(), report.ObjectOf("path", stateLines(s.Shot.Path))...)
	}
	return report.WriteResult(to, warnings, append(report.ObjectOf("shots", lines), more...)...)
}

// page returns a shot for JSON without its path.
func (s Shot) page() report.Page {
	t := s.Shot
	return report.Page(report.ObjectOf(
		"lane", s.Lane, "ball", s.Ball, "bowler", s.Bowler,
		"status", t.Status,
		"inputs", s.Inputs,
		"events", eventsObject(t.Events),
		"marks", stateLines(t.Marks),
		"summary", summaryColumns.Members(s),
		"aimed", aimedObject(s.Aimed),
		"stats", report.ObjectOf("steps", t.Stats.Steps, "rejected", t.Stats.Rejected, "evaluations", t.Stats.Evaluations),
	))
}

// Object returns a shot as [WriteShots] writes it, without its path.
func (s Shot) Object() report.Object { return report.Object(s.page()) }

// PathPoint is a point of a shot's path.
type PathPoint struct {
	Shot
	State physics.State
}

func pointColumns() report.Columns[PathPoint] {
	return report.AllVia(stateColumns, func(p PathPoint) (physics.State, bool) { return p.State, true })
}

// PathColumns returns the default columns of a path in CSV: the names of the shot and its states.
func PathColumns() report.Columns[PathPoint] { return append(OfPoints(nameColumns), pointColumns()...) }

// OfPoints converts columns of shots to columns of the points of their paths.
func OfPoints(columns report.Columns[Shot]) report.Columns[PathPoint] {
	return report.AllVia(columns, func(p PathPoint) (Shot, bool) { return p.Shot, true })
}

// PathPoints returns the points of the shots' paths.
func PathPoints(shots []Shot) iter.Seq[PathPoint] {
	return func(yield func(PathPoint) bool) {
		for _, s := range shots {
			for _, state := range s.Shot.Path {
				if !yield(PathPoint{s, state}) {
					return
				}
			}
		}
	}
}

// ShotsAcross is the number of shots side by side in the table: with names of usual length they fit a
// terminal of 80 characters.
const ShotsAcross = 4

// UsualShotColumns returns the keys of the default columns of the table.
func UsualShotColumns() []string { return slices.Clone(usualShotColumns) }

var usualShotColumns = []string{
	"status", "feet_board", "laydown_board", "arrows_board", "launch_angle_deg",
	"skid_ft", "hook_ft", "roll_ft",
	"hook_start_distance_ft", "friction_read_distance_ft", "breakpoint_distance_ft", "breakpoint_board", "breakpoint_in_oil",
	"pattern_end_board", "roll_start_distance_ft", "roll_start_board", "gutter_distance_ft",
	"entry_board", "entry_angle_deg", "hit", "good_angle",
	"pins_time_s", "release_speed_mph", "pins_speed_mph", "speed_loss_mph", "energy_lost_J",
	"release_rev_rate_rpm", "pins_rev_rate_rpm", "pins_axis_rotation_deg", "pins_axis_tilt_deg",
	"revolutions", "re_slips", "flare_in", "flare_oil_in", "oil_taken_mL",
}

// ShotDocument returns a document with shots side by side, a few in each table and, if there are more, with
// tables for each lane. Without columns it shows the default ones.
func ShotDocument(title string, shots []Shot, columns report.Columns[Shot]) report.Document {
	doc := report.Document{Title: title}
	for from := 0; from < len(shots); {
		to := from + 1
		for to < min(from+ShotsAcross, len(shots)) && (shots[to].Lane == shots[from].Lane || len(shots) <= ShotsAcross) {
			to++
		}
		doc.Table(sideBySide(shots[from:to], columns))
		from = to
	}
	if columns == nil {
		doc.SayWrapped(HitWords(shots, func(s Shot) physics.Window { return s.Pocket }))
	}
	return doc
}

func sideBySide(shots []Shot, columns report.Columns[Shot]) report.Grid {
	usual := columns == nil
	if usual {
		columns = shotColumns.Pick(usualShotColumns...)
	}
	g := report.Grid{Left: []bool{true}, Heads: len(nameColumns)}
	for _, name := range nameColumns {
		report.AddRow(&g, name.Head(), shots, name.Show)
	}
	aimed := usual && slices.ContainsFunc(shots, func(s Shot) bool { return s.Aimed != nil })
	for _, q := range columns {
		if _, name := nameColumns.Find(q.Key); name {
			continue // it is in the heading
		}
		report.AddRow(&g, q.Head(), shots, q.Show)
		if q.Key == "launch_angle_deg" && aimed {
			report.AddRow(&g, "angles to the pocket, deg", shots, func(s Shot) string { return anglesText(s, q.Shown) })
		}
	}
	g.Tone = func(row, column int, text string) report.Tone {
		switch {
		case row < len(nameColumns) && column > 0:
			return report.HeadingTone
		case column > 0 && text == string(physics.PocketHit):
			return report.GoodTone
		}
		return report.PlainTone
	}
	return g
}

// anglesText lists all launch angles that reach the pocket; the one of smallest size is thrown.
func anglesText(s Shot, u report.Unit) string {
	if s.Aimed == nil {
		return report.Absent
	}
	var angles []string
	for _, a := range s.Aimed.Angles {
		angles = append(angles, u.Show(a))
	}
	return strings.Join(angles, ", ")
}

// WorkText describes the work of computing a shot, and the balance of its oil.
func WorkText(s Shot) []string {
	name := strings.Join([]string{s.Bowler, s.Ball, s.Lane}, ", ")
	st, o := s.Shot.Stats, s.Shot.Summary.Oil
	return []string{
		fmt.Sprintf("%s: %d steps, %d rejected, %d evaluations", name, st.Steps, st.Rejected, st.Evaluations),
		fmt.Sprintf("%s: oil in µL: lane %s, ball %s, soaked in %s, in all %.2g", name,
			report.Microlitre.Show(o.Lane), report.Microlitre.Show(o.Ball), report.Microlitre.Show(o.Soaked), max(o.Lane+o.Ball+o.Soaked, -o.Lane-o.Ball-o.Soaked)/report.Microlitre.Size),
	}
}
