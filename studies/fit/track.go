package fit

import (
	"math"

	"lanesim/physics"
	"lanesim/studies"
)

// Track is the measured path of the ball of one shot.
type Track struct {
	Shot   string // name of the shot
	Ball   int    // index into the balls
	Bowler int    // index into the bowlers
	Points []TrackPoint
}

// TrackPoint is the measured place of the ball's centre at one distance.
type TrackPoint struct {
	Distance float64 // m from the foul line
	Board    float64 // counted from the bowler's side
	Time     float64 // s on a clock with any start; NaN if not measured
	Speed    float64 // m/s; NaN if not measured
}

// leastPoints is the least number of points of a track: laydown and angle follow from two.
const leastPoints = 2

// TrackOver compares a measured track with a computed shot; nothing is fitted.
type TrackOver struct {
	Track
	Shot physics.Shot // with its path

	// Residuals are measured − computed at the distances of the points. The mean difference of the clocks is
	// subtracted from times. They are NaN for readings that were not taken, and where the shot did not reach.
	Residuals []TrackResidual

	// Bias is the mean of the residuals, 0 for times, and Scatter their standard deviation about it; NaN if
	// there are too few.
	Bias, Scatter Scatter
}

// OverTrack compares a track with a shot, which must have its path.
func OverTrack(t Track, shot physics.Shot) TrackOver {
	o := TrackOver{Track: t, Shot: shot, Residuals: make([]TrackResidual, len(t.Points))}
	clocks, timed := 0.0, 0
	for i, p := range t.Points {
		r := &o.Residuals[i]
		r.Board = p.Board - studies.BoardAt(shot.Path, p.Distance)
		r.Speed = p.Speed - alongPath(shot.Path, p.Distance, func(s physics.State) (float64, float64) { return s.Speed, math.NaN() })
		r.Time = p.Time - alongPath(shot.Path, p.Distance, func(s physics.State) (float64, float64) { return s.Time, math.NaN() })
		if !math.IsNaN(r.Time) {
			clocks, timed = clocks+r.Time, timed+1
		}
	}
	for i := range o.Residuals {
		o.Residuals[i].Time -= clocks / float64(timed)
	}
	of := func(get func(TrackResidual) float64) (bias, scatter float64) { return BiasAndScatter(o.Residuals, get) }
	o.Bias.Boards, o.Scatter.Boards = of(func(r TrackResidual) float64 { return r.Board })
	o.Bias.Speed, o.Scatter.Speed = of(func(r TrackResidual) float64 { return r.Speed })
	o.Bias.Time, o.Scatter.Time = of(func(r TrackResidual) float64 { return r.Time })
	return o
}

// BoardsOff returns the root mean square of the residuals in boards, NaN without any.
func (o TrackOver) BoardsOff() float64 {
	sum, n := 0.0, 0
	for _, r := range o.Residuals {
		if !math.IsNaN(r.Board) {
			sum, n = sum+r.Board*r.Board, n+1
		}
	}
	return math.Sqrt(sum / float64(n))
}

// BiasAndScatter returns the mean of a value of residuals and the standard deviation about it; NaN values are
// left out. The mean is NaN without values, the standard deviation with fewer than two.
func BiasAndScatter(all []TrackResidual, get func(TrackResidual) float64) (bias, scatter float64) {
	var sum, squares, n float64
	for _, r := range all {
		if v := get(r); !math.IsNaN(v) {
			sum, n = sum+v, n+1
		}
	}
	bias = sum / n
	for _, r := range all {
		if v := get(r); !math.IsNaN(v) {
			squares += (v - bias) * (v - bias)
		}
	}
	if n < 2 {
		return bias, math.NaN()
	}
	return bias, math.Sqrt(squares / (n - 1))
}
