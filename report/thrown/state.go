package thrown

import (
	"lanesim/physics"
	"lanesim/report"
)

// stateColumns are the quantities of a state of the ball: the members of a state in
// JSON, and the columns of a path in CSV.
var stateColumns = append(append(report.Columns[physics.State]{
	report.Number("time_s", "time", "Time since release", report.Second, func(s physics.State) float64 { return s.Time }),
	report.Number("distance_m", "distance", "Distance from the foul line", report.Metre, func(s physics.State) float64 { return s.Distance }),
	report.Number("distance_ft", "distance", "Distance from the foul line", report.Foot, func(s physics.State) float64 { return s.Distance }),
	report.Number("lateral_m", "lateral", "Place across the lane, to the left of the middle", report.Metre, func(s physics.State) float64 { return s.Lateral }),
	report.Number("board", "board", "Board from the bowler's side", report.Board, func(s physics.State) float64 { return s.Board }),
	report.Number("heading_deg", "heading", "Heading toward the bowler's off side", report.Degree, func(s physics.State) float64 { return s.Heading }),
	report.Number("speed_mps", "speed", "Speed", report.MPS, func(s physics.State) float64 { return s.Speed }),
	report.Number("speed_mph", "speed", "Speed", report.MPH, func(s physics.State) float64 { return s.Speed }),
},
	append(parts("velocity_mps", "velocity", "Velocity", report.MPS, []string{"down_lane", "left"}, func(s physics.State, i int) float64 { return s.Velocity[i] }),
		parts("spin_rad_s", "spin", "Spin", report.RadPerS, []string{"down_lane", "left", "up"}, func(s physics.State, i int) float64 { return s.Spin[i] })...)...),
	report.Number("rev_rate_rpm", "rev rate", "Rev rate", report.RPM, func(s physics.State) float64 { return s.RevRate }),
	report.Number("axis_rotation_deg", "axis rotation", "Axis rotation", report.Degree, func(s physics.State) float64 { return s.AxisRotation }),
	report.Number("axis_tilt_deg", "axis tilt", "Axis tilt", report.Degree, func(s physics.State) float64 { return s.AxisTilt }),
	report.Number("slip_mps", "slip", "Speed of the contact over the lane", report.MPS, func(s physics.State) float64 { return s.Slip }),
	report.Number("friction", "friction", "Coefficient of friction", report.Ratio, func(s physics.State) float64 { return s.Friction }),
	report.Number("normal_N", "normal force", "Force between ball and lane", report.Newton, func(s physics.State) float64 { return s.Normal }),
	report.Number("oil_um", "film in the contact", "Film in the contact", report.Micrometre, func(s physics.State) float64 { return s.Oil }),
	report.Number("ball_oil_um", "film from the ball", "Film that the ball brought", report.Micrometre, func(s physics.State) float64 { return s.BallOil }),
)

// parts are the components of a vector: one array in JSON, elsewhere a column each.
func parts[T any](key, label, meaning string, u report.Unit, names []string, of func(T, int) float64) report.Columns[T] {
	var list report.Columns[T]
	for i, name := range names {
		c := report.Number(key+"_"+name, label+" "+directions[name], meaning+" "+directions[name], u, func(t T) float64 { return of(t, i) })
		c.Array = key
		list = append(list, c)
	}
	return list
}

var directions = map[string]string{"down_lane": "down the lane", "left": "to the left", "up": "upward"}

func stateObject(s *physics.State) report.Object {
	if s == nil {
		return nil
	}
	return stateColumns.Members(*s)
}

func stateLines(list []physics.State) report.Lines {
	return report.Lines(report.Each(list, stateColumns.Members))
}
