package studied

import (
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/wear"
)

// columns are quantities of the elements of a list, by their indices.
type columns = report.Columns[int]

// tableOf returns a table with a row for each element of a list.
func tableOf[T any](list []T, parts ...columns) report.Grid {
	return report.TableOf(slices.Concat(parts...), slices.Values(numbers(list)))
}

// listOf returns a list with an object for each element of a list.
func listOf[T any](list []T, parts ...columns) report.List {
	return report.Each(numbers(list), slices.Concat(parts...).Members)
}

// rowsOf returns rows with one for each element of a list.
func rowsOf[T any](list []T, parts ...columns) report.Rows {
	return report.RowsOf(slices.Concat(parts...), slices.Values(numbers(list)))
}

// numbers returns the indices of a list.
func numbers[T any](list []T) []int {
	all := make([]int, len(list))
	for i := range all {
		all[i] = i
	}
	return all
}

// named returns the column of names on the left of a table.
func named(of func(int) string) columns { return columns{report.Text("name", "", "Name", of)} }

// namesOf returns the column of the players' names.
func namesOf(players []Player) columns {
	return named(func(i int) string { return players[i].Name(players) })
}

// playerColumns returns lane, ball and bowler of players.
func playerColumns(of func(int) Player) columns {
	return columns{
		report.Text("bowler", "bowler", "Name of the bowler", func(i int) string { return of(i).Bowler }),
		report.Text("ball", "ball", "Name of the ball", func(i int) string { return of(i).Ball }),
		report.Text("lane", "lane", "Name of the lane", func(i int) string { return of(i).Lane }),
	}
}

// releaseColumns returns the numbers of a release.
func releaseColumns(of func(int) physics.Release) columns {
	return columns{
		report.Number("laydown", "laydown", "Board of the laydown", report.Board, func(i int) float64 { return of(i).Laydown }),
		report.Number("angle_deg", "angle", "Launch angle", report.LaunchDegree, func(i int) float64 { return of(i).Angle }),
		report.Number("speed_mph", "speed", "Speed", report.MPH, func(i int) float64 { return of(i).Speed }),
		report.Number("rev_rate_rpm", "rev rate", "Rev rate", report.RPM, func(i int) float64 { return of(i).RevRate }),
		report.Number("axis_rotation_deg", "rotation", "Axis rotation", report.Degree, func(i int) float64 { return of(i).AxisRotation }),
		report.Number("axis_tilt_deg", "tilt", "Axis tilt", report.Degree, func(i int) float64 { return of(i).AxisTilt }),
		report.Number("phase_deg", "phase", "Phase", report.Degree, func(i int) float64 { return of(i).Phase }),
	}
}

// shotColumns returns the columns of shots with keys.
func shotColumns(of func(int) thrown.Shot, keys ...string) columns {
	return report.AllVia(thrown.ShotColumns().Pick(keys...), func(i int) (thrown.Shot, bool) { return of(i), true }).
		Renamed(map[string]string{"laydown_board": "laydown", "breakpoint_distance_ft": "breakpoint_ft"})
}

// lineColumns returns the line in bowlers' terms.
func lineColumns(of func(int) thrown.Shot) columns {
	return shotColumns(of, thrown.LineColumns().Keys()...)
}

// deliveryColumns returns the entry of a delivery.
func deliveryColumns(of func(int) wear.DeliveryResult) columns {
	return columns{
		report.Text("status", "ended", "How the shot ended", func(i int) string { return string(of(i).Status) }),
		report.Number("entry_board", "entry board", "Board at the pins", report.Board, func(i int) float64 { return of(i).EntryBoard }),
		report.Number("entry_angle_deg", "entry angle", "Heading at the pins", report.Degree, func(i int) float64 { return of(i).EntryAngle }),
		report.Truth("pocket", "pocket", "Whether the ball enters in the pocket", func(i int) bool { return of(i).Pocket }),
		report.Truth("good_angle", "good angle", "Whether the entry angle is good", func(i int) bool { return of(i).GoodAngle }),
	}
}

// meanColumns returns a mean and its interval, with the keys of both, shown in a unit.
func meanColumns(key, interval, label, meaning string, u report.Unit, of func(int) studies.Mean) columns {
	return columns{
		report.Number(key, label, meaning, report.Ratio, func(i int) float64 { return of(i).Value }).ShownIn(u),
		report.Interval(interval, "95 % interval", meaning+": its interval of 95 %", report.Ratio, func(i int) (low, high float64) {
			m := of(i)
			return m.Low, m.High
		}).ShownIn(u),
	}
}

// shareColumns returns a share and its interval; of is "" for a single share.
func shareColumns(of, label, meaning string, share func(int) studies.Mean) columns {
	if of != "" {
		of += "_"
	}
	return meanColumns(of+"share", of+"interval", label, meaning, report.Hundredth, share)
}

// countColumns returns the share of a count and its interval.
func countColumns(of, label, meaning string, count func(int) studies.Count) columns {
	return shareColumns(of, label, meaning, func(i int) studies.Mean { return shareOf(count(i)) })
}

// briefly returns columns with shorter headings of intervals.
func briefly(list columns) columns {
	for i := range list {
		list[i].Label = strings.TrimSuffix(list[i].Label, " interval")
	}
	return list
}

// intervals returns the intervals of columns for the elements of a list.
func intervals[T any](list []T, parts columns) (all []studies.Mean) {
	for i := range list {
		for _, c := range parts {
			cell := c.Of(i)
			all = append(all, studies.Mean{Interval: studies.Interval{Low: cell.Number, High: cell.Second}})
		}
	}
	return all
}
