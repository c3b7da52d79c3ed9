package main

import (
	"context"
	"errors"

	"lanesim/internal/input"
	"lanesim/rows"

	"github.com/spf13/cobra"
)

func (p *program) mergeCommand() *cobra.Command {
	var o outputFlags
	c := helped("merge", &cobra.Command{
		Use:     "merge FOLDER",
		GroupID: groupRun,
		Args:    exactlyOne("folder"),
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.merge(c.Context(), arguments[0], o)
		},
	})
	o.addJSON(c)
	c.Flags().Lookup("json").Usage = "print rows as JSON, an object on a line"
	o.addCSV(c, "print rows as CSV")
	o.addPaths(c, rows.Endings())
	return c
}

func (p *program) merge(ctx context.Context, folder string, o outputFlags) error {
	if err := o.check(); err != nil {
		return err
	}
	parts, err := rows.OpenParts(folder)
	if err != nil {
		return input.AsWrong(err)
	}
	defer parts.Close()
	if o.csv || o.json {
		// Printed rows cannot be withdrawn.
		if err := parts.Check(); err != nil {
			return input.AsWrong(err)
		}
	}
	return p.deliverRows(ctx, sweepRows{header: parts.Header()}, o.files(), o, func(take func([]byte) error) error {
		err := parts.Each(take)
		if errors.As(err, &rows.PartError{}) {
			err = input.AsWrong(err)
		}
		return err
	})
}
