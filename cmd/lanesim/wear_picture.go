package main

import (
	"fmt"

	"lanesim/plots"
	"lanesim/report"
)

// draw draws the session.
func (w *wornSession) draw(path string, size plots.Size) ([]file, error) {
	l := w.study.Lane
	f := plots.WearFigure{Title: w.title, Note: w.report().Note(), Lane: l, After: w.result.After, Pocket: report.Pocket(w.settings), Size: size}
	used := w.report().Used()
	for _, i := range used[:min(len(used), plots.MaxSweepCurves)] {
		c := plots.SweepCurve{Name: w.players[i].name(w.players)}
		if len(used) == 1 {
			c.Name = ""
		}
		for _, b := range w.result.Blocks {
			if b.Setup == i {
				c.X, c.Y = append(c.X, float64(b.To+1)), append(c.Y, 100*b.PocketShare)
			}
		}
		f.Shares = append(f.Shares, c)
	}
	for i, shots := range w.lines {
		t := w.players[i]
		line := plots.WornLine{Name: t.name(w.players)}
		for j, shot := range shots {
			line.Series = append(line.Series, plots.Series{Name: fmt.Sprintf("before shot %d", w.study.Marks[j]+1-w.study.Practice), Shot: shot, Hand: t.setup.Release.Hand})
		}
		f.Lines = append(f.Lines, line)
	}
	d, err := plots.Wear(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}
