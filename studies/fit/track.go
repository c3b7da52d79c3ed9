package fit

// Track is where the ball of one shot was measured.
type Track struct {
	Shot   string // name of the shot
	Ball   int    // index into the balls
	Bowler int    // index into the bowlers
	Points []TrackPoint
}

// TrackPoint is the ball's centre as measured at one distance.
type TrackPoint struct {
	Distance float64 // m from the foul line
	Board    float64 // counted from the bowler's side
	Time     float64 // s on a clock that starts anywhere; NaN if not measured
	Speed    float64 // m/s; NaN if not measured
	Line     int     // where the file has it, from 1; 0 if it is from no file
}

// leastPoints is how many points a track must have: laydown and angle follow
// from two.
const leastPoints = 2
