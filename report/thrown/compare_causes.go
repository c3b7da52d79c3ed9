package thrown

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"lanesim/internal/input"
	"lanesim/report"
	"lanesim/studies/compare"
	"lanesim/units"
)

func atPins(c compare.Change) float64         { return c.AtPins }
func frictionReadOf(c compare.Change) float64 { return c.FrictionRead }

// causeWords describes the mechanisms that make the difference, the largest first, with their shares.
func (p Pair) causeWords() string {
	read := p.largest(p.Mechanisms, frictionReadOf)
	pins := p.largest(p.Mechanisms, atPins)
	first := read
	if !(math.Abs(p.Difference.FrictionRead) >= p.comparison.Result.Visible.FrictionRead) && math.Abs(p.Difference.AtPins) >= p.comparison.Result.Visible.Boards || len(read) == 0 {
		first = pins
	}
	if len(first) == 0 {
		return ""
	}
	said := []string{p.mechanismWords(first[0])}
	switch {
	case len(read) == 1 && len(pins) == 1 && read[0].Name == pins[0].Name, len(read) == 0 && len(pins) == 1:
		said = append(said, startWith(makes(p.named(pins[0])))+" nearly all of the difference.")
	default:
		said = append(said, p.shareWords(read, frictionReadOf, feetText), p.shareWords(pins, atPins, boardsText))
	}
	return strings.Join(slices.DeleteFunc(said, func(s string) bool { return s == "" }), " ")
}

// largest returns the causes that matter, the largest first.
func (p Pair) largest(causes []compare.Cause, of func(compare.Change) float64) []compare.Cause {
	var large []compare.Cause
	for _, c := range causes {
		if p.Matters(c, of) {
			large = append(large, c)
		}
	}
	sort.SliceStable(large, func(i, j int) bool { return math.Abs(of(large[i].Change)) > math.Abs(of(large[j].Change)) })
	return large
}

// shareWords describes the shares of a number by causes. A cause against the difference has a minus sign.
func (p Pair) shareWords(causes []compare.Cause, of func(compare.Change) float64, text func(float64) string) string {
	whole := of(p.Difference)
	if text(whole) == text(0) {
		return ""
	}
	var words []string
	for _, c := range causes {
		if text(of(c.Change)) == text(0) {
			continue
		}
		share, _, _ := strings.Cut(text(of(c.Change)), " ")
		if (of(c.Change) < 0) != (whole < 0) {
			share = "−" + share
		}
		if words == nil {
			words = append(words, makes(p.named(c))+" "+share)
			continue
		}
		words = append(words, p.named(c)+" "+share)
	}
	if words == nil {
		return ""
	}
	return fmt.Sprintf("Of the %s, %s.", text(whole), input.List(words))
}

// mechanismWords describes the effect of a mechanism in this pair.
func (p Pair) mechanismWords(m compare.Cause) string {
	x, y := p.traced()
	switch compare.Mechanism(m.Name) {
	case compare.OilOnTrack:
		more, less, s, t := p.nameB, p.nameA, y, x // the one that meets more of its own oil
		if later := m.FrictionRead; later < 0 || math.IsNaN(later) && m.AtPins > 0 {
			more, less, s, t = p.nameA, p.nameB, x, y
		}
		switch width := s.ContactWidth; {
		case math.IsNaN(s.Spacing) || math.IsNaN(t.Spacing) || s.Spacing > t.Spacing:
			return fmt.Sprintf("%s meets more of the oil that it has picked up.", more)
		case s.Spacing < width:
			return fmt.Sprintf("%s runs on its own oil: in the oil its track moves %s in per revolution (%s's %s), less than the %s in that the contact is wide.",
				more, report.Inch.Show(s.Spacing), less, report.Inch.Show(t.Spacing), report.Inch.Show(width))
		default:
			return fmt.Sprintf("%s meets more of its own oil: in the oil its track moves %s in per revolution, %s's %s; the contact is %s in wide.",
				more, report.Inch.Show(s.Spacing), less, report.Inch.Show(t.Spacing), report.Inch.Show(width))
		}
	case compare.AxisMigration:
		return fmt.Sprintf("The core turns the spin axis of %s otherwise: %s flares %s in, %s %s in.", p.nameB,
			p.nameB, report.Inch.Show(y.Shot.Summary.Flare), p.nameA, report.Inch.Show(x.Shot.Summary.Flare))
	case compare.RGAboutAxis:
		return "The balls have other RGs about their axes, and so go from skid to roll in another distance."
	}
	return ""
}

