package thrown

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Shot is a shot with the names and inputs of its delivery.
type Shot struct {
	Lane, Ball, Bowler string // names

	// Person and Line are the parts of Bowler if the scenario lists lines: the bowler, and the name of the
	// line. Otherwise Person is the bowler and Line is empty.
	Person, Line string

	Release physics.Release

	// FootToBall is the distance in boards from the sliding foot to the ball's centre
	// at the laydown.
	FootToBall float64

	Aimed  *aim.PocketResult // nil if the launch angle was given
	Shot   physics.Shot
	Pocket physics.Window  // boards at the pins; see [Pocket]
	Inputs json.RawMessage // a scenario of this shot alone; nil if not wanted
}

// Pocket returns the window of boards that counts as the pocket for a release.
func Pocket(s physics.Settings, r physics.Release) physics.Window {
	pocket, _ := s.PocketOf(r)
	return pocket
}

// HitWords lists the boards of each hit, for the pockets of a list of shots.
func HitWords[T any](of []T, pocket func(T) physics.Window) string {
	var said []string
	for _, t := range of {
		var parts []string
		list := physics.HitRanges(pocket(t))
		for _, r := range list {
			parts = append(parts, fmt.Sprintf("%s from %s", r.Hit, report.Digits(r.From, 4)))
		}
		words := fmt.Sprintf("%s to %s, else missed", strings.Join(parts, ", "), report.Digits(list[len(list)-1].To, 4))
		if !slices.Contains(said, words) {
			said = append(said, words)
		}
	}
	return "Hits by the entry board: " + strings.Join(said, "; for a backup ball ") + "."
}

// Hit returns where the ball meets the pins, in a word; empty if it does not reach them.
func (s Shot) Hit() string {
	if s.Shot.Events.Pins == nil {
		return ""
	}
	return string(physics.HitAt(s.Shot.EntryBoard(), s.Pocket))
}

// EntryText describes an entry by its board and its heading in rad, as "enters on board 17.5 at 5.0°".
func EntryText(board, heading float64) string {
	return fmt.Sprintf("enters on board %s at %s°", report.Board.Show(board), report.Degree.Show(heading))
}

// endKeys are the columns that exist for a shot with only its end; see [physics.Settings.EndOnly].
var endKeys = []string{"status", "launch_angle_deg", "feet_board", "laydown_board", "arrows_board", "entry_board", "entry_angle_deg", "pocket", "hit", "good_angle",
	"release_speed_mph", "release_rev_rate_rpm"}

// EndWillDo reports whether a shot with only its end has all of the columns.
func EndWillDo(columns report.Columns[Shot]) bool {
	return !slices.ContainsFunc(columns, func(c report.Column[Shot]) bool { return !slices.Contains(endKeys, c.Key) })
}

// nameColumns are the names of a shot.
var nameColumns = report.Columns[Shot]{
	report.Text("lane", "lane", "Name of the lane", func(s Shot) string { return s.Lane }),
	report.Text("ball", "ball", "Name of the ball", func(s Shot) string { return s.Ball }),
	report.Text("bowler", "bowler", "Name of the bowler", func(s Shot) string { return s.Bowler }),
}

// endColumns are the status and the launch angle of a shot.
var endColumns = report.Columns[Shot]{
	report.Text("status", "ended", "How the shot ended", func(s Shot) string { return string(s.Shot.Status) }),
	report.Number("launch_angle_deg", "launch angle", "Launch angle that was thrown; of use with  aim: pocket", report.LaunchDegree, func(s Shot) float64 { return s.Release.Angle }),
}

// lineColumns are the line in bowlers' terms: feet, laydown and arrows.
var lineColumns = report.Columns[Shot]{
	report.Number("feet_board", "feet", "Board under the sliding foot, from the laydown and the assumed distance from foot to ball", report.Board, func(s Shot) float64 { return s.Release.Laydown + s.FootToBall }),
	report.Number("laydown_board", "laydown", "Board of the laydown", report.Board, func(s Shot) float64 { return s.Release.Laydown }),
	report.Number("arrows_board", "arrows", "Board at the arrows, 15 ft out, for which the ball is launched", report.Board, func(s Shot) float64 { return studies.BoardAtArrows(s.Release) }),
}

