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

// columnFlags choose columns of the table and the CSV.
type columnFlags struct{ names []string }

// listWord asks for a list of the columns in place of their names.
const listWord = "list"

func (f *columnFlags) add(c *cobra.Command, keys func() []string) {
	c.Flags().StringSliceVar(&f.names, "columns", nil, "choose `columns` of the table and the CSV by their names, with commas between; list prints which there are")
	complete(c, "columns", append([]string{listWord}, keys()...)...)
}

// listed reports whether a list is asked for.
func (f *columnFlags) listed() bool { return slices.Equal(f.names, []string{listWord}) }

// orFile checks arguments unless a list is asked for, which needs none.
func (f *columnFlags) orFile(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, arguments []string) error {
		if f.listed() {
			return nil
		}
		return check(c, arguments)
	}
}

// check refuses names that no column has, all at once, and what columns cannot be
// chosen of.
func (f *columnFlags) check(o outputFlags, unknown []string, keys func() []string) error {
	if f.names != nil && o.json {
		return input.Wrong("--columns chooses columns of the table and the CSV; JSON holds them all")
	}
	var wrong scenario.Errors
	column := 1
	for _, name := range f.names {
		if slices.Contains(unknown, name) {
			wrong = append(wrong, scenario.Problem{File: "--columns", Line: 1, Column: column, Path: name, Source: strings.Join(f.names, ","),
				Message: "there is no column " + strconv.Quote(name), Hint: cmp.Or(input.DidYouMean(name, keys()), "--columns list prints which there are")})
		}
		column += len([]rune(name)) + len(",")
	}
	if wrong == nil {
		return nil
	}
	return wrong
}
