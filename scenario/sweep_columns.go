package scenario

import (
	"fmt"
	"math"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/units"
)

// Column is a column of a sweep: a number that a shot has. Its name is that in
// the JSON of a shot: of the summary the key alone, of an event the key of the
// event and of the state, as in breakpoint_distance_ft or, as well,
// breakpoint.distance_ft.
type Column struct {
	Name    string
	Meaning string // a sentence without its full stop
	Unit    string // "" if there is none
	Kind    report.Kind

	of func(physics.Release, physics.Shot) report.Cell
}

// Of returns the column's value for a shot.
func (c Column) Of(r physics.Release, s physics.Shot) report.Cell { return c.of(r, s) }

// measure is a unit of columns by its value in SI.
type measure struct {
	unit string
	size float64
}

// The units of columns, as the JSON of a shot has them.
var (
	inFeet       = measure{"ft", units.Foot}
	inInches     = measure{"in", units.Inch}
	inMetres     = measure{"m", 1}
	inDegrees    = measure{"deg", units.Degree}
	inMPH        = measure{"mph", units.MPH}
	inMPS        = measure{"m/s", 1}
	inRPM        = measure{"rpm", units.RPM}
	inSeconds    = measure{"s", 1}
	inJoules     = measure{"J", 1}
	inNewtons    = measure{"N", 1}
	inMicrometre = measure{"um", 1e-6}
	inMillilitre = measure{"mL", 1e-6}
	inNothing    = measure{"", 1}
	inBoards     = measure{"boards", 1}
)

// cell turns an SI value into a cell.
func (m measure) cell(v float64) report.Cell {
	v /= m.size
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return report.Cell{Absent: true}
	case v == 0:
		v = 0 // without the sign that a zero can have
	}
	return report.Cell{Number: v}
}

// summaryColumn is a number of the summary.
func summaryColumn(name, meaning string, m measure, of func(physics.Summary) *float64) Column {
	return Column{Name: name, Meaning: meaning, Unit: m.unit, Kind: report.NumberKind, of: func(_ physics.Release, s physics.Shot) report.Cell {
		v := of(s.Summary)
		if v == nil {
			return report.Cell{Absent: true}
		}
		return m.cell(*v)
	}}
}

// Columns lists the columns that a sweep can have.
func Columns() []Column {
	truth := func(name, meaning string, of func(physics.Summary) bool) Column {
		return Column{Name: name, Meaning: meaning, Kind: report.TruthKind, of: func(_ physics.Release, s physics.Shot) report.Cell {
			return report.Cell{Truth: of(s.Summary)}
		}}
	}
	list := []Column{
		{Name: "status", Meaning: "How the shot ended", Kind: report.TextKind, of: func(_ physics.Release, s physics.Shot) report.Cell { return report.Cell{Text: string(s.Status)} }},
		{Name: "launch_angle_deg", Meaning: "Launch angle that was thrown; of use with  aim: pocket", Unit: "deg", Kind: report.NumberKind,
			of: func(r physics.Release, _ physics.Shot) report.Cell { return inDegrees.cell(r.Angle) }},
		summaryColumn("skid_ft", "Length of the skid, from release to hook start or roll start", inFeet, func(s physics.Summary) *float64 { return s.Skid }),
		summaryColumn("hook_ft", "Length of the hook, from hook start to roll start", inFeet, func(s physics.Summary) *float64 { return s.Hook }),
		summaryColumn("roll_ft", "Length of the roll, from roll start to the end", inFeet, func(s physics.Summary) *float64 { return s.Roll }),
		summaryColumn("entry_board", "Board at the pins, from the bowler's side", inBoards, func(s physics.Summary) *float64 { return s.EntryBoard }),
		summaryColumn("entry_angle_deg", "Heading at the pins", inDegrees, func(s physics.Summary) *float64 { return s.EntryAngle }),
		summaryColumn("speed_loss_mph", "Speed lost from release to the end", inMPH, func(s physics.Summary) *float64 { return &s.SpeedLoss }),
		summaryColumn("energy_lost_J", "Energy lost to friction", inJoules, func(s physics.Summary) *float64 { return &s.EnergyLost }),
		summaryColumn("flare_in", "Migration of the track over the ball", inInches, func(s physics.Summary) *float64 { return &s.Flare }),
		summaryColumn("flare_oil_in", "Migration of the track up to the end of the oil", inInches, func(s physics.Summary) *float64 { return &s.FlareOil }),
		summaryColumn("revolutions", "Revolutions from release to the end", inNothing, func(s physics.Summary) *float64 { return &s.Revolutions }),
		{Name: "re_slips", Meaning: "How often a rolling ball broke away", Kind: report.CountKind,
			of: func(_ physics.Release, s physics.Shot) report.Cell {
				return report.Cell{Number: float64(s.Summary.ReSlips)}
			}},
		truth("pocket", "Whether the ball enters in the pocket", func(s physics.Summary) bool { return s.Pocket }),
		truth("good_angle", "Whether the entry angle is good", func(s physics.Summary) bool { return s.GoodAngle }),
		summaryColumn("oil_mL_lane", "Oil that the lane gained; negative for taken", inMillilitre, func(s physics.Summary) *float64 { return &s.Oil.Lane }),
		summaryColumn("oil_mL_ball", "Oil on the ball at the end", inMillilitre, func(s physics.Summary) *float64 { return &s.Oil.Ball }),
		summaryColumn("oil_mL_soaked", "Oil that the cover soaked up", inMillilitre, func(s physics.Summary) *float64 { return &s.Oil.Soaked }),
		truth("breakpoint_in_oil", "Whether the breakpoint lies before the end of the oil", func(s physics.Summary) bool { return s.BreakpointInOil }),
	}
	for _, e := range eventNames {
		for _, q := range stateQuantities {
			list = append(list, Column{
				Name: e.name + "_" + q.name, Meaning: q.meaning + " " + e.meaning, Unit: q.in.unit, Kind: report.NumberKind,
				of: func(_ physics.Release, s physics.Shot) report.Cell {
					state := e.of(s.Events)
					if state == nil {
						return report.Cell{Absent: true}
					}
					return q.in.cell(q.of(*state))
				},
			})
		}
	}
	return list
}

