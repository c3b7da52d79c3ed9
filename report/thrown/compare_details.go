package thrown

import (
	"fmt"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/units"
)

type detail struct {
	Shot
	traced compare.ShotResult
}

func boardAt(name string, distance float64) report.Column[detail] {
	return report.Number("", "board at "+name, "", report.Board, func(d detail) float64 { return studies.BoardAt(d.Shot.Shot.Path, distance) })
}

// Columns of shots in the details of a pair.
var (
	detailsFirst = []string{"feet_board", "laydown_board", "arrows_board", "launch_angle_deg"}
	detailsLast  = []string{
		"entry_board", "entry_angle_deg", "skid_ft", "hook_ft", "roll_ft",
		"hook_start_distance_ft", "friction_read_distance_ft", "breakpoint_distance_ft", "breakpoint_board", "roll_start_distance_ft",
		"release_speed_mph", "pins_speed_mph", "pins_rev_rate_rpm", "flare_in", "flare_oil_in",
	}
	detailsTrack = []string{"spacing_in", "contact_width_in", "film_on_dry_um"}
)

func detailColumns(a, b physics.Shot) report.Columns[detail] {
	var list report.Columns[detail]
	shots := func(keys []string) {
		list = append(list, report.AllVia(shotColumns.Pick(keys...), func(d detail) (Shot, bool) { return d.Shot, true })...)
	}
	shots(detailsFirst)
	list = append(list, boardAt(report.Foot.Digits(0).Show(lane.Arrows)+" ft", lane.Arrows))
	for _, s := range []struct {
		name  string
		state *physics.State
	}{{"a's", a.Events.Breakpoint}, {"b's", b.Events.Breakpoint}} {
		if s.state != nil {
			list = append(list, boardAt(s.name+" breakpoint", s.state.Distance))
		}
	}
	for _, ft := range []float64{45, 50, 55} {
		list = append(list, boardAt(fmt.Sprintf("%g ft", ft), ft*units.Foot))
	}
	shots(detailsLast)
	return append(list, report.AllVia(append(trackColumns.Pick(detailsTrack...), missColumns...), func(d detail) (compare.ShotResult, bool) { return d.traced, true })...)
}

func (p Pair) details() report.Grid {
	of := func(i int) detail {
		return detail{p.comparison.Shots[i], p.comparison.Result.Shots[i]}
	}
	a, b := of(p.A), of(p.B)
	g := report.Grid{Left: []bool{true}, Rows: [][]string{
		{"", "a", "b", "b − a"},
		{"ended", string(a.Shot.Shot.Status), string(b.Shot.Shot.Status)},
	}}
	for _, c := range detailColumns(a.Shot.Shot, b.Shot.Shot) {
		g.Rows = append(g.Rows, []string{c.Head(), c.Show(a), c.Show(b), c.ShowChange(a, b)})
	}
	if parting := report.Foot.Show(p.Parting); parting != report.Absent {
		g.Rows = append(g.Rows, []string{fmt.Sprintf("%g board apart from, ft", compare.PartingBoards), "", "", parting})
	}
	return g
}

func missMeaning(of string) string {
	return "How far apart " + of + " enters on its line and with the line missed by a board at the arrows to either side"
}

// missRange returns the range in boards of a shot's entries on its line and with the line missed to either
// side.
func (c *Comparison) missRange(i int) float64 {
	s := c.Result.Shots[i]
	return s.Misses.Range(s.Shot.EntryBoard())
}

// missColumns are the entries of a shot with a missed line.
var missColumns = report.Columns[compare.ShotResult]{
	report.Number("outside_board", "entry board if missed outside", "Entry board if the line is missed by a board at the arrows to the outside", report.Board, func(t compare.ShotResult) float64 { return t.Misses.Outside }),
	report.Number("inside_board", "entry board if missed inside", "Entry board if the line is missed by a board at the arrows to the inside", report.Board, func(t compare.ShotResult) float64 { return t.Misses.Inside }),
}