// LineColumns returns the line in bowlers' terms: feet, laydown and arrows.
func LineColumns() report.Columns[Shot] { return lineColumns }

// LineText returns the line in words, as "feet 29.0, laydown 22.0, arrows 14.0".
func (s Shot) LineText() string {
	var parts []string
	for _, c := range lineColumns {
		parts = append(parts, c.Label+" "+c.Show(s))
	}
	return strings.Join(parts, ", ")
}

// summaryColumns are the members of a shot's summary in JSON.
var summaryColumns = append(lineColumns, report.Columns[Shot]{
	report.Number("skid_ft", "skid", "Length of the skid, from release to hook start or roll start", report.Foot, func(s Shot) float64 { return s.Shot.Summary.Skid }),
	report.Number("hook_ft", "hook", "Length of the hook, from hook start to roll start", report.Foot, func(s Shot) float64 { return s.Shot.Summary.Hook }),
	report.Number("roll_ft", "roll", "Length of the roll, from roll start to the end", report.Foot, func(s Shot) float64 { return s.Shot.Summary.Roll }),
	report.Number("entry_board", "entry board", "Board at the pins, from the bowler's side", report.Board, func(s Shot) float64 { return s.Shot.EntryBoard() }),
	report.Number("entry_angle_deg", "entry angle", "Heading at the pins", report.Degree, func(s Shot) float64 { return s.Shot.EntryAngle() }),
	report.Number("speed_loss_mph", "speed lost", "Speed lost from release to the end", report.MPH, func(s Shot) float64 { return s.Shot.Summary.SpeedLoss }),
	report.Number("energy_lost_J", "energy lost", "Energy lost to friction", report.Joule, func(s Shot) float64 { return s.Shot.Summary.EnergyLost }),
	report.Number("flare_in", "flare", "Migration of the track over the ball", report.Inch, func(s Shot) float64 { return s.Shot.Summary.Flare }),
	report.Number("flare_oil_in", "flare in the oil", "Migration of the track up to the end of the oil", report.Inch, func(s Shot) float64 { return s.Shot.Summary.FlareOil }),
	report.Number("revolutions", "revolutions", "Revolutions from release to the end", report.Revolution, func(s Shot) float64 { return s.Shot.Summary.Revolutions }),
	report.Count("re_slips", "re-slips", "How often a rolling ball broke away", func(s Shot) int { return s.Shot.Summary.ReSlips }),
	report.Truth("pocket", "pocket", "Whether the ball enters in the pocket", func(s Shot) bool { return s.Shot.Summary.Pocket }),
	report.Word("hit", "hit", "Where the ball meets the pins: light, pocket, high, nose, crossover or missed", Shot.Hit),
	report.Truth("good_angle", "good angle", "Whether the entry angle is good", func(s Shot) bool { return s.Shot.Summary.GoodAngle }),
	report.Truth("breakpoint_in_oil", "breakpoint in the oil", "Whether the breakpoint lies before the end of the oil", func(s Shot) bool { return s.Shot.Summary.BreakpointInOil }),
	budget("oil_mL_lane", "oil on the lane", "Oil that the lane gained; negative for taken", func(o physics.OilBudget) float64 { return o.Lane }),
	budget("oil_mL_ball", "oil on the ball", "Oil on the ball at the end", func(o physics.OilBudget) float64 { return o.Ball }),
	budget("oil_mL_soaked", "oil soaked in", "Oil that the cover soaked up", func(o physics.OilBudget) float64 { return o.Soaked }),
}...)

// launchColumns are quantities that JSON has among the inputs or with the opposite sign.
var launchColumns = report.Columns[Shot]{
	report.Number("release_speed_mph", "speed at release", "Speed at release", report.MPH, func(s Shot) float64 { return s.Release.Speed }),
	report.Number("release_rev_rate_rpm", "rev rate at release", "Rev rate at release", report.RPM, func(s Shot) float64 { return s.Release.RevRate }),
	report.Number("oil_taken_mL", "oil taken", "Oil that the lane lost", report.Millilitre, func(s Shot) float64 { return -s.Shot.Summary.Oil.Lane }).ShownIn(report.Microlitre),
}

