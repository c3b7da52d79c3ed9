package thrown

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies/compare"
	"lanesim/units"
)

// Headline returns the answer in a sentence: whether a difference is visible, how much later b reads the
// friction, and where it ends.
func (p Pair) Headline() string {
	x, y := p.traced()
	switch {
	case p.Identical:
		return fmt.Sprintf("%s and %s are the same shot.", p.nameA, p.nameB)
	case x.Lost > 0 || y.Lost > 0:
		return fmt.Sprintf("%s %s; %s %s.", p.nameB, endingOf(y), p.nameA, endingOf(x))
	}
	said := p.nameB + " " + p.friction() + p.ends()
	if p.Visible {
		return said + "."
	}
	return fmt.Sprintf("No visible difference (below %s and %s): %s.", feetText(p.comparison.Result.Visible.FrictionRead), boardsText(p.comparison.Result.Visible.Boards), said)
}

// friction returns the part of a headline about the friction read, empty without one.
func (p Pair) friction() string {
	switch d := p.Difference.FrictionRead; {
	case math.IsNaN(d):
		return ""
	case feetText(d) == feetText(0):
		return "reads the friction where " + p.nameA + " does and "
	default:
		return fmt.Sprintf("reads the friction about %s %s than %s and ", feetText(d), lateness(d), p.nameA)
	}
}

// ends returns the part of a headline about the pins.
func (p Pair) ends() string {
	d := p.Difference.AtPins
	boards := []float64{p.comparison.Result.Shots[p.B].Shot.Events.Pins.Board, p.comparison.Result.Shots[p.A].Shot.Events.Pins.Board}
	against := ""
	if math.IsNaN(p.Difference.FrictionRead) {
		against = " than " + p.nameA
	}
	if boardsText(d) == boardsText(0) {
		return fmt.Sprintf("ends on the same board, %.1f", boards[0])
	}
	return fmt.Sprintf("ends %s farther %s%s, on board %s, not %s", boardsText(d), p.side(d), against, report.Board.Show(boards[0]), report.Board.Show(boards[1]))
}

// side returns the direction of a difference in boards: left or right, as both bowlers see it, or outside or
// inside if their hands differ.
func (p Pair) side(d float64) string {
	hand := p.comparison.Result.Shots[p.B].Release.Hand
	switch {
	case p.comparison.Result.Shots[p.A].Release.Hand != hand && d < 0:
		return "outside"
	case p.comparison.Result.Shots[p.A].Release.Hand != hand:
		return "inside"
	case (d < 0) == (hand == ball.Right):
		return "right"
	}
	return "left"
}

