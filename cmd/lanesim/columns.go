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

func (f *columnFlags) add(c *cobra.Command, keys func() []string) {
	c.Flags().StringSliceVar(&f.names, "columns", nil, "choose the `columns` of the table and the CSV by name, separated by commas; list prints all names")
	complete(c, "columns", append([]string{listWord}, keys()...)...)
}

// listed reports whether the columns are to be listed.
func (f *columnFlags) listed() bool { return slices.Equal(f.names, []string{listWord}) }

// orFile checks the arguments unless the columns are listed, which needs none.
func (f *columnFlags) orFile(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, arguments []string) error {
		if f.listed() {
			return nil
		}
		return check(c, arguments)
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