// inputWords describes the inputs that make the difference.
func (p Pair) inputWords() string {
	if len(p.Differ) == 1 {
		name := plainName(string(p.Differ[0]))
		if p.Differ[0] == compare.MassInput {
			return fmt.Sprintf("Only the %s differ.", name)
		}
		return fmt.Sprintf("Only the %s differs.", name)
	}
	s := p.shareWords(p.largest(p.Inputs, atPins), atPins, boardsText)
	if s == "" {
		s = p.shareWords(p.largest(p.Inputs, frictionReadOf), frictionReadOf, feetText)
	}
	if s != "" && p.Visible {
		return "By input: of" + strings.TrimPrefix(s, "Of")
	}
	var names []string
	for _, i := range p.Differ {
		names = append(names, plainName(string(i)))
	}
	return fmt.Sprintf("%s differ.", startWith("the "+input.List(names)))
}

// intermediateWords explains the effect of intermediate differential, if balls with the same release differ
// in it.
func (p Pair) intermediateWords() string {
	x, y := p.traced()
	if !slices.Contains(p.Differ, compare.MassInput) || slices.Contains(p.Differ, compare.ReleaseInput) || math.Abs(x.Intermediate-y.Intermediate) < leastIntermediate {
		return ""
	}
	more, less, s, t := p.nameB, p.nameA, y, x
	if x.Intermediate > y.Intermediate {
		more, less, s, t = p.nameA, p.nameB, x, y
	}
	words := fmt.Sprintf("%s has more intermediate differential than %s (%.3f in, not %.3f) and flares %s in, not %s.", more, less,
		s.Intermediate/units.Inch, t.Intermediate/units.Inch, report.Inch.Show(s.Shot.Summary.Flare), report.Inch.Show(t.Shot.Summary.Flare))
	if s.Shot.Summary.Flare > t.Shot.Summary.Flare {
		return words + " With more of it the core pulls less on the spin axis at first, but over a whole shot the drilling angle decides whether that makes less flare or, as here, more. Common practice says more."
	}
	return words + " With more of it the middle RG comes down toward the low one, and with it the pull of the core on the spin axis; over a whole shot the drilling angle decides whether that makes less flare, as here, or more." +
		" Common practice says more, but the balls that it compares differ in total differential and drilling, too."
}

// leastIntermediate is the least difference of intermediate differentials, in m, that is mentioned.
const leastIntermediate = 0.001 * units.Inch

// named returns a cause's name in words. Instead of "other" it lists the inputs that do not affect the
// inertia.
func (p Pair) named(c compare.Cause) string {
	var inputs []string
	for _, i := range p.Differ {
		if i != compare.LayoutInput && i != compare.MassInput {
			inputs = append(inputs, plainName(string(i)))
		}
	}
	if c.Name != string(compare.OtherMechanisms) || inputs == nil {
		return plainName(c.Name)
	}
	return "the " + input.List(inputs)
}

// makes adds the verb to a name, singular or plural.
func makes(name string) string {
	if strings.Contains(name, " and ") || name == plainName(string(compare.MassInput)) {
		return name + " make"
	}
	return name + " makes"
}

func plainName(key string) string {
	switch key {
	case string(compare.RGAboutAxis):
		return "the RG about the axis"
	case string(compare.OtherMechanisms):
		return "what else differs"
	case string(compare.OilOnTrack):
		return "oil on the track"
	case string(compare.AxisMigration):
		return "axis migration"
	}
	return strings.ReplaceAll(key, "_", " ")
}