// Explain describes a pair in a few sentences: the answer, its size, the cause, and
// how sure it is.
func (p Pair) Explain() string {
	if p.Identical {
		return p.Headline()
	}
	parts := []string{p.Headline()}
	if lost := p.comparison.Result.Shots[p.A].Lost + p.comparison.Result.Shots[p.B].Lost; lost == 0 {
		parts = append(parts, p.sizeWords())
		if p.Visible {
			parts = append(parts, p.causeWords())
		}
	}
	parts = append(parts, p.intermediateWords(), p.inputWords(), p.sureWords())
	if note := p.ImpossibleWords(); note != "" {
		parts = append(parts, fmt.Sprintf("Shares were found without some of the shots: %s.", strings.TrimSuffix(note, ".")))
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}

// ImpossibleWords says why a mixed ball is impossible, for the first such ball; empty if all are possible.
func (p Pair) ImpossibleWords() string {
	if p.Impossible == nil {
		return ""
	}
	first, _, _ := strings.Cut(p.Impossible.Error(), "\n")
	return first
}

// sizeWords describes where the paths part, how the entry differs, and the effect of the phase of the
// release.
func (p Pair) sizeWords() string {
	var said []string
	if p.Visible && !math.IsNaN(p.Parting) {
		said = append(said, fmt.Sprintf("The paths are more than a quarter of a board apart from %.0f ft on.", p.Parting/units.Foot))
	}
	if d := p.Difference.EntryAngle / units.Degree; p.Visible && math.Abs(d) >= leastAngle {
		said = append(said, fmt.Sprintf("It enters %s° %s.", oneDecimal(d), map[bool]string{true: "flatter", false: "steeper"}[d < 0]))
	}
	var spread []string
	if s := p.Spread.FrictionRead; !math.IsNaN(s) && feetText(s) != feetText(0) {
		spread = append(spread, feetText(s))
	}
	if s := p.Spread.AtPins; !math.IsNaN(s) && boardsText(s) != boardsText(0) {
		spread = append(spread, boardsText(s))
	}
	if spread != nil {
		said = append(said, fmt.Sprintf("The phase of the core at release, which is unknown, changes that by %s (standard deviation).", input.List(spread)))
	}
	return strings.Join(said, " ")
}

// leastAngle is the least difference in entry angle, in degrees, that is mentioned.
const leastAngle = 0.1

// sureWords says in how many sets of assumed values the answer is true.
func (p Pair) sureWords() string {
	h := p.Assumed
	of := fmt.Sprintf("of %d sets of assumed values", h.AtPins.Of)
	if h.AtPins.Of == 0 || !p.Visible && math.IsNaN(p.Difference.AtPins) {
		return ""
	}
	if s := lineWords(h); s != "" {
		of += " (" + s + ")"
	}
	if !p.Visible {
		words := fmt.Sprintf("This holds in %d %s", h.Seen.None, of)
		if h.Seen.Open(h.Seen.None) {
			return words + ": whether one is visible is open."
		}
		return words + "."
	}
	all := p.Conclusions()
	if len(all) == 2 && all[0].In == all[1].In && !all[0].Open {
		return fmt.Sprintf("This holds in %d %s.", all[0].In, of)
	}
	var said []string
	for i, k := range all {
		words := fmt.Sprintf("that %s holds in %d", k.Words, k.In)
		if i == 0 {
			words = fmt.Sprintf("That %s holds in %d %s", k.Words, k.In, of)
		}
		if k.Open {
			words += " and is open"
		}
		said = append(said, words)
	}
	if said == nil {
		return ""
	}
	return strings.Join(said, "; ") + "."
}

// HeldConclusion is a conclusion about a pair with the number of sets of assumed values in which it is true.
type HeldConclusion struct {
	Words, Short string // "it reads the friction later", "later"
	In, Of       int
	Open         bool // true in fewer than three quarters of the sets
}

func concluded(words, short string, h compare.SignCount, in int) HeldConclusion {
	return HeldConclusion{words, short, in, h.Of, h.Open(in)}
}

// Conclusions returns the conclusions about a pair; none if no sets were tried.
func (p Pair) Conclusions() []HeldConclusion {
	all, h := []HeldConclusion{}, p.Assumed
	if h.Seen.Of == 0 {
		return all
	}
	if !p.Visible {
		return append(all, concluded("no difference is visible", "none visible", h.Seen, h.Seen.None))
	}
	if d := p.Difference.FrictionRead; !math.IsNaN(d) && feetText(d) != feetText(0) {
		all = append(all, concluded("it reads the friction "+lateness(d), lateness(d), h.FrictionRead, h.FrictionRead.Agree(d)))
	}
	if d := p.Difference.AtPins; !math.IsNaN(d) && boardsText(d) != boardsText(0) {
		side := map[bool]string{true: "outside", false: "inside"}[d < 0]
		all = append(all, concluded("it ends farther "+p.side(d), side, h.AtPins, h.AtPins.Agree(d)))
	}
	return all
}

// Sure returns a short text with the number of sets of assumed values in which the answer is true; empty if
// none were tried.
func (p Pair) Sure() string {
	if p.Identical && p.Assumed.Seen.Of > 0 {
		return "the same shot"
	}
	var said []string
	for _, k := range p.Conclusions() {
		words := fmt.Sprintf("%d %s", k.In, k.Short)
		if k.Open {
			words += " (open)"
		}
		said = append(said, words)
	}
	return strings.Join(said, ", ")
}

// lineWords describes lines that ended on the way to the sets' values.
func lineWords(h compare.AssumedResult) string {
	var said []string
	if h.Changed > 0 {
		said = append(said, fmt.Sprintf("in %d of them the line ends, and another is taken", h.Changed))
	}
	if h.Lost > 0 {
		said = append(said, fmt.Sprintf("in %d no line to the pocket goes on from it", h.Lost))
	}
	return strings.Join(said, "; ")
}

func endingOf(t compare.ShotResult) string {
	words := ""
	switch e := t.Shot.Events; {
	case e.Pins != nil:
		return "enters on board " + report.Board.Show(e.Pins.Board)
	case e.Gutter != nil && t.Shot.Status == physics.Gutter:
		words = fmt.Sprintf("ends in the gutter at %.0f ft", e.Gutter.Distance/units.Foot)
	default:
		words = fmt.Sprintf("does not get to the pins (%s)", t.Shot.Status)
	}
	if t.Lost < t.Phases {
		words += fmt.Sprintf(" at %d of %d phases of the release", t.Lost, t.Phases)
	}
	return words
}

// oneDecimal formats the size of a number with one decimal, without a trailing zero.
func oneDecimal(v float64) string {
	return strconv.FormatFloat(math.Round(10*math.Abs(v))/10, 'f', -1, 64)
}

// feetText formats the size of a distance in m in feet.
func feetText(d float64) string { return oneDecimal(d/units.Foot) + " ft" }

// boardsText formats the size of a difference in boards.
func boardsText(d float64) string {
	text := oneDecimal(d)
	if math.Abs(d) < 1.05 {
		return text + " board"
	}
	return text + " boards"
}

func lateness(d float64) string {
	if d < 0 {
		return "earlier"
	}
	return "later"
}

// HowSure says how the means are taken and with which sets the answers were tried.
func (c *Comparison) HowSure() []string {
	var words []string
	phases := 0
	for _, t := range c.Result.Shots {
		phases = max(phases, t.Phases)
	}
	if phases > 1 {
		words = append(words, fmt.Sprintf("How the core points when the ball lands is not known: each number is a mean over %d phases of the release, with ± its standard deviation over them", phases))
	}
	if of := c.Result.Pairs[0].Assumed.AtPins.Of; of > 0 {
		words = append(words, fmt.Sprintf("The answers were tried with %d sets of assumed values: one that fewer than three quarters of them share is open", of))
	}
	return words
}
