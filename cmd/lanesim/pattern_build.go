package main

import (
	"cmp"
	"context"
	"strings"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/patterns"
	"lanesim/report/lists"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// patternFile has the flags of commands that write a pattern file.
type patternFile struct {
	path        string
	name, about string
}

func (f *patternFile) add(c *cobra.Command) {
	s := c.Flags()
	s.StringVar(&f.name, "name", "", "`name` of the pattern")
	s.StringVar(&f.about, "about", "", "a `text` that says what the pattern is for")
	s.StringVarP(&f.path, "out", "o", files.Standard, "write to the file `path`, ending .yaml or .yml; - is standard output")
}

func (f *patternFile) check() error {
	e := files.Ending(f.path)
	return wrongIf(f.path != files.Standard && e != ".yaml" && e != ".yml", "--out %s: the ending must be .yaml or .yml", f.path)
}

// writePattern writes the pattern file.
func (p *program) writePattern(pattern scenario.Pattern, f patternFile) error {
	p.say("%s", lists.DescribePattern(patterns.Measure(pattern.Oil, pattern.Sets())))
	if f.path == files.Standard {
		return p.print(pattern.YAML())
	}
	return p.writeFiles([]file{{Path: f.path, Content: pattern.YAML()}})
}

// crownFlags are the keys of a crown that have a flag, with its usage. The flag is the key
// with hyphens.
var crownFlags = []struct{ key, meaning string }{
	{"length", "oiled `length`, such as 42ft"},
	{"volume", "`volume` of the oil on the lane, such as 27mL"},
	{"ratio", "film inside over outside, a `number`: 1 is flat, 10 a crowned house pattern"},
	{"plateau", "`boards` about the middle over which the film is level"},
	{"shoulder", "`boards` on either side over which the film falls to the outer level"},
	{"front_to_back", "film at the foul line over that at the end of the oil, a `number`"},
	{"fall_off", "exponent of the fall from front to back, a `number`: 1 is a straight line"},
}

// neededFlags are the required flags.
var neededFlags = []string{"length", "volume", "ratio"}

func flagOf(key string) string { return strings.ReplaceAll(key, "_", "-") }

func (p *program) patternBuildCommand() *cobra.Command {
	var out patternFile
	var grid bool
	c := helped("pattern-build", &cobra.Command{
		Use:  "build",
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := out.check(); err != nil {
				return err
			}
			var missing []string
			for _, name := range neededFlags {
				if !c.Flags().Changed(name) {
					missing = append(missing, "--"+name)
				}
			}
			if len(missing) > 0 {
				return input.Wrong("pattern build needs %s, for example  --length 42ft --volume 27mL --ratio 3", strings.Join(missing, " and "))
			}
			settings := []scenario.Setting{{Source: "kind", Key: "kind", Value: "crown"}}
			keys := input.Each(crownFlags, func(f struct{ key, meaning string }) string { return f.key })
			for _, key := range append(keys, "name", "about", "inside", "outside") {
				f := c.Flags().Lookup(flagOf(key))
				if !f.Changed {
					continue
				}
				value := f.Value.String()
				if key == "inside" || key == "outside" {
					made, err := scenario.ParseBoards(value)
					if err != nil {
						return input.Wrong("--%s: %w", key, err)
					}
					key, value = "boards."+key, "["+strings.ReplaceAll(boardsText(made), "-", ", ")+"]"
				}
				settings = append(settings, scenario.Setting{Source: "--" + f.Name, Key: key, Value: value})
			}
			return p.buildPattern(settings, grid, out)
		},
	})
	for _, f := range crownFlags {
		c.Flags().String(flagOf(f.key), "", f.meaning)
	}
	c.Flags().String("inside", "", "inside `boards` of the ratio, such as 18-22, from the edge of each side")
	c.Flags().String("outside", "", "outside `boards` of the ratio, such as 3-7")
	c.Flags().BoolVar(&grid, "grid", false, "write the film at every foot and board instead of the numbers given")
	out.add(c)
	return c
}

// buildPattern runs the command pattern build.
func (p *program) buildPattern(settings []scenario.Setting, grid bool, out patternFile) error {
	built, err := scenario.BuildPattern("pattern build", settings)
	if err != nil {
		return err
	}
	pattern := *built
	if grid {
		if pattern, err = asGrid(pattern, func(*patterns.Grid) error { return nil }); err != nil {
			return err
		}
	}
	return p.writePattern(pattern, out)
}

func (p *program) patternConvertCommand() *cobra.Command {
	var out patternFile
	var reading patternReading
	c := helped("pattern-convert", &cobra.Command{
		Use:  "convert NAME|FILE",
		Args: exactlyOne("pattern"),
		RunE: func(c *cobra.Command, arguments []string) error {
			if err := out.check(); err != nil {
				return err
			}
			return p.convertPattern(c.Context(), arguments[0], reading, out)
		},
	})
	reading.addSmooth(c)
	out.add(c)
	return c
}

// convertPattern runs the command pattern convert.
func (p *program) convertPattern(ctx context.Context, argument string, reading patternReading, out patternFile) error {
	pattern, err := p.findPattern(ctx, argument)
	if err != nil {
		return err
	}
	if pattern, err = reading.smoothed(pattern); err != nil {
		return err
	}
	pattern, err = asGrid(pattern, func(grid *patterns.Grid) error {
		if strings.ContainsFunc(out.name+out.about, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			return input.Wrong("--name and --about cannot have line breaks or other control characters")
		}
		grid.Name, grid.About = cmp.Or(out.name, grid.Name), cmp.Or(out.about, grid.About)
		return nil
	})
	if err != nil {
		return err
	}
	return p.writePattern(pattern, out)
}
