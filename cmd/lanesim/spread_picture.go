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
	f := plots.SpreadFigure{Title: w.title, Note: w.note(), Pocket: w.study.Settings.Pocket, Size: size}
	if f.Pocket == (physics.Window{}) {
		f.Pocket = physics.DefaultPocket
	}
	for i, s := range w.result.Setups {
		t := w.players[i]
		panel := plots.SpreadPanel{
			Share:  fmt.Sprintf("pocket %s, 95 %% interval %s to %s", report.Share(s.Pocket.Share()), report.Share(s.PocketInterval.Low), report.Share(s.PocketInterval.High)),
			Detail: fmt.Sprintf("entry board %s ± %s (one sd), angle %s° ± %s°", report.Fixed(s.EntryBoard.Mean, 2), report.Fixed(s.EntryBoard.SD, 2), report.Fixed(degrees(s.EntryAngle.Mean), 2), report.Fixed(degrees(s.EntryAngle.SD), 2)),
			Lane:   t.setup.Lane, Hand: t.setup.Release.Hand, Line: w.paths[i].line, Paths: w.paths[i].shots,
		}
		if len(w.players) > 1 {
			panel.Name = t.name(w.players)
		}
		if lost := s.Pocket.Of - s.Ends[physics.Pins]; lost > 0 {
			panel.Detail += "; not at the pins: " + ends(s)
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

// note is the sentence under the title.
func (w *spreadWork) note() string {
	of := "Each panel shows where " + fmt.Sprint(w.result.Shots) + " deliveries end"
	if len(w.players) == 1 {
		of = "Where " + w.deliveries() + " end"
		if words := w.missWords(0); words != "" {
			return of + "; " + words + "."
		}
	}
	if len(w.result.Differences) == 1 {
		d := w.result.Differences[0]
		a, b := contrast(w.players[d.A], w.players[d.B])
		of += fmt.Sprintf("; pocket share, %s less %s: %s points, 95 %% interval %s", b, a, report.Points(d.Difference()), between(d.Interval()))
		if !d.Significant() {
			of += ", not significant"
		}
	}
	return of + "."
}
