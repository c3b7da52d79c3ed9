package plots

import (
	"fmt"
	"strings"

	"lanesim/report"
	"lanesim/report/thrown"
)

// feet prints a distance in m.
func feet(m float64) string { return report.Foot.Show(m) + " ft" }

// Describe describes a figure's shots in words. Boards are counted as in the figure: from
// the bowlers' side or, if there are left- and right-handers, from the right.
func Describe(f Figure) string {
	v := view{Figure: f, side: sideOf(f.Series)}
	d := thrown.Described{Lane: f.Lane, Board: v.board}
	for i, s := range f.Series {
		one := thrown.NamedShot{Name: named(f.Series, i), Shot: s.Shot}
		if v.side != rightForMixed { // boards of a line count from the bowler's side
			one.Line = s.Line
		}
		d.Shots = append(d.Shots, one)
	}
	return d.Words()
}

// allNamed are the names of all shots.
func allNamed(all []Series) []string {
	names := make([]string, len(all))
	for i := range names {
		names[i] = named(all, i)
	}
	return names
}

// named returns the shot's name, or its number if it has none.
func named(all []Series, i int) string {
	if n := strings.TrimSpace(printable(all[i].Name)); n != "" {
		return n
	}
	return fmt.Sprintf("shot %d", i+1)
}
