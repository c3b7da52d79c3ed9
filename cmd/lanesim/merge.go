package main

import (
	"context"
	"errors"

	"lanesim/internal/input"
	"lanesim/rows"

	"github.com/spf13/cobra"
)

// mergeOptions are the flags of the merge command.
type mergeOptions struct{ output outputFlags }

func (p *program) mergeCommand() *cobra.Command {
	var o mergeOptions
	c := helped("merge", &cobra.Command{
		Use:     "merge FOLDER",
		GroupID: groupRun,
		Args: func(c *cobra.Command, arguments []string) error {
			return wrongIf(len(arguments) != 1, "%s needs one folder; %d were given", c.Name(), len(arguments))
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.merge(c.Context(), arguments[0], o)
		},
	})
	o.output.addJSON(c)
	c.Flags().Lookup("json").Usage = "print rows as JSON, an object on a line"
	o.output.addCSV(c, "print rows as CSV")
	o.output.addPaths(c, rows.Endings())
	return c
}

// merge runs the merge command.
func (p *program) merge(ctx context.Context, folder string, o mergeOptions) error {
	if err := o.output.check(rows.Endings()); err != nil {
		return err
	}
	parts, err := rows.OpenParts(folder)
	if err != nil {
		return input.AsWrong(err)
	}
	defer parts.Close()
	if o.output.csv || o.output.json {
		// Printed rows cannot be withdrawn.
		if err := parts.Check(); err != nil {
			return input.AsWrong(err)
		}
	}
	paths := o.output.files()
	return p.deliverRows(ctx, sweepRows{header: parts.Header()}, paths, o.output, func(take func([]byte) error) error {
		err := parts.Each(take)
		if errors.As(err, &rows.PartError{}) {
			err = input.AsWrong(err)
		}
		return err
	})
}
