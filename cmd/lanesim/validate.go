package main

import (
	"context"
	"fmt"

	"lanesim/internal/files"
	"lanesim/report"
	"lanesim/validation"

	"github.com/spf13/cobra"
)

func (p *program) validateCommand() *cobra.Command {
	var o outputFlags
	c := helped("validate", &cobra.Command{
		Use:     "validate",
		GroupID: groupRun,
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := o.check([]string{".json"}); err != nil {
				return err
			}
			return p.validate(c.Context(), o)
		},
	})
	o.addJSON(c)
	o.addPaths(c, []string{".json"})
	return c
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
	text, err := report.JSON(validation.Object(outcomes))
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
		text = []byte(validation.Table(outcomes, p.paintFor(p.out)))
	}
	if err := p.print(text); err != nil {
		return err
	}
	if failed > 0 {
		return fmt.Errorf("%d of %d cases fail", failed, len(outcomes))
	}
	return nil
}
