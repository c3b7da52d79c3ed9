package plots

import (
	"lanesim/report/studied"
	"lanesim/studies"
)

// DrawSpares draws the lines at leaves below each other. It is an error if there are none or
// more than [MaxSpareSheets] bowlers, balls and lanes.
func DrawSpares(w *studied.Spares, size Size) (*Drawing, error) { return sparesOf(w, size).draw() }

// SparePages draws each bowler, ball and lane on a page of paper. It is an error if there
// is nothing to draw or if a page does not hold its rows.
func SparePages(w *studied.Spares, paper Paper) ([]*Drawing, error) {
	return sparesOf(w, Sheet).pages(paper)
}

// sparesOf is the figure of lines at leaves.
func sparesOf(w *studied.Spares, size Size) spareFigure {
	f := spareFigure{Title: w.Title, Size: size,
		Note: "Lines at single pins and at leaves. Shares of leaves of several pins are assumed: they rest on restitution and friction of the pins."}
	for i, t := range w.Players {
		s := spareSheet{Name: t.Bowler + " with " + t.Ball + " on " + t.Lane, Hand: t.Setup.Release.Hand}
		for _, l := range w.Lines[i] {
			within := studies.WilsonInterval(l.Converted)
			s.Rows = append(s.Rows, spareRow{
				Leave: l.Leave, Found: l.Found, Feet: l.Feet, Laydown: l.Release.Laydown, Arrows: l.Arrows, Board: l.Entry.Board, Window: l.Window,
				Share: l.Converted.Share(), Low: within.Low, High: within.High, Stays: l.MostLeft(),
			})
		}
		f.Sheets = append(f.Sheets, s)
	}
	return f
}
