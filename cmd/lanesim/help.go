package main

import (
	"context"
	"embed"
	"strings"

	"lanesim/internal/input"

	"github.com/spf13/cobra"
)

// helpCommand shows the help of a command and, unlike the one that cobra would
// add, fails if there is no such command.
func (p *program) helpCommand() *cobra.Command {
	return helped("help", &cobra.Command{
		Use:     "help [COMMAND]",
		GroupID: groupOther,
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
				return input.Wrong("there is no command %q: run 'lanesim help' for a list", strings.Join(arguments, " "))
			}
			found.InitDefaultHelpFlag()
			return found.Help()
		},
	})
}

// helpTexts are the help of the commands: a file for each, which begins with the line for
// the list of commands and ends with examples. Tests run the examples.
//
//go:embed help/*.txt
var helpTexts embed.FS

// helped gives a command its help.
func helped(name string, c *cobra.Command) *cobra.Command {
	text, err := helpTexts.ReadFile("help/" + name + ".txt")
	if err != nil {
		panic(err) // it is built in
	}
	short, rest, _ := strings.Cut(string(text), "\n\n")
	long, examples, _ := strings.Cut(rest, "\n\nExamples:\n")
	c.Flags().SortFlags = false
	c.Short, c.Long, c.Example = short, long, strings.TrimSuffix(examples, "\n")
	return c
}

// ofFile returns a command that has one file as its argument.
func ofFile(name string, run func(ctx context.Context, path string) error) *cobra.Command {
	return helped(name, &cobra.Command{
		Use: name + " FILE", GroupID: groupRun, Args: oneFile,
		RunE: func(c *cobra.Command, arguments []string) error { return run(c.Context(), arguments[0]) },
	})
}

// textCommand returns a command that prints a text.
func (p *program) textCommand(name, group string, text func() string) *cobra.Command {
	return helped(name, &cobra.Command{
		Use: name, GroupID: group, Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error { return p.print([]byte(text())) },
	})
}
