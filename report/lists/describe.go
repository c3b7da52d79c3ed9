package lists

import (
	"fmt"
	"math"
	"strings"

	"lanesim/patterns"
	"lanesim/report"
)

// Longest oiled lengths in ft of short, medium and long patterns, to the
// nearest foot, as published.
const (
	longestShort  = 37
	longestMedium = 42
	longestLong   = 50
)

// Limits of the words for a ratio. Common practice calls patterns flat from about 1:1 to 2:1, and house
// patterns from about 8:1. The other limits are defined here; the lower limit of flat is the reciprocal of
// the upper.
const (
	flattest   = 1 / flatMost
	flatMost   = 2.0
	crownLeast = 8.0
)

// leastAsymmetry is the asymmetry from which a description mentions it: below 0.05 it is within the
// difference of two tape readings of one spot (assumed).
const leastAsymmetry = 0.05

// DescribePattern describes in one to three sentences how a pattern will play, with its numbers.
func DescribePattern(m patterns.Measures) string {
	if !(m.Volume > 0) {
		return "A dry lane: no oil anywhere."
	}
	var text strings.Builder
	word, playing := ratioWords(m.Ratio.Both)
	fmt.Fprintf(&text, "A %s, %s pattern: %.4g ft, %.4g mL, %s. %s",
		lengthWord(report.Foot.In(m.Length)), word, report.Foot.In(m.Length), m.Volume*1e6, ratioFigure(m), playing)
	if !math.IsNaN(m.ExitBoard) {
		fmt.Fprintf(&text, "; a first guess is that the ball leaves the oil at board %.3g (length less %d)", m.ExitBoard, patterns.ExitRule)
	}
	text.WriteString(".")
	if m.Asymmetry >= leastAsymmetry {
		fmt.Fprintf(&text, " It is not symmetric: %.0f %% of the oil lies left of centre, %.0f %% finds no match on the other side.",
			100*m.LeftShare, 100*m.Asymmetry)
	}
	return text.String()
}

func lengthWord(feet float64) string {
	switch whole := math.Round(feet); {
	case whole <= longestShort:
		return "short"
	case whole <= longestMedium:
		return "medium-length"
	case whole <= longestLong:
		return "long"
	}
	return "very long"
}

// ratioWords returns the word for a ratio and how it plays. This is common practice: on a crowned pattern an
// inside miss holds the pocket and an outside miss comes back, on a flat one neither.
func ratioWords(ratio float64) (word, playing string) {
	switch {
	case ratio < flattest:
		return "reversed", "Misses are made worse: the inside is drier and hooks early, the outside is oilier and does not come back"
	case ratio <= flatMost:
		return "flat", "A miss to either side stays a miss: the oil neither holds the ball inside nor brings it back from outside"
	case ratio < crownLeast:
		return "mildly crowned", "It forgives a little: a miss inside finds some more oil, a miss outside somewhat less"
	}
	// Also dry outside.
	return "crowned", "A miss inside finds oil and holds, a miss outside finds dry boards and comes back"
}

func ratioFigure(m patterns.Measures) string {
	boards := fmt.Sprintf("boards %d–%d over %d–%d of each side",
		m.Sets.Inside.From, m.Sets.Inside.To, m.Sets.Outside.From, m.Sets.Outside.To)
	if math.IsNaN(m.Ratio.Both) {
		return "no oil to compare with outside (" + boards + ")"
	}
	return fmt.Sprintf("%.3g times as much oil inside as outside (%s)", m.Ratio.Both, boards)
}

// ReadingCaution is shown with the numbers of a pattern measured on a lane. The difference of readings is
// assumed; see leastAsymmetry.
const ReadingCaution = "A grid is as good as its readings: two tape readings of one spot may differ by a twentieth or more (assumed), " +
	"so differences of that size between boards, sides or ratios mean nothing."
