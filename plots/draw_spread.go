package plots

import (
	"fmt"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/report/thrown"
)

// DrawSpread draws a spread with its paths.
func DrawSpread(w *studied.Spread, size Size) (*Drawing, error) {
	f := spreadFigure{Title: w.Title, Note: w.Note(), Pocket: thrown.Pocket(w.Study.Settings, w.Players[0].Setup.Release), Size: size}
	for i, s := range w.Result.Setups {
		t := w.Players[i]
		panel := spreadPanel{
			Share:  studied.PocketText(s),
			Detail: fmt.Sprintf("entry board %s ± %s (one sd), angle %s° ± %s°", report.Fixed(s.EntryBoard.Mean, 2), report.Fixed(s.EntryBoard.SD, 2), report.Fixed(report.Degree.In(s.EntryAngle.Mean), 2), report.Fixed(report.Degree.In(s.EntryAngle.SD), 2)),
			Lane:   t.Setup.Lane, Hand: t.Setup.Release.Hand, Line: w.Paths[i].Line, Paths: w.Paths[i].Shots,
		}
		if len(w.Players) > 1 {
			panel.Name = t.Name(w.Players)
		}
		if lost := s.Pocket.Of - s.Ends[physics.Pins]; lost > 0 {
			panel.Detail += "; not at the pins: " + studied.LostText(s)
		}
		for _, one := range s.Each {
			panel.EntryBoards = append(panel.EntryBoards, one.EntryBoard)
		}
		f.Panels = append(f.Panels, panel)
	}
	return f.draw()
}
