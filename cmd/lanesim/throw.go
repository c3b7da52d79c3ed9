package main

import (
	"context"
	"io"
	"slices"

	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/report"
	"lanesim/report/handout"
	"lanesim/report/layouts"
	"lanesim/report/measured"
	"lanesim/report/thrown"
	"lanesim/scenario/runs"
	"lanesim/studies"

	"github.com/spf13/cobra"
)

// throwOptions are the flags of the throw command.
type throwOptions struct {
	scenario scenarioFlags
	output   outputFlags
	picture  pictureFlags
	columns  columnFlags
	track    string
}

func (p *program) throwCommand() *cobra.Command {
	var o throwOptions
	c := ofFile("throw", func(ctx context.Context, path string) error { return p.throw(ctx, path, o) })
	o.scenario.pins = true
	o.scenario.add(c)
	o.output.addJSON(c)
	o.output.addCSV(c, "print the paths as CSV, a row for each point")
	o.columns.add(p, c, thrown.KeysOfThrow, thrown.ListOfThrow)
	o.output.addPaths(c, studyEndings())
	o.picture.add(c)
	c.Flags().StringVar(&o.track, "track", "", "draw the measured tracks of the CSV `file` over the shots, without fitting")
	return c
}

func (p *program) throw(ctx context.Context, path string, o throwOptions) error {
	chosen, unknown := thrown.ChooseOfThrow(o.columns.names)
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), o.picture.check(), o.columns.check(o.output, unknown, thrown.KeysOfThrow))
	if err != nil {
		return err
	}
	if err := p.claimNumbered(o.output, len(s.Lanes)); err != nil {
		return err
	}
	pictures := o.output.wants(drawnEndings()...)
	tracks, err := p.tracksOver(ctx, s, o)
	if err != nil {
		return err
	}
	if n := len(s.Bowlers) * len(s.Balls); pictures && o.track == "" && n > plots.MaxSeries {
		return input.Wrong("%d shots on a lane are too many for a picture, which shows up to %d", n, plots.MaxSeries)
	}
	paths := pictures || o.track != "" || chosen.Points != nil || o.output.wants(".json", ".csv")
	shots, err := runs.ThrowAll(ctx, s, paths, layouts.TrackSpacing, studies.Work{Progress: p.progress("shot")}, p.warn)
	if err != nil {
		return err
	}
	made := runs.MadeOf(shots)
	p.note(&s.Warnings, thrown.NearGutters(made)...)
	p.sayWork(made)
	r := results{
		json:    func(to io.Writer) error { return thrown.WriteShots(to, s.Warnings, made) },
		draw:    func(path string) ([]file, error) { return drawShots(path, s, shots, o.picture) },
		handout: func() (handout.Page, error) { return handouts.Shots(s, shots, chosen.Rows) },

		rows:     func() report.Rows { return report.RowsOf(thrown.PathColumns(), thrown.PathPoints(made)) },
		document: func() report.Document { return thrown.ShotDocument(s.Title, made, chosen.Rows) },
	}
	switch {
	case chosen.Points != nil:
		r.rows = func() report.Rows { return report.RowsOf(chosen.Points, thrown.PathPoints(made)) }
		r.document = func() report.Document { return chosen.Points.Document(s.Title, thrown.PathPoints(made)) }
	case chosen.Rows != nil:
		r.rows = func() report.Rows { return report.RowsOf(chosen.Rows, slices.Values(made)) }
	}
	if o.track != "" {
		over := layOver(tracks, shots)
		plain := r.document
		r.json = func(to io.Writer) error { return thrown.WriteShots(to, s.Warnings, made, measured.TracksMember(over)) }
		r.rows = func() report.Rows { return measured.TrackRows(over) }
		r.document = func() report.Document {
			doc := plain()
			doc.Add(measured.TracksDocument(over))
			return doc
		}
		draw := func(size plots.Size) (*plots.Drawing, error) {
			f := plots.Figure{Title: s.Heading(), Lane: s.Lanes[0], Pocket: thrown.Pocket(s.Settings, s.Bowlers[0].Release), Size: size}
			return plots.DrawTracks(f, over, len(s.Bowlers) > 1, len(s.Balls) > 1)
		}
		r.picture = func() (*plots.Drawing, error) { return draw(o.picture.size()) }
		r.handout = func() (handout.Page, error) { return handouts.Tracks(s, shots, draw) }
	}
	return p.writeResults(ctx, o.output, r)
}
