package plots

import (
	"lanesim/report/studied"
	"lanesim/studies"
)

// SparesOf is the figure of lines at leaves.
func SparesOf(w *studied.Spares, size Size) SpareFigure {
	f := SpareFigure{Title: w.Title, Size: size,
		Note: "Lines at single pins and at leaves. Shares of leaves of several pins are assumed: they rest on restitution and friction of the pins."}
	for i, t := range w.Players {
		s := SpareSheet{Name: t.Bowler + " with " + t.Ball + " on " + t.Lane, Hand: t.Setup.Release.Hand}
		for _, l := range w.Lines[i] {
			within := studies.WilsonInterval(l.Converted)
			s.Rows = append(s.Rows, SpareRow{
				Leave: l.Leave, Found: l.Found, Feet: l.Feet, Laydown: l.Release.Laydown, Arrows: l.Arrows, Board: l.Entry.Board, Window: l.Window,
				Share: l.Converted.Share(), Low: within.Low, High: within.High, Stays: l.MostLeft(),
			})
		}
		f.Sheets = append(f.Sheets, s)
	}
	return f
}
