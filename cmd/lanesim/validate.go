package main

import (
	"context"
	"fmt"
	"strings"

	"lanesim/files"
	"lanesim/report"
	"lanesim/validation"

	"github.com/spf13/cobra"
)

func (p *program) validateCommand() *cobra.Command {
	var o outputFlags
	c := &cobra.Command{
		Use:     "validate",
		GroupID: groupRun,
		Short:   "Check the physics against cases with known answers",
		Long: `Validate computes cases whose answers are known, from textbooks, papers,
derivations and other programs, and compares. It fails if one is off by more
than the case allows. Under each set-up stands where its answers come from.`,
		Example: `  lanesim validate
  lanesim validate --json`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := o.check([]string{".json"}); err != nil {
				return err
			}
			return p.validate(c.Context(), o)
		},
	}
	c.Flags().SortFlags = false
	o.addJSON(c)
	o.addPaths(c, []string{".json"})
	return c
}

// caseObject is a case as it is printed: error and tolerance are shares of what is
// expected if it is relative, and failure says why nothing was computed.
func caseObject(v validation.Outcome) report.Object {
	var failure any
	if v.Failure != nil {
		failure = v.Failure.Error()
	}
	var o report.Object
	for _, m := range []struct {
		key   string
		value any
	}{
		{"name", v.Name}, {"quantity", v.Quantity}, {"unit", v.Unit}, {"expected", v.Expected}, {"computed", v.Computed}, {"error", v.Error},
		{"tolerance", v.Tolerance}, {"relative", v.Relative}, {"pass", v.Pass}, {"failure", failure}, {"source", v.Source}, {"mark", v.Mark},
	} {
		o = append(o, report.Member{Key: m.key, Value: m.value})
	}
	return o
}

// validate runs the validate command.
func (p *program) validate(ctx context.Context, o outputFlags) error {
	outcomes, err := validation.Run(ctx, p.progress("case"))
	if err != nil {
		return err
	}
	failed := 0
	for _, v := range outcomes {
		if !v.Pass {
			failed++
		}
	}
	text, err := report.JSON(report.Object{{Key: "model", Value: report.Model}, {Key: "cases", Value: report.Each(outcomes, caseObject)}})
	if err != nil {
		return err
	}
	text = append(text, '\n')
	var all []file
	for _, out := range o.paths {
		if out != files.Standard {
			all = append(all, file{Path: out, Content: text})
		}
	}
	if err := p.writeFiles(all); err != nil {
		return err
	}
	if !o.json {
		text = []byte(p.caseTable(outcomes, p.paintFor(p.out)))
	}
	if err := p.print(text); err != nil {
		return err
	}
	if failed > 0 {
		return fmt.Errorf("%d of %d cases fail", failed, len(outcomes))
	}
	return nil
}

// caseTable prints cases for people, under the name of their set-up.
func (p *program) caseTable(records []validation.Outcome, c report.Paint) string {
	t := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "expected", "computed", "error", "allowed", "verdict"}}}
	headings := map[int]string{} // the rows before which a set-up is named
	name, source := "", ""
	passed := 0
	for _, r := range records {
		told := fmt.Sprintf("source: %s (%s)", r.Source, r.Mark)
		var heading []string
		if r.Name != name {
			name, source = r.Name, ""
			heading = append(heading, c.Heading(name))
		}
		if told != source {
			source = told
			heading = append(heading, report.Wrap(told, "  ", "  ", sourceWidth)...)
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
	fmt.Fprintf(&b, "\n%d of %d cases pass.\n", passed, len(records))
	return b.String()
}

// sourceWidth is the width in characters to which sources are wrapped: that of
// the table of most cases.
const sourceWidth = 108

// verdict names the outcome of a case.
func verdict(pass bool) string {
	if pass {
		return "pass"
	}
	return "FAIL"
}
