package main

import (
	"strings"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/report"
	"lanesim/report/lists"
	"lanesim/report/terms"

	"github.com/spf13/cobra"
)

func (p *program) explainCommand() *cobra.Command {
	var asJSON bool
	c := helped("explain", &cobra.Command{
		Use:     "explain [TERM]...",
		GroupID: groupLearn,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return input.Each(terms.All(), func(t terms.Term) string { return t.Name }), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, words []string) error { return p.explain(strings.Join(words, " "), asJSON) },
	})
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// explain prints the terms in a word, a key or a heading; all terms for an empty word.
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
		if err := report.WriteJSON(&b, map[string][]terms.Term{"terms": found}); err != nil {
			return err
		}
	case word == "":
		b.WriteString(lists.TermList(p.paintFor(p.out)))
	default:
		for i, t := range found {
			if i > 0 {
				b.WriteString("\n")
			}
			b.WriteString(lists.TermText(t, p.paintFor(p.out)))
		}
	}
	return p.print([]byte(b.String()))
}

// explained returns the terms in a word; that of covers for the name of a built-in one.
func explained(word string) ([]terms.Term, error) {
	if _, cover := ball.CoverNamed(strings.ToLower(word)); cover {
		word = "cover"
	}
	found, rest := terms.Explain(word)
	switch {
	case len(found) > 0 && len(rest) == 0:
		return found, nil
	case input.DidYouMean(word, terms.Words()) != "":
		return nil, input.Wrong("there is no term %q: %s", word, input.DidYouMean(word, terms.Words()))
	case len(found) > 0:
		return found, nil
	}
	return nil, input.Wrong("there is no term %q: 'lanesim explain' lists all", word)
}
