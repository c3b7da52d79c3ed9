package main

import (
	"fmt"

	"lanesim/physics"
	"lanesim/plots"
	"lanesim/report"
)

// draw draws the spread.
func (w *spreadWork) draw(path string, size plots.Size) ([]file, error) {
	if n := len(w.players); n > plots.MaxSpreadPanels {
		return nil, wrongInput("%d bowlers, balls and lanes are too many for a picture, which takes %d", n, plots.MaxSpreadPanels)
	}
	f := plots.SpreadFigure{Title: w.title, Note: w.report().Note(), Pocket: report.Pocket(w.study.Settings), Size: size}
	for i, s := range w.result.Setups {
		t := w.players[i]
		panel := plots.SpreadPanel{
			Share:  fmt.Sprintf("pocket %s, 95 %% interval %s to %s", report.Share(s.Pocket.Share()), report.Share(s.PocketInterval.Low), report.Share(s.PocketInterval.High)),
			Detail: fmt.Sprintf("entry board %s ± %s (one sd), angle %s° ± %s°", report.Fixed(s.EntryBoard.Mean, 2), report.Fixed(s.EntryBoard.SD, 2), report.Fixed(report.Degree.In(s.EntryAngle.Mean), 2), report.Fixed(report.Degree.In(s.EntryAngle.SD), 2)),
			Lane:   t.setup.Lane, Hand: t.setup.Release.Hand, Line: w.paths[i].line, Paths: w.paths[i].shots,
		}
		if len(w.players) > 1 {
			panel.Name = t.name(w.players)
		}
		if lost := s.Pocket.Of - s.Ends[physics.Pins]; lost > 0 {
			panel.Detail += "; not at the pins: " + report.LostText(s)
		}
		for _, one := range s.Each {
			panel.EntryBoards = append(panel.EntryBoards, one.EntryBoard)
		}
		f.Panels = append(f.Panels, panel)
	}
	d, err := plots.Spread(f)
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}
