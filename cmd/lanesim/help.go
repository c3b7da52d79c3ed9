package main

import (
	"strings"

	"github.com/spf13/cobra"
)

// helpCommand shows the help of a command and, unlike the one that cobra would
// add, fails if there is no such command.
func (p *program) helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND]",
		GroupID: groupOther,
		Short:   "Show how to use a command",
		Long:    "Help shows what a command does, its flags and, at the end, examples.",
		Example: `  lanesim help
  lanesim help throw`,
		ValidArgsFunction: func(c *cobra.Command, arguments []string, _ string) ([]string, cobra.ShellCompDirective) {
			var names []string
			if at, _, err := c.Root().Find(arguments); err == nil {
				for _, sub := range at.Commands() {
					if sub.IsAvailableCommand() {
						names = append(names, sub.Name()+"\t"+sub.Short)
					}
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			found, rest, err := c.Root().Find(arguments)
			if err != nil || len(rest) > 0 {
				return wrongInput("there is no command %q: run 'lanesim help' for a list", strings.Join(arguments, " "))
			}
			found.InitDefaultHelpFlag()
			return found.Help()
		},
	}
}
