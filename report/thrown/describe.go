package thrown

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
)

// Described has shots on a lane to describe in words. Board returns the board of a lateral position in m.
type Described struct {
	Lane  lane.Lane
	Shots []NamedShot
	Board func(lateral float64) float64
}

// NamedShot is a shot with its name and, if it is to be mentioned, its line.
type NamedShot struct {
	Name, Line string
	Shot       physics.Shot
}

// Words describes the shots in one or two sentences: events and end of one shot, or the differences of
// several.
func (d Described) Words() string {
	switch len(d.Shots) {
	case 0:
		if d.Lane.Oil == nil || !slices.ContainsFunc(d.Lane.Oil.Film, func(film float64) bool { return film > 0 }) {
			return "A dry lane."
		}
		return fmt.Sprintf("The oil ends at %s.", footText(d.Lane.Oil.Length()))
	case 1:
		return d.lineAtFirst(d.describeOne(d.Shots[0].Shot))
	case 2:
		a, b := d.Shots[0], d.Shots[1]
		if a.Line != b.Line {
			a.Name, b.Name = a.Name+" ("+a.Line+")", b.Name+" ("+b.Line+")"
		}
		return d.lineAtFirst(fmt.Sprintf("%s %s; %s %s.", a.Name, d.outcome(a.Shot), b.Name, d.outcome(b.Shot)))
	}
	return d.lineAtFirst(d.describeMany())
}

func footText(m float64) string { return report.Foot.Show(m) + " ft" }

// lineAtFirst puts the line before the words if all shots have the same line.
func (d Described) lineAtFirst(words string) string {
	line := d.Shots[0].Line
	if line == "" || slices.ContainsFunc(d.Shots, func(s NamedShot) bool { return s.Line != line }) {
		return words
	}
	return startWith(line) + ". " + words
}

func (d Described) describeOne(s physics.Shot) string {
	var parts []string
	if h := s.Events.HookStart; h != nil {
		parts = append(parts, "hook starts at "+footText(h.Distance))
	}
	if r := s.Events.FrictionRead; r != nil {
		parts = append(parts, "reads the friction at "+footText(r.Distance))
	}
	if b := s.Events.Breakpoint; b != nil {
		parts = append(parts, fmt.Sprintf("breakpoint board %s at %s", report.Board.Show(d.Board(b.Lateral)), footText(b.Distance)))
	}
	if s.Events.HookStart == nil && s.Events.Breakpoint == nil {
		parts = append(parts, "goes straight")
	}
	if r := s.Events.RollStart; r != nil {
		parts = append(parts, "rolls from "+footText(r.Distance))
	} else if s.Events.Pins != nil {
		parts = append(parts, "does not roll before the pins")
	}
	parts = append(parts, d.outcome(s))
	parts[0] = startWith(parts[0])
	return strings.Join(parts, ", ") + "."
}

// startWith makes the first letter a capital.
func startWith(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// outcome describes how the shot ended.
func (d Described) outcome(s physics.Shot) string {
	if e := s.Events.Pins; e != nil {
		return EntryText(d.Board(e.Lateral), e.Heading)
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
	return words + " at " + footText(s.Path[len(s.Path)-1].Distance)
}

// describeMany describes several shots by the two that are farthest apart at the pins.
func (d Described) describeMany() string {
	var there []NamedShot // those that reach the pins, by entry board
	var angles []float64
	board := func(s NamedShot) float64 { return d.Board(s.Shot.Events.Pins.Lateral) }
	for _, s := range d.Shots {
		if e := s.Shot.Events.Pins; e != nil {
			there, angles = append(there, s), append(angles, e.Heading)
		}
	}
	lost := len(d.Shots) - len(there)
	if len(there) == 0 {
		return fmt.Sprintf("None of the %d shots reaches the pins.", len(d.Shots))
	}
	if len(there) == 1 {
		return fmt.Sprintf("Only %s reaches the pins: it %s.", there[0].Name, d.outcome(there[0].Shot))
	}
	least := func(a, b NamedShot) int { return cmp.Compare(board(a), board(b)) }
	low, high := slices.MinFunc(there, least), slices.MaxFunc(there, least)
	s := fmt.Sprintf("At the pins %s boards lie between %s (%s) and %s (%s)", report.Board.Show(board(high)-board(low)),
		low.Name, report.Board.Show(board(low)), high.Name, report.Board.Show(board(high)))
	if report.Board.Show(board(high)-board(low)) == report.Board.Show(0) {
		who := "All"
		if lost > 0 {
			who = "Those that get there"
		}
		s = fmt.Sprintf("%s enter on board %s", who, report.Board.Show(board(low)))
	}
	s += fmt.Sprintf("; angles %s° to %s°", report.Degree.Show(slices.Min(angles)), report.Degree.Show(slices.Max(angles)))
	switch lost {
	case 0:
	case 1:
		s += "; one does not reach them"
	default:
		s += fmt.Sprintf("; %d do not reach them", lost)
	}
	return s + "."
}

// OneDelivery is the caution that a thrown shot is one delivery.
const OneDelivery = "Each shot is one delivery, exactly as written: a bowler's own deliveries scatter about it"
