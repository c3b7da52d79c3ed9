package studies

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// Headline says in a sentence what differs in a pair: how much later b reads
// the friction and where it enters. The names are those
// of the two shots.
func (c Compared) Headline(pair int, a, b string) string {
	p := c.Pairs[pair]
	shotA, shotB := c.Shots[p.A].Shot, c.Shots[p.B].Shot
	if p.Identical {
		return fmt.Sprintf("%s and %s are the same shot.", a, b)
	}
	if shotA.Events.Pins == nil || shotB.Events.Pins == nil {
		return fmt.Sprintf("%s %s; %s %s.", b, ending(shotB), a, ending(shotA))
	}
	var parts []string
	if d := p.Difference.FrictionRead; p.Difference.tells(p.Error, frictionReadOf) {
		parts = append(parts, fmt.Sprintf("reads the friction %s ft %s (at %.2f ft, not %.2f)", plainFeet(d), lateness(d),
			shotB.Events.FrictionRead.Distance/lane.Foot, shotA.Events.FrictionRead.Distance/lane.Foot))
	}
	boards := []float64{shotB.Events.Pins.Board, shotA.Events.Pins.Board}
	switch {
	case !p.Difference.tells(p.Error, atPins):
		parts = append(parts, "enters on the same board within the numerical error")
	case p.Difference.AtPins < 0:
		parts = append(parts, fmt.Sprintf("enters %.2f boards farther outside (board %.2f, not %.2f)", -p.Difference.AtPins, boards[0], boards[1]))
	default:
		parts = append(parts, fmt.Sprintf("enters %.2f boards farther inside (board %.2f, not %.2f)", p.Difference.AtPins, boards[0], boards[1]))
	}
	return fmt.Sprintf("Against %s, %s %s.", a, b, strings.Join(parts, " and "))
}

// Explain says in a few sentences what differs in a pair and why. It names a
// cause only if its share is beyond the numerical error.
func (c Compared) Explain(pair int, a, b string) string {
	p := c.Pairs[pair]
	said := []string{c.Headline(pair, a, b)}
	say := func(format string, values ...any) { said = append(said, fmt.Sprintf(format, values...)) }
	if p.Identical {
		return said[0]
	}
	if !math.IsNaN(p.Parting) {
		say("The paths are more than a quarter of a board apart from %.1f ft on.", p.Parting/lane.Foot)
	}
	if d := p.Difference; d.tells(p.Error, hookStartOf) {
		say("The hook starts %s ft %s.", plainFeet(d.HookStart), lateness(d.HookStart))
	}
	if s := p.shares(p.Mechanisms, frictionReadOf, "ft", lane.Foot); s != "" {
		say("Of the %s ft of the friction read, %s.", signed(p.Difference.FrictionRead/lane.Foot, 2), s)
	}
	if s := p.shares(p.Mechanisms, atPins, "boards", 1); s != "" {
		say("Of the %s boards at the pins, %s.", signed(p.Difference.AtPins, 2), s)
	}
	if p.claims(OilOnTrack) {
		if s := c.trackWords(p, a, b); s != "" {
			said = append(said, s)
		}
	}
	switch s := p.shares(p.Inputs, atPins, "boards", 1); {
	case len(p.Differ) == 1:
		say("Of the inputs only the %s differs.", plainName(string(p.Differ[0])))
	case s != "":
		say("By input, %s.", s)
	default:
		var names []string
		for _, i := range p.Differ {
			names = append(names, plainName(string(i)))
		}
		say("The inputs that differ are %s.", list(names))
	}
	if p.Note != "" {
		say("Some shares do not exist: %s.", strings.TrimSuffix(p.Note, "."))
	}
	return strings.Join(said, " ")
}

