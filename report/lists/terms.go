package lists

import (
	"strings"

	"lanesim/report"
	"lanesim/report/terms"
)

// TermText formats the explanation of a term.
func TermText(t terms.Term, c report.Paint) string {
	heading := c.Heading(t.Name)
	if t.Unit != "" {
		heading += " (" + t.Unit + ")"
	}
	lines := append([]string{heading}, indented(t.Text)...)
	lines = append(lines, indented("From: "+t.From+".")...)
	if len(t.Also) > 0 {
		lines = append(lines, indented("Also: "+strings.Join(t.Also, ", ")+".")...)
	}
	return strings.Join(lines, "\n") + "\n"
}

func indented(text string) []string { return report.Wrap(text, "  ", "", report.Width) }

// TermList lists all terms by topic, each with its first sentence.
func TermList(c report.Paint) string {
	var b strings.Builder
	for i, topic := range terms.Topics() {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(c.Heading(topic.Name) + "\n")
		for _, t := range topic.Terms {
			first, _, _ := strings.Cut(t.Text, ". ")
			b.WriteString(strings.Join(report.Wrap(t.Name+": "+strings.TrimSuffix(first, ".")+".", "  ", "  ", report.Width), "\n") + "\n")
		}
	}
	return b.String() + "\n'lanesim explain TERM' says more, with the unit and where it comes from.\n"
}
