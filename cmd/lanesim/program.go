package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"syscall"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/report"
	"lanesim/scenario"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Exit codes.
const (
	exitDone        = 0
	exitFailed      = 1   // the run failed
	exitUsage       = 2   // the command line or an input is wrong
	exitHungUp      = 129 // 128 + SIGHUP, the convention of shells
	exitInterrupted = 130 // 128 + SIGINT
	exitBrokenPipe  = 141 // 128 + SIGPIPE
	exitTerminated  = 143 // 128 + SIGTERM
)

// Groups of commands in the help.
const (
	groupRun   = "run"
	groupLearn = "learn"
	groupOther = "other"
)

// program is one run of lanesim.
type program struct {
	in          io.Reader
	out, err    io.Writer
	environment func(string) string

	common  commonFlags
	started bool // whether the command line was valid and the command runs
	claims  files.Claims
}

// run runs a command line and returns the exit code.
func (p *program) run(ctx context.Context, arguments []string) int {
	root := p.command()
	root.SetArgs(arguments)
	command, err := root.ExecuteContextC(ctx)
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(p.err, "lanesim: interrupted")
		if by := (endingSignal{}); errors.As(context.Cause(ctx), &by) {
			return by.code
		}
		return exitInterrupted
	case errors.Is(err, syscall.EPIPE):
		return exitBrokenPipe // the reader has closed the output
	}
	return p.report(command, err)
}

// report prints an error and returns the exit code.
func (p *program) report(command *cobra.Command, err error) int {
	if problems := (scenario.Errors)(nil); errors.As(err, &problems) {
		fmt.Fprintln(p.err, problems)
		return exitUsage
	}
	mark := p.errorPaint().As(report.BadTone, "lanesim:")
	fmt.Fprintf(p.err, "%s %s\n", mark, input.Message(strings.TrimRight(err.Error(), "\n")))
	switch {
	case !p.started:
		words := strings.Fields(command.CommandPath())
		fmt.Fprintf(p.err, "Run '%s' for help.\n", strings.Join(append(words[:1:1], append([]string{"help"}, words[1:]...)...), " "))
		return exitUsage
	case errors.As(err, &input.Error{}):
		return exitUsage
	}
	return exitFailed
}

// command returns the whole tree of commands.
func (p *program) command() *cobra.Command {
	root := helped("lanesim", &cobra.Command{
		Use:               "lanesim",
		SilenceErrors:     true,
		SilenceUsage:      true,
		PersistentPreRunE: func(c *cobra.Command, _ []string) error { return p.begin(c) },
	})
	root.SetIn(p.in)
	root.SetOut(p.out)
	root.SetErr(p.err)
	root.SetUsageTemplate(usageTemplate)
	root.AddGroup(
		&cobra.Group{ID: groupRun, Title: "Compute:"},
		&cobra.Group{ID: groupLearn, Title: "Look up:"},
		&cobra.Group{ID: groupOther, Title: "Other:"},
	)
	root.SetCompletionCommandGroupID(groupOther)
	root.SetHelpCommand(p.helpCommand())
	p.common.add(root)
	root.AddCommand(
		p.throwCommand(), p.carryCommand(), p.sparesCommand(), p.compareCommand(), p.aimCommand(), p.wearCommand(), p.spreadCommand(), p.bagCommand(), p.sweepCommand(), p.seekCommand(), p.fitCommand(), p.mergeCommand(), p.layoutCommand(), p.pageCommand(), p.validateCommand(),
		p.newCommand(), p.patternCommand(), p.bowlerCommand(), p.explainCommand(),
		p.textCommand("reference", groupLearn, func() string { return scenario.Reference() + "\n" + scenario.SweepReference() }),
		p.textCommand("schema", groupLearn, func() string { return string(scenario.Schema()) }),
		p.textCommand("version", groupOther, ownVersion),
	)
	root.InitDefaultCompletionCmd()
	if completion, _, err := root.Find([]string{"completion"}); err == nil {
		completion.Short = "Print a script that completes the program's commands in a shell"
		completion.Example = "  lanesim completion bash"
		completion.Args = cobra.NoArgs
		completion.RunE = func(c *cobra.Command, _ []string) error { return c.Help() }
	}
	return root
}

// begin checks the common flags after the command line was parsed, and claims the files
// that the command will write.
func (p *program) begin(c *cobra.Command) error {
	if err := p.common.check(); err != nil {
		return err
	}
	p.started = true
	p.claims.Output = p.out
	out := c.Flags().Lookup("out")
	if out == nil {
		return nil
	}
	list, several := out.Value.(pflag.SliceValue)
	if !several {
		return p.claim(out.Value.String())
	}
	if err := p.claim(list.GetSlice()...); err != nil || c.Name() == "sweep" { // which may be written to a folder
		return err
	}
	for _, path := range list.GetSlice() {
		if path == files.Standard {
			continue
		}
		if err := files.Writable(path); err != nil {
			return err
		}
	}
	return nil
}

// usageTemplate shows a command with its examples last.
const usageTemplate = `Usage:
{{- if .Runnable}}
  {{.UseLine}}{{end}}
{{- if .HasAvailableSubCommands}}
  {{.CommandPath}} COMMAND{{end}}
{{- if .HasAvailableSubCommands}}{{$commands := .Commands}}
{{- range $group := .Groups}}

{{.Title}}
{{- range $commands}}{{if and (eq .GroupID $group.ID) (or .IsAvailableCommand (eq .Name "help"))}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}{{end}}
{{- if not .Groups}}

Commands:
{{- range $commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}{{end}}{{end}}
{{- if .HasAvailableLocalFlags}}

Flags:
{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}{{end}}
{{- if .HasAvailableInheritedFlags}}

Flags of every command:
{{.InheritedFlags.FlagUsages | trimTrailingWhitespaces}}{{end}}
{{- if .HasExample}}

Examples:
{{.Example | trimTrailingWhitespaces}}{{end}}
`
