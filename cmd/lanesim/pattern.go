package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/plots"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// patternOptions are the flags of the pattern command.
type patternOptions struct {
	output  outputFlags
	picture pictureFlags
}

func (p *program) patternCommand() *cobra.Command {
	var o patternOptions
	c := &cobra.Command{
		Use:     "pattern [NAME|FILE]",
		GroupID: groupLearn,
		Short:   "List the built-in oil patterns, or measure one",
		Long: `Pattern lists the built-in oil patterns. All of them are invented.

With the name of one, or with a pattern file, it measures it: length, volume,
the ratio of oil inside to outside on boards 18–22 over 3–7 of each side (or on
those that the file names), readings along the lane, and what that means for
play. A file's name has an ending: .yaml, .yml or .json, or .csv for tape
readings with the columns distance_ft, board and units; - is a pattern file on
standard input.`,
		Example: `  lanesim pattern
  lanesim pattern house
  lanesim pattern flat --json
  lanesim pattern steep -o steep.svg`,
		Args: cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return builtinNames(), cobra.ShellCompDirectiveDefault
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			if err := o.output.check(patternEndings()); err != nil {
				return err
			}
			if len(arguments) == 0 {
				if len(o.output.paths) > 0 {
					return wrongInput("--out needs the name of a pattern")
				}
				return p.listPatterns(o.output.json)
			}
			return p.measurePattern(c.Context(), arguments[0], o)
		},
	}
	c.Flags().SortFlags = false
	o.output.addJSON(c)
	o.output.addPaths(c, patternEndings())
	o.picture.addPhone(c)
	return c
}

func patternEndings() []string { return append(pictureEndings(), ".json") }

func builtinNames() []string {
	var names []string
	for _, b := range patterns.Builtins() {
		names = append(names, b.Name)
	}
	return names
}

// ratioRecord is a ratio of oil inside to outside as it is printed.
type ratioRecord struct {
	Right number `json:"right"`
	Left  number `json:"left"`
	Both  number `json:"both"`
}

// patternRecord is a pattern with its numbers as it is printed.
type patternRecord struct {
	Name        string      `json:"name"` // by which a scenario calls it, or that of the file
	Title       string      `json:"title"`
	About       string      `json:"about"`
	Kind        string      `json:"kind"`
	Length      number      `json:"length_ft"`
	Volume      number      `json:"volume_mL"`
	Thirds      [3]number   `json:"volume_thirds_mL"`
	MeanUnits   number      `json:"mean_units"`
	Ratio       ratioRecord `json:"ratio"`
	LeftShare   number      `json:"left_share"`
	Asymmetry   number      `json:"asymmetry"`
	ExitBoard   number      `json:"exit_board"`
	Units       []number    `json:"units"` // by board from the right
	Sections    []section   `json:"sections"`
	Description string      `json:"description"`
}

type section struct {
	Distance number      `json:"distance_ft"`
	Ratio    ratioRecord `json:"ratio"`
	Units    []number    `json:"units"`
}

func numbers(list []float64) []number {
	made := make([]number, len(list))
	for i, v := range list {
		made[i] = number(v)
	}
	return made
}

func recordRatio(r patterns.Ratio) ratioRecord {
	return ratioRecord{number(r.Right), number(r.Left), number(r.Both)}
}

func recordPattern(name string, p scenario.Pattern) patternRecord {
	// A crown's ratio is meant on the boards that its file names.
	sets := patterns.BoardSets{}
	if p.Crown != nil {
		sets = p.Crown.Sets
	}
	m := patterns.Measure(p.Oil, sets)
	r := patternRecord{
		Name: name, Title: p.Name, About: p.About, Kind: p.Kind,
		Length: number(feet(m.Length)), Volume: number(millilitres(m.Volume)),
		MeanUnits: number(m.MeanUnits), Ratio: recordRatio(m.Ratio),
		LeftShare: number(m.LeftShare), Asymmetry: number(m.Asymmetry), ExitBoard: number(m.ExitBoard),
		Units: numbers(m.Units), Description: patterns.Describe(m),
	}
	for i, v := range m.Thirds {
		r.Thirds[i] = number(millilitres(v))
	}
	for _, s := range m.Sections {
		r.Sections = append(r.Sections, section{number(feet(s.Distance)), recordRatio(s.Ratio), numbers(s.Units)})
	}
	return r
}

