package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/plots"
	"lanesim/report/lists"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// patternOptions are the flags of the pattern command.
type patternOptions struct {
	reading patternReading
	output  outputFlags
	picture pictureFlags
}

func (p *program) patternCommand() *cobra.Command {
	var o patternOptions
	c := helped("pattern", &cobra.Command{
		Use:     "pattern [NAME|FILE]",
		GroupID: groupLearn,
		Args:    cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return builtinNames(), cobra.ShellCompDirectiveDefault
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			if err := o.output.check(); err != nil {
				return err
			}
			if len(arguments) == 0 {
				if len(o.output.paths) > 0 || o.output.csv {
					return input.Wrong("--out and --csv need the name of a pattern")
				}
				return p.listPatterns(o.output.json)
			}
			return p.measurePattern(c.Context(), arguments[0], o)
		},
	})
	o.reading.add(c)
	o.output.addJSON(c)
	o.output.addCSV(c, "print the film by board as CSV")
	o.output.addPaths(c, resultEndings())
	o.picture.addPhone(c)
	c.AddCommand(p.patternBuildCommand(), p.patternConvertCommand())
	return c
}

func builtinNames() []string {
	return input.Each(patterns.Builtins(), func(b patterns.Builtin) string { return b.Name })
}

// listPatterns prints the built-in patterns.
func (p *program) listPatterns(asJSON bool) error {
	var list []lists.Pattern
	for _, b := range scenario.BuiltinPatterns() {
		list = append(list, reported(b.Word, b, patterns.Measure(b.Oil, b.Sets())))
	}
	if asJSON {
		return lists.WritePatterns(p.out, list)
	}
	return p.print([]byte(lists.PatternList(list, p.paintFor(p.out))))
}

// reported returns a pattern with its numbers for printing.
func reported(name string, p scenario.Pattern, m patterns.Measures) lists.Pattern {
	return lists.Pattern{Name: name, Title: p.Name, About: p.About, Kind: p.Kind, Read: p.Grid != nil && p.Word == "", Measures: m}
}

// findPattern reads a built-in pattern or a pattern file.
func (p *program) findPattern(ctx context.Context, argument string) (scenario.Pattern, error) {
	for _, b := range scenario.BuiltinPatterns() {
		if b.Word == argument {
			return b, nil
		}
	}
	if argument != files.Standard && !slices.Contains([]string{".yaml", ".yml", ".json", ".csv"}, files.Ending(argument)) {
		return scenario.Pattern{}, input.Wrong("no built-in pattern is called %q: there is %s; the name of a pattern file ends in .yaml, .yml, .json or .csv",
			argument, strings.Join(builtinNames(), ", "))
	}
	made, err := readInput(ctx, p, argument, scenario.ReadPattern)
	if err != nil {
		return scenario.Pattern{}, err
	}
	return *made, nil
}

// measurePattern prints the numbers of one pattern.
func (p *program) measurePattern(ctx context.Context, argument string, o patternOptions) error {
	distances, err := o.reading.distances()
	if err != nil {
		return err
	}
	pattern, err := p.findPattern(ctx, argument)
	if err != nil {
		return err
	}
	sets, err := o.reading.sets(pattern.Sets())
	if err != nil {
		return err
	}
	if pattern, err = o.reading.smoothed(pattern); err != nil {
		return err
	}
	m := patterns.MeasureAt(pattern.Oil, sets, distances)
	r := reported(argument, pattern, m)
	r.Smooth = o.reading.smooth
	return p.writeResults(ctx, o.output, results{
		json:    func(to io.Writer) error { return lists.WritePattern(to, r) },
		rows:    r.Rows,
		table:   r.Table,
		picture: func() (*plots.Drawing, error) { return drawPattern(pattern, r, o.picture) },
	})
}

// drawPattern draws the lane and the film across it at the first distances.
func drawPattern(pattern scenario.Pattern, r lists.Pattern, picture pictureFlags) (*plots.Drawing, error) {
	l := lane.Default()
	l.Name, l.Oil = pattern.Name, pattern.Oil
	const mostSections = 3
	m := r.Measures
	sections := m.Sections[:min(mostSections, len(m.Sections)-1)]
	f := plots.Figure{Title: pattern.Name, Note: lists.DescribePattern(m), Lane: l, Size: picture.size()}
	return plots.Pattern(f, sections, strings.Join(r.Cautions(), " "))
}
