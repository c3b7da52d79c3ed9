package measure

import (
	"fmt"
	"math"

	"lanesim/internal/portable"
	"lanesim/internal/root"
	"lanesim/physics"
	"lanesim/studies"
)

// LaneTime is the time that a ball took from one distance to another.
type LaneTime struct {
	From, To float64 // m from the foul line, of the ball's centre
	Time     Reading // s

	// DistanceError is the standard deviation of To − From in m: how far from the marks the clock was started
	// and stopped.
	DistanceError float64
}

const (
	// speedAccuracy is the relative accuracy of the speed search: a thousandth of the uncertainty by a clock
	// read to a thousandth of a second.
	speedAccuracy = 1e-7

	// slopeStep is the relative step of the speed for its derivative by the time: so wide that the numerical
	// error of a time (10⁻⁶) does not matter, so narrow that the curvature does not (its share is the square
	// of the step).
	slopeStep = 0.01

	// speedRange is the largest ratio, either way, of release speed and average speed, and rangeStep the
	// factor by which the search grows. A ball that skids down a dry lane without spin keeps 0.70 of its
	// speed; one with 600 rpm released at 10 mph becomes faster by half.
	speedRange = 8.0
	rangeStep  = 1.25
)

// NoSpeedError means that no release speed gives the measured time.
type NoSpeedError struct {
	Average    float64 // m/s, measured
	Low, High  float64 // m/s, range of release speeds tried
	Slow, Fast float64 // m/s, their average speeds
}

func (e *NoSpeedError) Error() string {
	return fmt.Sprintf("lane_time: no release speed from %.3g to %.3g m/s gives an average of %.4g m/s over the stretch; they give %.4g to %.4g m/s",
		e.Low, e.High, e.Average, e.Slow, e.Fast)
}

// check returns an error for impossible distances or times.
func (m LaneTime) check() error {
	fail := func(format string, values ...any) error { return readingError("lane_time", format, values...) }
	switch {
	case !(m.From >= 0) || !(m.To > m.From) || math.IsInf(m.To, 0):
		return fail("the stretch must lead on from the foul line, not from %g m to %g m", m.From, m.To)
	case !(m.Time.Value > 0) || math.IsInf(m.Time.Value, 0):
		return fail("the time must be positive, not %g s", m.Time.Value)
	case !(m.Time.Error >= 0) || !(m.DistanceError >= 0) || math.IsInf(m.Time.Error, 0) || math.IsInf(m.DistanceError, 0):
		return fail("errors of %g s and %g m must be finite and not negative", m.Time.Error, m.DistanceError)
	}
	return nil
}

// relative returns the relative standard deviation of the average speed: √((σ_t/t)² + (σ_d/d)²).
func (m LaneTime) relative() float64 {
	return portable.Hypot(m.Time.Error/m.Time.Value, m.DistanceError/(m.To-m.From))
}

// AverageSpeed returns the average down-lane speed over the distance timed, in m/s. The error is a
// [*ReadingError].
func (m LaneTime) AverageSpeed() (Quantity, error) {
	if err := m.check(); err != nil {
		return Quantity{}, err
	}
	v := (m.To - m.From) / m.Time.Value
	return Quantity{v, v * m.relative()}, nil
}

// ReleaseSpeed returns the release speed for the measured time, by the function [ReleaseSpeed]. Its standard
// deviation is |∂speed/∂time| times that of the time, to which an error of the distance adds the time for it
// at the average speed.
func (m LaneTime) ReleaseSpeed(of studies.Setup, s physics.Settings) (Quantity, error) {
	if err := m.check(); err != nil {
		return Quantity{}, err
	}
	v, slope, err := ReleaseSpeed(of, m.From, m.To, m.Time.Value, s)
	if err != nil {
		return Quantity{}, err
	}
	return Quantity{v, math.Abs(slope) * m.Time.Value * m.relative()}, nil
}

// ReleaseSpeed returns the release speed in m/s with which a ball takes a time in s from one distance to
// another, in m from the foul line, and the derivative of that speed by the time in m/s². The speed of the
// setup's release is ignored; all else is used as given. The lane has no gutters.
//
// It finds the root of the simulated minus the measured average speed, which is nearly linear in the release
// speed.
//
// The error is a [*ReadingError] if the distances are not between laydown and end of the lane or the time is
// not positive, a [*NoSpeedError] if no speed gives the time, or that of [physics.Throw] for a shot.
func ReleaseSpeed(of studies.Setup, from, to, time float64, s physics.Settings) (speed, slope float64, err error) {
	if err := (LaneTime{From: from, To: to, Time: Reading{Value: time}}).check(); err != nil {
		return 0, 0, err
	}
	if from < of.Release.LaydownDistance || to > of.Lane.Length {
		return 0, 0, readingError("lane_time",
			"the stretch from %.4g to %.4g m must lie between the laydown at %.4g m and the end of the lane at %.4g m", from, to, of.Release.LaydownDistance, of.Lane.Length)
	}
	of.Lane.Edgeless = true
	s.PathSpacing, s.ExchangeSpacing = -1, -1
	run := stretch{physics.NewThrower(), of, s, from, to, nil}
	speed, err = run.solve((to - from) / time)
	if err != nil {
		return 0, 0, err
	}
	slower, faster := (to-from)/run.average(speed*(1-slopeStep)), (to-from)/run.average(speed*(1+slopeStep))
	if run.err != nil {
		return 0, 0, run.err
	}
	return speed, 2 * slopeStep * speed / (faster - slower), nil
}

// stretch simulates shots between two distances.
type stretch struct {
	thrower  *physics.Thrower
	of       studies.Setup
	settings physics.Settings
	from, to float64
	err      error // of the first shot that failed
}

// average returns the average down-lane speed of a ball released at a speed; 0 if it never reaches the end of
// the stretch.
func (a *stretch) average(speed float64) float64 {
	start, _ := a.reaches(a.from, speed)
	end, ok := a.reaches(a.to, speed)
	if !ok {
		return 0
	}
	return (a.to - a.from) / (end - start)
}

// reaches returns the time at which the ball is at a distance, by a shot on a lane that ends there.
func (a *stretch) reaches(distance, speed float64) (float64, bool) {
	if distance == a.of.Release.LaydownDistance {
		return 0, true
	}
	if a.err != nil {
		return 0, false
	}
	l, r := a.of.Lane, a.of.Release
	l.Length, r.Speed = distance, speed
	shot, err := a.thrower.Throw(l, a.of.Ball, r, a.settings)
	if err != nil {
		a.err = fmt.Errorf("at a release speed of %.6g m/s: %w", speed, err)
		return 0, false
	}
	if shot.Events.Pins == nil {
		return 0, false
	}
	return shot.Events.Pins.Time, true
}

// solve finds the release speed that gives an average speed: a bracket, then its root.
func (a *stretch) solve(average float64) (float64, error) {
	off := func(v float64) float64 { return a.average(v) - average }
	low, high := average, average
	below := off(low)
	above := below
	for below > 0 && low > average/speedRange && a.err == nil {
		high, above = low, below
		low /= rangeStep
		below = off(low)
	}
	for above < 0 && high < average*speedRange && a.err == nil {
		low, below = high, above
		high *= rangeStep
		above = off(high)
	}
	switch {
	case a.err != nil:
		return 0, a.err
	case below == 0:
		return low, nil
	case below > 0 || above < 0:
		return 0, &NoSpeedError{average, low, high, below + average, above + average}
	}
	v := root.Find(off, low, high, below, above, speedAccuracy*low)
	return v, a.err
}
