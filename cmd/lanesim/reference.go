package main

import (
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

func (p *program) referenceCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "reference",
		GroupID: groupLearn,
		Short:   "Print every field of scenario and pattern files",
		Long: `Reference prints a page in Markdown with every field of scenario and pattern
files: key, meaning, unit, default and limits.`,
		Example: `  lanesim reference`,
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return p.print([]byte(scenario.Reference() + "\n" + scenario.SweepReference()))
		},
	}
}
