package main

import (
	"fmt"
	"math"
	"strings"

	"lanesim/physics"
	"lanesim/plots"
	"lanesim/report"
)

// draw draws the session.
func (w *wornSession) draw(path string, size plots.Size) ([]file, error) {
	l := w.study.Lane
	f := plots.WearFigure{Title: w.title, Note: w.note(), Lane: l, After: w.result.After, Pocket: w.settings.Pocket, Size: size}
	if f.Pocket == (physics.Window{}) {
		f.Pocket = physics.DefaultPocket
	}
	used := w.used()
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

// note is the sentence under the title.
func (w *wornSession) note() string {
	var parts []string
	for _, s := range w.result.Stays {
		name := w.players[s.Setup].name(w.players)
		if math.IsInf(s.Median, 0) {
			parts = append(parts, fmt.Sprintf("%s stays above %s to the end", name, report.Share(s.Share)))
		} else if !math.IsNaN(s.Median) {
			parts = append(parts, fmt.Sprintf("%s falls below %s by shot %.0f", name, report.Share(s.Share), s.Median))
		}
	}
	sessions := "one session"
	if w.result.Sessions > 1 {
		sessions = fmt.Sprintf("%d sessions", w.result.Sessions)
	}
	return fmt.Sprintf("Pocket share over %s: %s.", sessions, strings.Join(parts, "; "))
}
