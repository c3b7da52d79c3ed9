package main

import (
	"encoding/json"
	"strings"

	"lanesim/input"
	"lanesim/report"
	"lanesim/report/terms"

	"github.com/spf13/cobra"
)

func (p *program) explainCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:     "explain [TERM]...",
		GroupID: groupLearn,
		Short:   "Say what a word in the input or output means",
		Long: `Explain says what a term means, in which unit it is given and where it comes
from: a published source, common practice of the trade, mechanics, or an
assumption. A term may be a word of the trade (PAP), a heading of a table or a
key of JSON or CSV: hook_start_speed_mph is explained as hook start and speed.

Without a term all of them are listed.`,
		Example: `  lanesim explain friction read
  lanesim explain PAP
  lanesim explain hook_start_speed_mph
  lanesim explain differential --json
  lanesim explain`,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var names []string
			for _, t := range terms.All() {
				names = append(names, t.Name)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, words []string) error { return p.explain(strings.Join(words, " "), asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// explain prints the terms that a word, a key or a heading is made of; all terms
// for an empty one.
func (p *program) explain(word string, asJSON bool) error {
	found := terms.All()
	if word != "" {
		var err error
		if found, err = explained(word); err != nil {
			return err
		}
	}
	var b strings.Builder
	switch {
	case asJSON:
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		if err := e.Encode(map[string][]terms.Term{"terms": found}); err != nil {
			return err
		}
	case word == "":
		b.WriteString(termList(p.paintFor(p.out)))
	default:
		for i, t := range found {
			if i > 0 {
				b.WriteString("\n")
			}
			b.WriteString(termText(t, p.paintFor(p.out)))
		}
	}
	return p.print([]byte(b.String()))
}

// explained returns the terms that a word is made of.
func explained(word string) ([]terms.Term, error) {
	found, rest := terms.Explain(word)
	switch {
	case len(found) > 0 && len(rest) == 0:
		return found, nil
	case input.DidYouMean(word, terms.Words()) != "":
		return nil, wrongInput("there is no term %q: %s", word, input.DidYouMean(word, terms.Words()))
	case len(found) > 0:
		return found, nil
	}
	return nil, wrongInput("there is no term %q: 'lanesim explain' lists all", word)
}

// termText explains a term to people.
func termText(t terms.Term, c report.Paint) string {
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

// termList lists all terms by topic, each with the first of its sentences.
func termList(c report.Paint) string {
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
	return b.String() + "\n'lanesim explain TERM' tells more, with the unit and where it comes from.\n"
}