func budget(key, label, meaning string, of func(physics.OilBudget) float64) report.Column[Shot] {
	c := report.Number(key, label, meaning, report.Millilitre, func(s Shot) float64 { return of(s.Shot.Summary.Oil) }).ShownIn(report.Microlitre)
	c.Object = "oil_mL"
	return c
}

var events = []struct {
	key, label, at, meaning string
	of                      func(physics.Events) *physics.State
}{
	{"hook_start", "hook start", "hook start", "at hook start", func(e physics.Events) *physics.State { return e.HookStart }},
	{"friction_read", "friction read", "the friction read", "where the friction is read", func(e physics.Events) *physics.State { return e.FrictionRead }},
	{"breakpoint", "breakpoint", "the breakpoint", "at the breakpoint", func(e physics.Events) *physics.State { return e.Breakpoint }},
	{"roll_start", "roll start", "roll start", "at roll start", func(e physics.Events) *physics.State { return e.RollStart }},
	{"pattern_end", "end of oil", "the end of the oil", "at the end of the oil", func(e physics.Events) *physics.State { return e.PatternEnd }},
	{"pins", "pins", "pins", "at the pins", func(e physics.Events) *physics.State { return e.Pins }},
	{"gutter", "gutter", "the gutter", "where the ball leaves the lane", func(e physics.Events) *physics.State { return e.Gutter }},
}

// Event is an event of a shot with its state.
type Event struct {
	Key, Label string
	State      physics.State
}

// Events returns the events of a shot in the order in which they happen.
func Events(s Shot) []Event {
	var list []Event
	for _, e := range events {
		if at := e.of(s.Shot.Events); at != nil {
			list = append(list, Event{e.key, e.label, *at})
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].State.Time < list[j].State.Time })
	return list
}

// eventColumns are the states at the events. The key of a column is the event's and the quantity's, as in
// breakpoint_distance_ft.
func eventColumns() report.Columns[Shot] {
	var list report.Columns[Shot]
	for _, e := range events {
		for _, q := range stateColumns {
			c := report.Via(q, func(s Shot) (state physics.State, happens bool) {
				if at := e.of(s.Shot.Events); at != nil {
					return *at, true
				}
				return state, false
			})
			between := " "
			if strings.Contains(q.Meaning, ",") {
				between = ", "
			}
			c.Key, c.Meaning, c.Array = e.key+"_"+q.Key, q.Meaning+between+e.meaning, ""
			switch q.Label {
			case "distance":
				c.Label = e.label
			case "board":
				c.Label = e.label + ", board"
			default:
				c.Label += " at " + e.at
			}
			list = append(list, c)
		}
	}
	return list
}

var shotColumns = slices.Concat(endColumns, summaryColumns, launchColumns, eventColumns())

// ShotColumns returns the quantities of a shot, without its names: those of the release and the summary, and
// the states at its events.
func ShotColumns() report.Columns[Shot] { return shotColumns }

// FindShotColumn returns the column of a name in either spelling, breakpoint_distance_ft or
// breakpoint.distance_ft. An event with a unit of length means its distance: hook_start_ft.
func FindShotColumn(name string) (report.Column[Shot], bool) {
	name = strings.ReplaceAll(name, ".", "_")
	for _, e := range events {
		if name == e.key+"_ft" {
			name = e.key + "_distance_ft"
		}
	}
	return shotColumns.Find(name)
}

func eventsObject(e physics.Events) report.Object {
	var o report.Object
	for _, event := range events {
		o = append(o, report.ObjectOf(event.key, stateObject(event.of(e)))...)
	}
	return o
}

func aimedObject(a *aim.PocketResult) report.Object {
	if a == nil {
		return nil
	}
	angles := make([]float64, len(a.Angles))
	for i, angle := range a.Angles {
		angles[i] = report.Degree.In(angle)
	}
	return report.ObjectOf("angles_deg", angles, "used", a.Used)
}
