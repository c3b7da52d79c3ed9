package main

import (
	"lanesim/plots"
)

// draw draws the tracks, the fitted shots and what is left over.
func (r *fitRun) draw(path string, size plots.Size) ([]file, error) {
	f := plots.FitFigure{
		Title: r.Title, Note: r.Note(), Lane: r.Study.Lane, Scatter: r.Result.Scatter,
		Pocket: r.scenario.Settings.Pocket, Size: size,
	}
	for i, s := range r.Result.Shots {
		t := r.Study.Shots[i].Track
		name := "Shot " + t.Shot
		if len(r.scenario.Bowlers) > 1 {
			name += ", " + r.scenario.Bowlers[t.Bowler].Name
		}
		if len(r.scenario.Balls) > 1 {
			name += ", " + r.scenario.Balls[t.Ball].Name
		}
		f.Shots = append(f.Shots, plots.TrackedFit{Name: name, Hand: s.Release.Hand, Points: t.Points, Fitted: s})
	}
	d, err := plots.Fit(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}
