package validation

import (
	"fmt"
	"strings"

	"lanesim/report"
)

// Object returns the outcomes of cases for JSON.
func Object(outcomes []Outcome) report.Object {
	return report.ObjectOf("model", report.Model, "cases", report.Each(outcomes, caseObject))
}

// caseObject returns a case for JSON: error and tolerance are shares of the expected value
// if it is relative, and failure is the reason if nothing was computed.
func caseObject(v Outcome) report.Object {
	var failure any
	if v.Failure != nil {
		failure = v.Failure.Error()
	}
	return report.ObjectOf("name", v.Name, "quantity", v.Quantity, "unit", v.Unit, "expected", v.Expected, "computed", v.Computed, "error", v.Error,
		"tolerance", v.Tolerance, "relative", v.Relative, "pass", v.Pass, "failure", failure, "source", v.Source, "mark", v.Mark)
}

// Table prints cases for people, below the name of their set-up.
func Table(outcomes []Outcome, c report.Paint) string {
	t := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "expected", "computed", "error", "allowed", "verdict"}}}
	headings := map[int]string{} // the rows before which a set-up is named
	name, source := "", ""
	passed := 0
	for _, r := range outcomes {
		from := fmt.Sprintf("source: %s (%s)", r.Source, r.Mark)
		var heading []string
		if r.Name != name {
			name, source = r.Name, ""
			heading = append(heading, c.Heading(name))
		}
		if from != source {
			source = from
			heading = append(heading, report.Wrap(from, "  ", "  ", sourceWidth)...)
		}
		if heading != nil {
			headings[len(t.Rows)] = strings.Join(heading, "\n")
		}
		unit, share := "", ""
		if r.Unit != "" {
			unit = ", " + r.Unit
		}
		if r.Relative {
			share = " rel"
		}
		short := func(v float64) string { return report.Digits(v, 2) + share }
		full := func(v float64) string { return report.Digits(v, 7) }
		t.Rows = append(t.Rows, []string{"  " + r.Quantity + unit, full(r.Expected), full(r.Computed), short(r.Error), short(r.Tolerance), verdict(r.Pass)})
		if r.Pass {
			passed++
		}
	}
	t.Tone = func(_, column int, text string) report.Tone {
		if column == 5 && text == verdict(false) {
			return report.BadTone
		}
		return report.PlainTone
	}
	var b strings.Builder
	for i, line := range strings.SplitAfter(t.Print(c), "\n") {
		if heading, ok := headings[i]; ok {
			b.WriteString(heading + "\n")
		}
		b.WriteString(line)
	}
	fmt.Fprintf(&b, "\n%d of %d cases pass.\n", passed, len(outcomes))
	return b.String()
}

// sourceWidth is the width in characters to which sources are wrapped: that of the table of
// most cases.
const sourceWidth = 108

// verdict names the outcome of a case.
func verdict(pass bool) string {
	if pass {
		return "pass"
	}
	return "FAIL"
}
