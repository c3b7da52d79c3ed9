package plots

import (
	"fmt"

	"lanesim/report/studied"
	"lanesim/report/thrown"
)

// DrawWear draws a session with its lines.
func DrawWear(w *studied.Wear, size Size) (*Drawing, error) {
	l := w.Study.Lane
	f := wearFigure{Title: w.Title, Note: w.Note(), Lane: l, After: w.Result.After, Pocket: thrown.Pocket(w.Study.Settings, w.Players[0].Setup.Release), Size: size}
	used := w.Used()
	for _, i := range used {
		f.Hands = append(f.Hands, w.Players[i].Setup.Release.Hand)
	}
	for _, i := range used[:min(len(used), MaxSweepCurves)] {
		c := SweepCurve{Name: w.Players[i].Name(w.Players)}
		if len(used) == 1 {
			c.Name = ""
		}
		for _, b := range w.Result.Blocks {
			if b.Setup == i {
				c.X, c.Y = append(c.X, float64(b.To+1)), append(c.Y, 100*b.PocketShare)
			}
		}
		f.Shares = append(f.Shares, c)
	}
	for i, shots := range w.Lines {
		t := w.Players[i]
		line := wornLine{Name: t.Name(w.Players)}
		for j, shot := range shots {
			line.Series = append(line.Series, Series{Name: fmt.Sprintf("before shot %d", w.Study.Marks[j]+1-w.Study.Practice), Shot: shot, Hand: t.Setup.Release.Hand})
		}
		f.Lines = append(f.Lines, line)
	}
	return f.draw()
}
