package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/units"
)

// difference is a row of a pair's table: what it is, and its value in each shot.
type difference struct {
	name string
	of   func(t studies.Traced) *float64
}

// value returns a number that exists.
func value(v float64) *float64 { return &v }

// ofState returns a number of a state that may not exist.
func ofState(s *physics.State, of func(physics.State) float64) *float64 {
	if s == nil {
		return nil
	}
	return value(of(*s))
}

// in converts a number that may not exist.
func in(v *float64, convert func(float64) float64) *float64 {
	if v == nil {
		return nil
	}
	return value(convert(*v))
}

// boardAt is the row of the board at a distance in m.
func boardAt(name string, distance float64) difference {
	return difference{"board at " + name, func(t studies.Traced) *float64 {
		return value(studies.BoardAt(t.Shot.Path, distance))
	}}
}

// differences lists the rows of a pair's table.
func differences(a, b physics.Shot) []difference {
	rows := []difference{
		{"launch angle, deg", func(t studies.Traced) *float64 { return value(degrees(t.Release.Angle)) }},
		boardAt("the arrows", lane.Arrows),
	}
	for _, s := range []struct {
		name  string
		state *physics.State
	}{{"a's", a.Events.Breakpoint}, {"b's", b.Events.Breakpoint}} {
		if s.state != nil {
			rows = append(rows, boardAt(s.name+" breakpoint", s.state.Distance))
		}
	}
	for _, ft := range []float64{45, 50, 55} {
		rows = append(rows, boardAt(fmt.Sprintf("%g ft", ft), ft*units.Foot))
	}
	return append(rows, []difference{
		{"board at the pins", func(t studies.Traced) *float64 { return t.Shot.Summary.EntryBoard }},
		{"entry angle, deg", func(t studies.Traced) *float64 { return in(t.Shot.Summary.EntryAngle, degrees) }},
		{"skid, ft", func(t studies.Traced) *float64 { return in(t.Shot.Summary.Skid, feet) }},
		{"hook, ft", func(t studies.Traced) *float64 { return in(t.Shot.Summary.Hook, feet) }},
		{"roll, ft", func(t studies.Traced) *float64 { return in(t.Shot.Summary.Roll, feet) }},
		{"hook start, ft", func(t studies.Traced) *float64 { return ofState(t.Shot.Events.HookStart, stateFeet) }},
		{"friction read, ft", func(t studies.Traced) *float64 { return ofState(t.Shot.Events.FrictionRead, stateFeet) }},
		{"breakpoint, ft", func(t studies.Traced) *float64 { return ofState(t.Shot.Events.Breakpoint, stateFeet) }},
		{"breakpoint, board", func(t studies.Traced) *float64 { return ofState(t.Shot.Events.Breakpoint, stateBoard) }},
		{"roll start, ft", func(t studies.Traced) *float64 { return ofState(t.Shot.Events.RollStart, stateFeet) }},
		{"speed at release, mph", func(t studies.Traced) *float64 { return value(milesPerHour(t.Shot.Path[0].Speed)) }},
		{"speed at pins, mph", func(t studies.Traced) *float64 {
			return ofState(t.Shot.Events.Pins, func(s physics.State) float64 { return milesPerHour(s.Speed) })
		}},
		{"rev rate at pins, rpm", func(t studies.Traced) *float64 {
			return ofState(t.Shot.Events.Pins, func(s physics.State) float64 { return revsPerMinute(s.RevRate) })
		}},
		{"flare, in", func(t studies.Traced) *float64 { return value(inches(t.Shot.Summary.Flare)) }},
		{"flare in the oil, in", func(t studies.Traced) *float64 { return value(inches(t.Shot.Summary.FlareOil)) }},
		{"track per revolution in the oil, in", func(t studies.Traced) *float64 { return value(inches(t.Spacing)) }},
		{"width of the contact, in", func(t studies.Traced) *float64 { return value(inches(t.ContactWidth)) }},
		{"film brought to the dry, um", func(t studies.Traced) *float64 { return value(micrometres(t.OnDry)) }},
	}...)
}

// explanationWidth is that of a terminal.
const explanationWidth = 80

// table prints a line for each pair and the details of some.
func (c *comparison) table(color report.Paint, detailed []int) string {
	var b strings.Builder
	if c.title != "" {
		b.WriteString(color.Heading(c.title) + "\n\n")
	}
	b.WriteString(c.matrix(color))
	for _, k := range detailed {
		p := c.result.Pairs[k]
		a, z := c.names(p.A, p.B)
		b.WriteString("\n")
		if s, t := c.shots[p.A], c.shots[p.B]; s.bowler == t.bowler {
			b.WriteString(s.bowler + ": ")
		}
		b.WriteString(color.Heading("a = "+a+", b = "+z) + "\n\n")
		for _, line := range wrapped(c.result.Explain(k, a, z), explanationWidth) {
			b.WriteString(line + "\n")
		}
		b.WriteString("\n" + c.pairTable(p).String())
		if !p.Identical {
			b.WriteString("\n" + causeTable(p).String())
		}
	}
	if n := len(c.result.Pairs); n > len(detailed) {
		fmt.Fprintf(&b, "\nDetails of %d of %d pairs: --pair 'a, b' asks for others, --pair all for all.\n", len(detailed), n)
	}
	return b.String()
}

func (c *comparison) pairTable(p studies.Pair) table {
	a, b := c.result.Shots[p.A], c.result.Shots[p.B]
	t := table{left: []bool{true}, rows: [][]string{
		{"", "a", "b", "b − a"},
		{"ended", string(a.Shot.Status), string(b.Shot.Status)},
	}}
	for _, row := range differences(a.Shot, b.Shot) {
		x, y := row.of(a), row.of(b)
		change := absent
		if x != nil && y != nil {
			change = plus(*y - *x)
		}
		t.rows = append(t.rows, []string{row.name, maybe(x, same), maybe(y, same), change})
	}
	if !math.IsNaN(p.Parting) {
		t.rows = append(t.rows, []string{fmt.Sprintf("%g board apart from, ft", studies.PartingBoards), "", "", figure(feet(p.Parting))})
	}
	return t
}

// plus prints a difference with its sign, with as many decimals as mean anything.
func plus(v float64) string {
	const decimals = 3
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	switch {
	case math.IsNaN(v):
		return absent
	case v == 0:
		return "0"
	case v > 0:
		return "+" + text
	}
	return text
}

// causeTable shows the shares.
func causeTable(p studies.Pair) table {
	t := table{left: []bool{true}, rows: [][]string{{"b − a", "friction read, ft", "pins, boards", "angle, deg", "hook start, ft", "breakpoint, ft"}}}
	add := func(name string, c studies.Change, put func(float64) string) {
		t.rows = append(t.rows, []string{name, put(feet(c.FrictionRead)), put(c.AtPins), put(degrees(c.EntryAngle)), put(feet(c.HookStart)), put(feet(c.Breakpoint))})
	}
	add("difference", p.Difference, plus)
	add("  ± over phases", p.Spread, figure)
	for _, m := range p.Mechanisms {
		add("  "+m.Name, m.Change, plus)
	}
	for _, i := range p.Inputs {
		add("  input: "+i.Name, i.Change, plus)
	}
	if p.Error != (studies.Change{}) {
		add("numerical error", p.Error, figure)
	}
	return t
}

// wrapped breaks a text at spaces into lines.
func wrapped(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) > width:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}
