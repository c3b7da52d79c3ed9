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

	// DistanceError is the standard deviation in m of To − From: how far
	// from the marks the clock was started and stopped.
	DistanceError float64
}

const (
	// speedAccuracy is the relative change of the speed at which its search
	// ends: a thousandth of what a clock read to a thousandth of a second
	// leaves open.
	speedAccuracy = 1e-7

	// slopeStep is the relative change of the speed over which its derivative
	// by the time is taken: wide enough for what the integration's
	// tolerance leaves in a time (10⁻⁶) not to matter, narrow enough for the
	// curvature not to (its share is the square of the step).
	slopeStep = 0.01

	// speedRange is how many times slower or faster than the average speed
	// the release may be, and rangeStep the factor by which a search grows:
	// a ball that skids down a dry lane without spin keeps 0.70 of its speed,
	// and one of 600 rpm that is set down at 10 mph gains half as much again.
	speedRange = 8.0
	rangeStep  = 1.25
)

// NoSpeedError says that no release speed gives the time that was measured.
type NoSpeedError struct {
	Average    float64 // m/s, as measured
	Low, High  float64 // m/s, release speeds that were tried
	Slow, Fast float64 // m/s, average speeds that they give
}

func (e *NoSpeedError) Error() string {
	return fmt.Sprintf("lane_time: no release speed from %.3g to %.3g m/s gives an average of %.4g m/s over the stretch; they give %.4g to %.4g m/s",
		e.Low, e.High, e.Average, e.Slow, e.Fast)
}

// check refuses a stretch or a time that cannot be.
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

// relative is the relative standard deviation of the average speed:
// √((σ_t/t)² + (σ_d/d)²).
func (m LaneTime) relative() float64 {
	return portable.Hypot(m.Time.Error/m.Time.Value, m.DistanceError/(m.To-m.From))
}

// AverageSpeed returns the average of the down-lane speed over the stretch.
// The error is a [*ReadingError].
func (m LaneTime) AverageSpeed() (Quantity, error) {
	if err := m.check(); err != nil {
		return Quantity{}, err
	}
	v := (m.To - m.From) / m.Time.Value
	return Quantity{v, v * m.relative()}, nil
}

// ReleaseSpeed returns the release speed that belongs to the time; see the
// function [ReleaseSpeed]. Its standard deviation is |∂speed/∂time| times the
// time's, in which an error in the distance counts as the time that the ball
// takes for it at its average speed.
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

// ReleaseSpeed returns the speed in m/s with which a ball must be released to
// take a time in s from one distance to another, in m from the foul line, and
// the derivative of that speed by the time in m/s². The release's own speed does
// not matter; all else of it is taken as given. Gutters are taken away.
//
// It looks for the root of the simulated average speed over the stretch minus
// the measured one, which is nearly linear in the release speed.
//
// The error is a [*ReadingError] if the stretch starts before the ball is
// on the lane, ends behind the lane or holds no positive time, a
// [*NoSpeedError] if no speed gives the time, and that of [physics.Throw] if a
// shot breaks down.
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
	err      error // of the first shot that broke down
}

// average returns the average down-lane speed over the stretch of a ball
// released at a speed; 0 if it never gets to the end.
func (a *stretch) average(speed float64) float64 {
	start, _ := a.reaches(a.from, speed)
	end, ok := a.reaches(a.to, speed)
	if !ok {
		return 0
	}
	return (a.to - a.from) / (end - start)
}

// reaches returns the time at which the ball is at a distance: at the end of a
// lane that is cut off there.
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
