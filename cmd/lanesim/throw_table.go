package main

import (
	"slices"
	"strconv"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/scenario"
)

// shotsAcross is how many shots stand side by side in the table: with columns
// of usual names they fit a terminal of 80 characters.
const shotsAcross = 4

// quantity is a row of the table: what it is, with its unit, and how it is read
// off a shot.
type quantity struct {
	name string
	of   func(t thrown) string
}

// at prints a value of a state that may not exist.
func at(s *physics.State, value func(physics.State) float64) string {
	if s == nil {
		return absent
	}
	return figure(value(*s))
}

// maybe prints a number that may not exist.
func maybe(v *float64, convert func(float64) float64) string {
	if v == nil {
		return absent
	}
	return figure(convert(*v))
}

func stateFeet(s physics.State) float64  { return feet(s.Distance) }
func stateBoard(s physics.State) float64 { return s.Board }

// anglesToPocket is the row of a shot that was aimed: all launch angles that reach
// the pocket, of which the smallest is thrown.
const anglesToPocket = "angles to the pocket, deg"

var shotQuantities = []quantity{
	{"ended", func(t thrown) string { return string(t.shot.Status) }},
	{"launch angle, deg", func(t thrown) string { return figure(degrees(t.release.Angle)) }},
	{anglesToPocket, func(t thrown) string {
		if t.aimed == nil {
			return absent
		}
		var angles []string
		for _, a := range t.aimed.Angles {
			angles = append(angles, figure(degrees(a)))
		}
		return strings.Join(angles, ", ")
	}},
	{"skid, ft", func(t thrown) string { return maybe(t.shot.Summary.Skid, feet) }},
	{"hook, ft", func(t thrown) string { return maybe(t.shot.Summary.Hook, feet) }},
	{"roll, ft", func(t thrown) string { return maybe(t.shot.Summary.Roll, feet) }},
	{"hook start, ft", func(t thrown) string { return at(t.shot.Events.HookStart, stateFeet) }},
	{"friction read, ft", func(t thrown) string { return at(t.shot.Events.FrictionRead, stateFeet) }},
	{"breakpoint, ft", func(t thrown) string { return at(t.shot.Events.Breakpoint, stateFeet) }},
	{"breakpoint, board", func(t thrown) string { return at(t.shot.Events.Breakpoint, stateBoard) }},
	{"breakpoint in the oil", func(t thrown) string {
		if t.shot.Events.Breakpoint == nil {
			return absent
		}
		return yesNo(t.shot.Summary.BreakpointInOil)
	}},
	{"end of oil, board", func(t thrown) string { return at(t.shot.Events.PatternEnd, stateBoard) }},
	{"roll start, ft", func(t thrown) string { return at(t.shot.Events.RollStart, stateFeet) }},
	{"roll start, board", func(t thrown) string { return at(t.shot.Events.RollStart, stateBoard) }},
	{"gutter, ft", func(t thrown) string { return at(t.shot.Events.Gutter, stateFeet) }},
	{"entry board", func(t thrown) string { return maybe(t.shot.Summary.EntryBoard, same) }},
	{"entry angle, deg", func(t thrown) string { return maybe(t.shot.Summary.EntryAngle, degrees) }},
	{"pocket", func(t thrown) string { return yesNo(t.shot.Summary.Pocket) }},
	{"good angle", func(t thrown) string { return yesNo(t.shot.Summary.GoodAngle) }},
	{"time to pins, s", func(t thrown) string {
		return at(t.shot.Events.Pins, func(s physics.State) float64 { return s.Time })
	}},
	{"speed at release, mph", func(t thrown) string { return figure(milesPerHour(t.release.Speed)) }},
	{"speed at pins, mph", func(t thrown) string {
		return at(t.shot.Events.Pins, func(s physics.State) float64 { return milesPerHour(s.Speed) })
	}},
	{"speed lost, mph", func(t thrown) string { return figure(milesPerHour(t.shot.Summary.SpeedLoss)) }},
	{"energy lost, J", func(t thrown) string { return figure(t.shot.Summary.EnergyLost) }},
	{"rev rate at release, rpm", func(t thrown) string { return figure(revsPerMinute(t.release.RevRate)) }},
	{"rev rate at pins, rpm", func(t thrown) string {
		return at(t.shot.Events.Pins, func(s physics.State) float64 { return revsPerMinute(s.RevRate) })
	}},
	{"axis rotation at pins, deg", func(t thrown) string {
		return at(t.shot.Events.Pins, func(s physics.State) float64 { return degrees(s.AxisRotation) })
	}},
	{"axis tilt at pins, deg", func(t thrown) string {
		return at(t.shot.Events.Pins, func(s physics.State) float64 { return degrees(s.AxisTilt) })
	}},
	{"revolutions", func(t thrown) string { return figure(t.shot.Summary.Revolutions) }},
	{"re-slips", func(t thrown) string { return strconv.Itoa(t.shot.Summary.ReSlips) }},
	{"flare, in", func(t thrown) string { return figure(inches(t.shot.Summary.Flare)) }},
	{"flare in the oil, in", func(t thrown) string { return figure(inches(t.shot.Summary.FlareOil)) }},
	{"oil taken, mL", func(t thrown) string { return figure(-millilitres(t.shot.Summary.Oil.Lane)) }},
}

// shotTable prints shots side by side, a few at a time and, if they are more,
// each lane for itself.
func shotTable(s *scenario.Scenario, shots []thrown, c report.Paint) string {
	var b strings.Builder
	if s.Title != "" {
		b.WriteString(c.Heading(s.Title) + "\n\n")
	}
	for from := 0; from < len(shots); {
		to := from + 1
		for to < min(from+shotsAcross, len(shots)) && (shots[to].Lane == shots[from].Lane || len(shots) <= shotsAcross) {
			to++
		}
		if from > 0 {
			b.WriteString("\n")
		}
		b.WriteString(tableOf(shots[from:to], c).String())
		from = to
	}
	return b.String()
}

func tableOf(shots []thrown, c report.Paint) table {
	heads := []quantity{
		{"lane", func(t thrown) string { return t.lane }},
		{"ball", func(t thrown) string { return t.ball }},
		{"bowler", func(t thrown) string { return t.bowler }},
	}
	t := table{left: []bool{true}}
	aimed := slices.ContainsFunc(shots, func(t thrown) bool { return t.aimed != nil })
	for _, q := range append(heads, shotQuantities...) {
		if q.name == anglesToPocket && !aimed {
			continue
		}
		row := []string{q.name}
		for _, shot := range shots {
			row = append(row, q.of(shot))
		}
		t.rows = append(t.rows, row)
	}
	t.style = func(row, column int, text string) string {
		switch name := t.rows[row][0]; {
		case row < len(heads) && column > 0:
			return c.Heading(text)
		case column > 0 && name == "pocket" && text == yesNo(true):
			return c.Good(text)
		}
		return text
	}
	return t
}
