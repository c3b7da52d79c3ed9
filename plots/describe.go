package plots

import (
	"fmt"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
)

// feet prints a distance in m.
func feet(m float64) string { return report.Foot.Show(m) + " ft" }

// degrees prints an angle in rad.
func degrees(rad float64) string { return report.Degree.Show(rad) + "°" }

// Describe says in a sentence or two what a figure's shots did: where one
// hooks, breaks, rolls and enters, or what tells several apart. Boards are
// counted as in the figure: from the bowlers' side or, where left- and
// right-handers meet, from the right.
func Describe(f Figure) string {
	v := view{Figure: f, side: sideOf(f.Series)}
	switch len(f.Series) {
	case 0:
		if thickest(f.Lane.Oil) == 0 {
			return "A dry lane."
		}
		return fmt.Sprintf("The oil ends at %s.", feet(f.Lane.Oil.Length()))
	case 1:
		return v.lineAtFirst(v.describeOne(f.Series[0].Shot))
	case 2:
		a, b := named(f.Series, 0), named(f.Series, 1)
		if v.side != rightForMixed && f.Series[0].Line != f.Series[1].Line {
			a, b = a+" ("+f.Series[0].Line+")", b+" ("+f.Series[1].Line+")"
		}
		return v.lineAtFirst(fmt.Sprintf("%s %s; %s %s.", a, v.outcome(f.Series[0].Shot), b, v.outcome(f.Series[1].Shot)))
	}
	return v.lineAtFirst(v.describeMany())
}

// lineAtFirst puts the line before the words, if all shots have the same. Boards of a
// line count from the bowler's side, so where they do not in the figure it is left out.
func (v *view) lineAtFirst(words string) string {
	line := v.Series[0].Line
	if line == "" || v.side == rightForMixed || slices.ContainsFunc(v.Series, func(s Series) bool { return s.Line != line }) {
		return words
	}
	return strings.ToUpper(line[:1]) + line[1:] + ". " + words
}

func (v *view) describeOne(s physics.Shot) string {
	var parts []string
	if h := s.Events.HookStart; h != nil {
		parts = append(parts, "hook starts at "+feet(h.Distance))
	}
	if r := s.Events.FrictionRead; r != nil {
		parts = append(parts, "reads the friction at "+feet(r.Distance))
	}
	if b := s.Events.Breakpoint; b != nil {
		parts = append(parts, fmt.Sprintf("breakpoint board %s at %s", report.Board.Show(v.board(b.Lateral)), feet(b.Distance)))
	}
	if s.Events.HookStart == nil && s.Events.Breakpoint == nil {
		parts = append(parts, "goes straight")
	}
	if r := s.Events.RollStart; r != nil {
		parts = append(parts, "rolls from "+feet(r.Distance))
	} else if s.Events.Pins != nil {
		parts = append(parts, "does not roll before the pins")
	}
	parts = append(parts, v.outcome(s))
	parts[0] = strings.ToUpper(parts[0][:1]) + parts[0][1:]
	return strings.Join(parts, ", ") + "."
}

// outcome says how the shot ended.
func (v *view) outcome(s physics.Shot) string {
	if e := s.Events.Pins; e != nil {
		return thrown.EntryText(v.board(e.Lateral), e.Heading)
	}
	words := "ends"
	switch s.Status {
	case physics.Gutter:
		words = "ends in the gutter"
	case physics.FoulLine:
		return "comes back over the foul line"
	case physics.Stopped:
		words = "stops"
	case physics.TimeLimit, physics.Lifted:
		words = fmt.Sprintf("ends (%s)", s.Status)
	}
	if len(s.Path) == 0 {
		return words
	}
	return words + " at " + feet(s.Path[len(s.Path)-1].Distance)
}

// describeMany tells the shots apart by those farthest from each other.
func (v *view) describeMany() string {
	all := v.Series
	low, high := -1, -1 // the shots with the least and the greatest entry board
	board := func(i int) float64 { return v.board(all[i].Shot.Events.Pins.Lateral) }
	angles := emptySpan()
	lost := 0
	for i, s := range all {
		e := s.Shot.Events.Pins
		if e == nil {
			lost++
			continue
		}
		angles.include(e.Heading)
		if low < 0 || board(i) < board(low) {
			low = i
		}
		if high < 0 || board(i) > board(high) {
			high = i
		}
	}
	var s string
	switch {
	case low < 0:
		return fmt.Sprintf("None of the %d shots reaches the pins.", len(all))
	case lost == len(all)-1:
		return fmt.Sprintf("Only %s reaches the pins: it %s.", named(all, low), v.outcome(all[low].Shot))
	case report.Board.Show(board(high)-board(low)) == report.Board.Show(0):
		who := "All"
		if lost > 0 {
			who = "Those that get there"
		}
		s = fmt.Sprintf("%s enter on board %s; angles %s to %s",
			who, report.Board.Show(board(low)), degrees(angles.min), degrees(angles.max))
	default:
		s = fmt.Sprintf("At the pins %s boards lie between %s (%s) and %s (%s); angles %s to %s",
			report.Board.Show(board(high)-board(low)), named(all, low), report.Board.Show(board(low)),
			named(all, high), report.Board.Show(board(high)), degrees(angles.min), degrees(angles.max))
	}
	switch lost {
	case 0:
	case 1:
		s += "; one does not reach them"
	default:
		s += fmt.Sprintf("; %d do not reach them", lost)
	}
	return s + "."
}

// allNamed are the names of all shots.
func allNamed(all []Series) []string {
	names := make([]string, len(all))
	for i := range names {
		names[i] = named(all, i)
	}
	return names
}

// named returns the shot's name, or its number if it has none.
func named(all []Series, i int) string {
	if n := strings.TrimSpace(printable(all[i].Name)); n != "" {
		return n
	}
	return fmt.Sprintf("shot %d", i+1)
}
