package report

import (
	"lanesim/physics"
)

// stateColumns are the quantities of a state of the ball: the members of a state in
// JSON, and the columns of a path in CSV.
var stateColumns = append(append(Columns[physics.State]{
	number("time_s", "time", "Time since release", Second, func(s physics.State) float64 { return s.Time }),
	number("distance_m", "distance", "Distance from the foul line", Metre, func(s physics.State) float64 { return s.Distance }),
	number("distance_ft", "distance", "Distance from the foul line", Foot, func(s physics.State) float64 { return s.Distance }),
	number("lateral_m", "lateral", "Place across the lane, to the left of the middle", Metre, func(s physics.State) float64 { return s.Lateral }),
	number("board", "board", "Board from the bowler's side", Board, func(s physics.State) float64 { return s.Board }),
	number("heading_deg", "heading", "Heading toward the bowler's off side", Degree, func(s physics.State) float64 { return s.Heading }),
	number("speed_mps", "speed", "Speed", MPS, func(s physics.State) float64 { return s.Speed }),
	number("speed_mph", "speed", "Speed", MPH, func(s physics.State) float64 { return s.Speed }),
},
	append(parts("velocity_mps", "velocity", "Velocity", MPS, []string{"down_lane", "left"}, func(s physics.State, i int) float64 { return s.Velocity[i] }),
		parts("spin_rad_s", "spin", "Spin", RadPerS, []string{"down_lane", "left", "up"}, func(s physics.State, i int) float64 { return s.Spin[i] })...)...),
	number("rev_rate_rpm", "rev rate", "Rev rate", RPM, func(s physics.State) float64 { return s.RevRate }),
	number("axis_rotation_deg", "axis rotation", "Axis rotation", Degree, func(s physics.State) float64 { return s.AxisRotation }),
	number("axis_tilt_deg", "axis tilt", "Axis tilt", Degree, func(s physics.State) float64 { return s.AxisTilt }),
	number("slip_mps", "slip", "Speed of the contact over the lane", MPS, func(s physics.State) float64 { return s.Slip }),
	number("friction", "friction", "Coefficient of friction", Ratio, func(s physics.State) float64 { return s.Friction }),
	number("normal_N", "normal force", "Force between ball and lane", Newton, func(s physics.State) float64 { return s.Normal }),
	number("oil_um", "film in the contact", "Film in the contact", Micrometre, func(s physics.State) float64 { return s.Oil }),
	number("ball_oil_um", "film from the ball", "Film that the ball brought", Micrometre, func(s physics.State) float64 { return s.BallOil }),
)

// parts are the parts of a vector: in JSON one array, elsewhere a column each.
func parts[T any](key, label, meaning string, u Unit, names []string, of func(T, int) float64) Columns[T] {
	var list Columns[T]
	for i, name := range names {
		c := number(key+"_"+name, label+" "+directions[name], meaning+" "+directions[name], u, func(t T) float64 { return of(t, i) })
		c.array = key
		list = append(list, c)
	}
	return list
}

var directions = map[string]string{"down_lane": "down the lane", "left": "to the left", "up": "upward"}

func stateObject(s *physics.State) Object {
	if s == nil {
		return nil
	}
	return stateColumns.members(*s)
}

func stateLines(list []physics.State) Lines {
	lines := make(Lines, len(list))
	for i, s := range list {
		lines[i] = stateColumns.members(s)
	}
	return lines
}
