package main

import (
	"context"
	"fmt"
	"io"

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
			if err := o.check(); err != nil {
				return err
			}
			return p.validate(c.Context(), o)
		},
	})
	o.addJSON(c)
	o.addPaths(c, []string{".json"})
	return c
}

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
	err = p.writeResults(ctx, o, results{
		json:  func(to io.Writer) error { return report.WriteJSON(to, validation.Object(outcomes)) },
		table: func(paint report.Paint) string { return validation.Table(outcomes, paint) },
	})
	if err == nil && failed > 0 {
		err = fmt.Errorf("%d of %d cases fail", failed, len(outcomes))
	}
	return err
}
