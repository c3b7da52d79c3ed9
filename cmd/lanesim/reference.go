package main

import (
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

func (p *program) referenceCommand() *cobra.Command {
	return helped("reference", &cobra.Command{
		Use:     "reference",
		GroupID: groupLearn,
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return p.print([]byte(scenario.Reference() + "\n" + scenario.SweepReference()))
		},
	})
}
