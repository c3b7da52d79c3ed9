package main

import (
	"context"
	"slices"

	"lanesim/internal/input"
	"lanesim/report"
	"lanesim/report/lists"
	"lanesim/report/measured"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/measure"

	"github.com/spf13/cobra"
)

func (p *program) bowlerCommand() *cobra.Command {
	var o outputFlags
	c := helped("bowler", &cobra.Command{
		Use:     "bowler [FILE]",
		GroupID: groupLearn,
		Args:    cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, arguments []string) error {
			if err := o.check(); err != nil {
				return err
			}
			if len(arguments) == 0 {
				if len(o.paths) > 0 {
					return input.Wrong("--out needs a file of measurements")
				}
				return p.listBowlers(o.json)
			}
			return p.measureBowler(c.Context(), arguments[0], o)
		},
	})
	o.addJSON(c)
	o.addPaths(c, []string{".yaml", ".yml", ".json"})
	return c
}

// listBowlers prints the built-in bowlers.
func (p *program) listBowlers(asJSON bool) error {
	var list []lists.BuiltinBowler
	for _, b := range scenario.BuiltinBowlers() {
		list = append(list, lists.BuiltinBowler{Name: b.Word, About: b.About, Release: b.Bowler.Release, PAP: b.Bowler.PAP, Published: b.Published})
	}
	if asJSON {
		return lists.WriteBowlers(p.out, list)
	}
	return p.print([]byte(lists.BowlerList(list, p.paintFor(p.out))))
}

// measureBowler makes a bowler from a file of measurements.
func (p *program) measureBowler(ctx context.Context, path string, o outputFlags) error {
	m, err := readInput(ctx, p, path, func(name string, data []byte) (*scenario.Measurements, error) {
		return scenario.ReadMeasurements(name, data, p.claims.Open)
	})
	if err != nil {
		return err
	}
	ball, err := m.Prepared()
	if err != nil {
		return input.AsWrong(err)
	}
	found, err := measure.Study{Setup: studies.Setup{Lane: m.Lane, Ball: ball, Release: m.Bowler.Release}, Readings: m.Readings, Settings: m.Settings}.Run()
	if err != nil {
		return m.Place(err)
	}
	b := m.Measured(found)
	r := measured.Measured{
		Title: m.Title, Name: b.Name, Found: found, Taken: m.Sources,
		Readings: m.Readings, Release: b.Release, PAP: b.PAP,
	}
	if r.Bowler, err = scenario.BowlerJSON(b); err != nil {
		return err
	}
	p.note(&r.Warnings, slices.Concat(m.Warnings, r.Findings())...)
	block := scenario.BowlerBlock(m.Sources, b.Rounded())
	return p.writeResults(ctx, o, results{
		json:  r.WriteJSON,
		table: func(paint report.Paint) string { return r.Table(paint) + "\n" + string(block) },
		draw:  func(path string) ([]file, error) { return []file{{Path: path, Content: block}}, nil },
	})
}
