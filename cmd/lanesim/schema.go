package main

import (
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

func (p *program) schemaCommand() *cobra.Command {
	return helped("schema", &cobra.Command{
		Use:     "schema",
		GroupID: groupLearn,
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return p.print(scenario.Schema())
		},
	})
}
