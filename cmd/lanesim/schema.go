package main

import (
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

func (p *program) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "schema",
		GroupID: groupLearn,
		Short:   "Print the JSON Schema of scenario files",
		Long: `Schema prints the JSON Schema (draft 2020-12) of scenario files. Many editors
complete and check YAML files by one.`,
		Example: `  lanesim schema`,
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return p.print(scenario.Schema())
		},
	}
}