// listPatterns prints the built-in patterns.
func (p *program) listPatterns(asJSON bool) error {
	var records []patternRecord
	for _, b := range scenario.BuiltinPatterns() {
		records = append(records, recordPattern(b.Word, b))
	}
	if asJSON {
		text, err := encodeJSON(records)
		if err != nil {
			return err
		}
		return p.print(append(text, '\n'))
	}
	c := p.paintFor(p.out)
	t := table{left: []bool{true, false, false, false, true}, rows: [][]string{{"name", "length, ft", "volume, mL", "ratio", "about"}}}
	for _, r := range records {
		t.rows = append(t.rows, []string{r.Name, figure(float64(r.Length)), figure(float64(r.Volume)), figure(float64(r.Ratio.Both)), r.About})
	}
	t.style = func(row, _ int, text string) string {
		if row == 0 {
			return c.heading(text)
		}
		return text
	}
	return p.print([]byte(t.String()))
}

// findPattern reads a built-in pattern or a pattern file.
func (p *program) findPattern(ctx context.Context, argument string) (scenario.Pattern, error) {
	for _, b := range scenario.BuiltinPatterns() {
		if b.Word == argument {
			return b, nil
		}
	}
	if argument != standardStream && !slices.Contains([]string{".yaml", ".yml", ".json", ".csv"}, ending(argument)) {
		return scenario.Pattern{}, wrongInput("no built-in pattern is called %q: there is %s; the name of a pattern file ends in .yaml, .yml, .json or .csv",
			argument, strings.Join(builtinNames(), ", "))
	}
	name, data, err := p.read(ctx, argument)
	if err != nil {
		return scenario.Pattern{}, err
	}
	made, err := scenario.ReadPattern(name, data)
	if err != nil {
		return scenario.Pattern{}, err
	}
	return *made, nil
}

// measurePattern prints the numbers of one pattern.
func (p *program) measurePattern(ctx context.Context, argument string, o patternOptions) error {
	pattern, err := p.findPattern(ctx, argument)
	if err != nil {
		return err
	}
	r := recordPattern(argument, pattern)
	text, err := encodeJSON(r)
	if err != nil {
		return err
	}
	text = append(text, '\n')
	var files []file
	for _, out := range o.output.paths {
		switch {
		case out == standardStream:
		case ending(out) == ".json":
			files = append(files, file{out, text})
		default:
			l := lane.Default()
			l.Name, l.Oil = pattern.Name, pattern.Oil
			d, err := plots.Lane(plots.Figure{Title: pattern.Name, Note: r.Description, Lane: l, Size: o.picture.size()})
			if err != nil {
				return err
			}
			made, err := drawn(out, d)
			if err != nil {
				return err
			}
			files = append(files, made)
		}
	}
	if !o.output.json {
		text = []byte(patternTable(r, p.paintFor(p.out)))
	}
	if err := p.writeFiles(files); err != nil {
		return err
	}
	return p.print(text)
}

// patternTable prints a pattern's numbers for people.
func patternTable(r patternRecord, c paint) string {
	var b strings.Builder
	if r.Title != "" {
		b.WriteString(c.heading(r.Title) + "\n")
	}
	if r.About != "" {
		b.WriteString(r.About + "\n")
	}
	b.WriteString("\n" + r.Description + "\n\n")
	show := func(n number) string { return figure(float64(n)) }
	measures := table{left: []bool{true}}
	for _, row := range []struct {
		name  string
		value number
	}{
		{"length, ft", r.Length},
		{"volume, mL", r.Volume},
		{"first third, mL", r.Thirds[0]},
		{"middle third, mL", r.Thirds[1]},
		{"last third, mL", r.Thirds[2]},
		{"mean film, units", r.MeanUnits},
		{"ratio, right side", r.Ratio.Right},
		{"ratio, left side", r.Ratio.Left},
		{"share of oil left of centre", r.LeftShare},
		{"asymmetry", r.Asymmetry},
		{"board at the exit, a guess", r.ExitBoard},
	} {
		measures.rows = append(measures.rows, []string{row.name, show(row.value)})
	}
	b.WriteString(measures.String() + "\n")

	const every = 5 // boards between those shown
	readings := table{rows: [][]string{{"units on board"}}, left: []bool{true}}
	for board := every; board < lane.Boards; board += every {
		readings.rows[0] = append(readings.rows[0], fmt.Sprint(board))
	}
	for _, s := range r.Sections {
		row := []string{"at " + show(s.Distance) + " ft"}
		for board := every; board < lane.Boards; board += every {
			row = append(row, show(s.Units[board-1]))
		}
		readings.rows = append(readings.rows, row)
	}
	b.WriteString(readings.String())
	return b.String()
}
