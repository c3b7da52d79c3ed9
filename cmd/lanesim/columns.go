package main

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// columnFlags choose the columns of the table and the CSV.
type columnFlags struct{ names []string }

// listWord is the value that lists the columns.
const listWord = "list"

// add adds the flag to a command, which then can list the columns, without arguments.
func (f *columnFlags) add(p *program, c *cobra.Command, keys func() []string, list func() string) {
	c.Flags().StringSliceVar(&f.names, "columns", nil, "choose the `columns` of the table and the CSV by name, separated by commas; list prints all names")
	complete(c, "columns", append([]string{listWord}, keys()...)...)
	check, run := c.Args, c.RunE
	listed := func() bool { return slices.Equal(f.names, []string{listWord}) }
	c.Args = func(c *cobra.Command, arguments []string) error {
		if listed() {
			return nil
		}
		return check(c, arguments)
	}
	c.RunE = func(c *cobra.Command, arguments []string) error {
		if listed() {
			return p.print([]byte(list()))
		}
		return run(c, arguments)
	}
}

// check returns an error for unknown names, all at once, and for columns together with
// JSON.
func (f *columnFlags) check(o outputFlags, unknown []string, keys func() []string) error {
	if f.names != nil && o.json {
		return input.Wrong("--columns cannot be given with --json: JSON has all columns")
	}
	var wrong scenario.Errors
	column := 1
	for _, name := range f.names {
		if slices.Contains(unknown, name) {
			wrong = append(wrong, scenario.Problem{File: "--columns", Line: 1, Column: column, Path: name, Source: strings.Join(f.names, ","),
				Message: "there is no column " + strconv.Quote(name), Hint: cmp.Or(input.DidYouMean(name, keys()), "--columns list prints all names")})
		}
		column += len([]rune(name)) + len(",")
	}
	if wrong == nil {
		return nil
	}
	return wrong
}
