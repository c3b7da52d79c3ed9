package thrown

import (
	"lanesim/report"
	"lanesim/studies/compare"
)

func missMeaning(of string) string {
	return "How far apart " + of + " enters on its line and with the line missed by a board at the arrows to either side"
}

// missRange is how far apart in boards a shot enters on its line and with the line
// missed to either side.
func (c *Comparison) missRange(i int) float64 {
	s := c.Result.Shots[i]
	return s.Misses.Range(s.Shot.EntryBoard())
}

// missColumns are what a missed line makes of a shot.
var missColumns = report.Columns[compare.ShotResult]{
	report.Number("outside_board", "entry board if missed outside", "Entry board if the line is missed by a board at the arrows to the outside", report.Board, func(t compare.ShotResult) float64 { return t.Misses.Outside }),
	report.Number("inside_board", "entry board if missed inside", "Entry board if the line is missed by a board at the arrows to the inside", report.Board, func(t compare.ShotResult) float64 { return t.Misses.Inside }),
}