// eventNames are the events of a shot.
var eventNames = []struct {
	name, meaning string
	of            func(physics.Events) *physics.State
}{
	{"hook_start", "at hook start", func(e physics.Events) *physics.State { return e.HookStart }},
	{"friction_read", "where the friction is read", func(e physics.Events) *physics.State { return e.FrictionRead }},
	{"breakpoint", "at the breakpoint", func(e physics.Events) *physics.State { return e.Breakpoint }},
	{"roll_start", "at roll start", func(e physics.Events) *physics.State { return e.RollStart }},
	{"pattern_end", "at the end of the oil", func(e physics.Events) *physics.State { return e.PatternEnd }},
	{"pins", "at the pins", func(e physics.Events) *physics.State { return e.Pins }},
	{"gutter", "where the ball leaves the lane", func(e physics.Events) *physics.State { return e.Gutter }},
}

// stateQuantities are the numbers of a state.
var stateQuantities = []struct {
	name, meaning string
	in            measure
	of            func(physics.State) float64
}{
	{"time_s", "Time since release", inSeconds, func(s physics.State) float64 { return s.Time }},
	{"distance_m", "Distance from the foul line", inMetres, func(s physics.State) float64 { return s.Distance }},
	{"distance_ft", "Distance from the foul line", inFeet, func(s physics.State) float64 { return s.Distance }},
	{"lateral_m", "Place across the lane, to the left of the middle,", inMetres, func(s physics.State) float64 { return s.Lateral }},
	{"board", "Board from the bowler's side", inBoards, func(s physics.State) float64 { return s.Board }},
	{"heading_deg", "Heading toward the bowler's off side", inDegrees, func(s physics.State) float64 { return s.Heading }},
	{"speed_mps", "Speed", inMPS, func(s physics.State) float64 { return s.Speed }},
	{"speed_mph", "Speed", inMPH, func(s physics.State) float64 { return s.Speed }},
	{"rev_rate_rpm", "Rev rate", inRPM, func(s physics.State) float64 { return s.RevRate }},
	{"axis_rotation_deg", "Axis rotation", inDegrees, func(s physics.State) float64 { return s.AxisRotation }},
	{"axis_tilt_deg", "Axis tilt", inDegrees, func(s physics.State) float64 { return s.AxisTilt }},
	{"slip_mps", "Speed of the contact over the lane", inMPS, func(s physics.State) float64 { return s.Slip }},
	{"friction", "Coefficient of friction", inNothing, func(s physics.State) float64 { return s.Friction }},
	{"normal_N", "Force between ball and lane", inNewtons, func(s physics.State) float64 { return s.Normal }},
	{"oil_um", "Film in the contact", inMicrometre, func(s physics.State) float64 { return s.Oil }},
	{"ball_oil_um", "Film that the ball brought", inMicrometre, func(s physics.State) float64 { return s.BallOil }},
}

// findColumn returns the column of a name, in either spelling. An event with a
// unit of distance is short for its distance: hook_start_ft.
func findColumn(all []Column, name string) (Column, bool) {
	name = strings.ReplaceAll(name, ".", "_")
	for _, e := range eventNames {
		if name == e.name+"_ft" {
			name = e.name + "_distance_ft"
		}
	}
	for _, c := range all {
		if c.Name == name {
			return c, true
		}
	}
	return Column{}, false
}

// SweepReference returns a page in Markdown that lists every field of a sweep
// file and every column that a sweep can have.
func SweepReference() string {
	r := &page{seen: map[*shape]bool{scenarioStandIn: true, varyStandIn: true}}
	r.WriteString("# Fields of a sweep file\n\n")
	r.mapping("Sweep", "", sweepShape)
	r.mapping("`vary`: a range", "", rangeShape(anyNumber))
	r.WriteString("## Columns of a sweep\n\n| column | meaning | unit |\n| --- | --- | --- |\n")
	for _, c := range Columns() {
		fmt.Fprintf(r, "| `%s` | %s | %s |\n", c.Name, c.Meaning, c.Unit)
	}
	return strings.TrimRight(r.String(), "\n") + "\n"
}