// trackWords tells why oil on the track differs.
func (c Compared) trackWords(p Pair, a, b string) string {
	s, t := c.Shots[p.A], c.Shots[p.B]
	if math.IsNaN(s.Spacing) || math.IsNaN(t.Spacing) {
		return ""
	}
	width := fmt.Sprintf("the contact is %.3g in wide", s.ContactWidth/ball.Inch)
	if s.ContactWidth != t.ContactWidth {
		width = fmt.Sprintf("the contacts are %.3g and %.3g in wide", s.ContactWidth/ball.Inch, t.ContactWidth/ball.Inch)
	}
	words := fmt.Sprintf("In the oil the track moves %.3f in per revolution with %s and %.3f in with %s; %s, so that they run on their own oil on %.0f%% and %.0f%% of that way",
		s.Spacing/ball.Inch, a, t.Spacing/ball.Inch, b, width, 100*s.Meeting, 100*t.Meeting)
	if !math.IsNaN(s.OnDry) && !math.IsNaN(t.OnDry) {
		words += fmt.Sprintf(", and past the oil still bring %.3f and %.3f um of it to the dry boards", s.OnDry*1e6, t.OnDry*1e6)
	}
	return words + "."
}

// number picks one of a change's numbers.
type number func(Change) float64

func atPins(c Change) float64         { return c.AtPins }
func frictionReadOf(c Change) float64 { return c.FrictionRead }
func hookStartOf(c Change) float64    { return c.HookStart }

// tells reports whether a number exists and is beyond the numerical error.
func (c Change) tells(err Change, of number) bool { return math.Abs(of(c)) > of(err) }

// claims reports whether a mechanism's share of the board at the pins or of the
// friction read is beyond the numerical error.
func (p Pair) claims(m Mechanism) bool {
	return slices.ContainsFunc(p.Mechanisms, func(c Cause) bool {
		return c.Name == string(m) && (c.tells(p.Error, atPins) || c.tells(p.Error, frictionReadOf))
	})
}

// shares lists the causes that a number of the pair can be said to have, the
// largest first; empty if the number itself does not tell.
func (p Pair) shares(causes []Cause, of number, unit string, in float64) string {
	if !p.Difference.tells(p.Error, of) {
		return ""
	}
	var beyond []Cause
	for _, c := range causes {
		if c.tells(p.Error, of) {
			beyond = append(beyond, c)
		}
	}
	sort.SliceStable(beyond, func(i, j int) bool { return math.Abs(of(beyond[i].Change)) > math.Abs(of(beyond[j].Change)) })
	var words []string
	for i, c := range beyond {
		s := fmt.Sprintf("%s makes %s", plainName(c.Name), signed(of(c.Change)/in, 2))
		if i == 0 {
			s += " " + unit
			if share := of(c.Change) / of(p.Difference); share > 0 {
				s += fmt.Sprintf(" (%.0f%%)", 100*share)
			}
		}
		words = append(words, s)
	}
	return list(words)
}

// plainName is a cause's name in words.
func plainName(key string) string {
	switch key {
	case string(RGAboutAxis):
		return "the RG about the axis"
	case string(OtherMechanisms):
		return "what else differs"
	case string(OilOnTrack):
		return "oil on the track"
	}
	return strings.ReplaceAll(key, "_", " ")
}

func plainFeet(d float64) string { return fmt.Sprintf("%.2f", math.Abs(d)/lane.Foot) }

func lateness(d float64) string {
	if d < 0 {
		return "earlier"
	}
	return "later"
}

// signed prints a number with its sign, a true minus.
func signed(v float64, decimals int) string {
	return strings.Replace(fmt.Sprintf("%+.*f", decimals, v), "-", "−", 1)
}

// ending says how a shot ended.
func ending(s physics.Shot) string {
	if e := s.Events.Pins; e != nil {
		return fmt.Sprintf("enters on board %.2f", e.Board)
	}
	if e := s.Events.Gutter; e != nil {
		return fmt.Sprintf("ends in the gutter at %.1f ft", e.Distance/lane.Foot)
	}
	return fmt.Sprintf("does not get to the pins (%s)", s.Status)
}

func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
