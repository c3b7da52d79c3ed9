package plots

import (
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/studies"
)

// DrawBag draws the share of each ball, from its best line, on each lane as a table that
// is tinted by it.
func DrawBag(w *studied.Bag, size Size) (*Drawing, error) {
	p := titledPage(w.Title, w.Answer(), size)
	m := &tintedTable{Columns: w.States, Legend: "share of " + w.Bowler + ", from each ball's best line, with its 95 % interval; darker is larger. Stars mark the balls that are enough."}
	most := 0.0
	for _, row := range w.Choice.Cells {
		for _, c := range row {
			if c.Reaches {
				most = max(most, c.Count(w.Choice.By).Share())
			}
		}
	}
	for i, name := range w.Balls {
		if w.Needed(i) {
			name = "* " + name
		}
		row := tintedRow{Name: name}
		for _, c := range w.Choice.Cells[i] {
			cell := tintedCell{Lines: []string{"no line to the pocket", ""}, Unseen: true}
			if c.Reaches && most > 0 {
				count := c.Count(w.Choice.By)
				cell = tintedCell{Lines: []string{report.Percent(count.Share(), 0) + " from board " + report.Board.Show(c.Laydown), studied.Between(studies.WilsonInterval(count))},
					Boards: -fullTint * count.Share() / most}
			}
			row.Cells = append(row.Cells, cell)
		}
		m.Rows = append(m.Rows, row)
	}
	p.matrix(m)
	return p.finish(), nil
}
