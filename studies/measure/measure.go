package measure

import (
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/ball/oilring"
	"lanesim/physics"
	"lanesim/studies"
)

// Reading is a measured value and the standard deviation of its error, in the same unit.
type Reading struct {
	Value, Error float64
}

// Quantity is a number computed from measurements, in SI units.
type Quantity struct {
	Value       float64
	Uncertainty float64 // standard deviation
}

// Study computes a release from readings. What was not measured is that of the setup's release.
type Study struct {
	Setup    studies.Setup
	Readings Readings
	Settings physics.Settings
}

// Readings are measurements of a bowler's delivery by a pro shop or a coach. Nil fields were not measured.
type Readings struct {
	LaneTime *LaneTime
	Frames   *FrameCount

	// Ring has points on the first oil ring, RingSize only its size. Points contain the size, so giving both
	// is an error.
	Ring     *RingPoints
	RingSize *RingSpan

	Photo *Photo
}

// RingPoints are points read on the first oil ring.
type RingPoints struct {
	Points []ball.SurfacePoint

	// Error is the standard deviation of a point's place in m; 0 means [oilring.DefaultReadingError].
	Error float64
}

// RingSpan is the size in m of the first oil ring and the method by which it was
// measured.
type RingSpan struct {
	Size   Reading
	Method oilring.Size
}

// Result has the quantities of the release that follow from the measurements; the others are nil.
type Result struct {
	AverageSpeed *Quantity // m/s, down-lane, over the distance timed
	Speed        *Quantity // m/s, at release
	RevRate      *Quantity // rad/s
	AxisRotation *Quantity // rad
	AxisTilt     *Quantity // rad
	PAPOver      *Quantity // m along the surface, see [ball.PAP]
	PAPUp        *Quantity // m along the surface

	// RingWarnings are warnings about the points of the ring. SignOpen is set if the sign of the tilt does
	// not follow from the ring's size: it is taken as positive, with the ring beyond the equator from the
	// PAP.
	RingWarnings []oilring.Warning
	SignOpen     bool

	// Gutter is the distance in m at which the simulated ball leaves the lane within the distance timed, 0 if
	// it does not. Its time was computed without gutters.
	Gutter float64

	// Release is the setup's release with the measured quantities.
	Release physics.Release
}

// ReadingError means that a reading is impossible.
type ReadingError struct {
	Field  string // "lane_time", "frames", "ring", "ring_size" or "photo"
	Reason string // with the wrong value
	Err    error  // cause, or nil
}

func (e *ReadingError) Error() string { return e.Field + ": " + e.Reason }

// readingError returns a ReadingError without a cause.
func readingError(field, format string, values ...any) error {
	return &ReadingError{Field: field, Reason: fmt.Sprintf(format, values...)}
}

// Unwrap returns Err.
func (e *ReadingError) Unwrap() error { return e.Err }

// Run computes the release with standard deviations.
//
// It finds rev rate, tilt and rotation first, and with them the speed, by simulation. Errors of readings are
// taken as independent and propagated to first order: the variance of a result is the sum over the readings
// of (∂result/∂reading · error)². The derivatives of the speed by rev rate, rotation and tilt are differences
// of simulations one standard deviation apart. Quantities that were not measured, lane, ball and line are
// taken as exact.
//
// The error is a [*ReadingError], a [*NoSpeedError], or that of
// [physics.Throw].
func (q Study) Run() (Result, error) {
	out, m := Result{Release: q.Setup.Release}, q.Readings
	if m.Frames != nil {
		rate, err := m.Frames.RevRate()
		if err != nil {
			return Result{}, err
		}
		out.RevRate, out.Release.RevRate = &rate, rate.Value
	}
	if err := out.tilt(q.Setup.Ball, m); err != nil {
		return Result{}, err
	}
	if m.Photo != nil {
		rotation, err := out.rotation(*m.Photo)
		if err != nil {
			return Result{}, err
		}
		out.AxisRotation, out.Release.AxisRotation = &rotation, rotation.Value
	}
	if m.LaneTime != nil {
		if err := out.speed(q.Setup, m, q.Settings); err != nil {
			return Result{}, err
		}
	}
	return out, nil
}

// tilt computes PAP and axis tilt from the ring.
func (o *Result) tilt(b ball.Ball, m Readings) error {
	switch {
	case m.Ring != nil && m.RingSize != nil:
		return readingError("ring_size", "points of the ring are given as well: leave one out")
	case m.Ring != nil:
		ring, err := oilring.Fit(m.Ring.Points, b.Radius, m.Ring.Error)
		if err != nil {
			return &ReadingError{"ring", err.Error(), err}
		}
		o.PAPOver, o.PAPUp = &Quantity{ring.PAP.Over, ring.OverError()}, &Quantity{ring.PAP.Up, ring.UpError()}
		o.AxisTilt = &Quantity{ring.Tilt, ring.TiltError()}
		o.RingWarnings = ring.Warnings
	case m.RingSize != nil:
		tilt, uncertainty, err := oilring.TiltOf(m.RingSize.Size.Value, m.RingSize.Method, b.Radius, m.RingSize.Size.Error)
		if err != nil {
			return &ReadingError{"ring_size", err.Error(), err}
		}
		o.AxisTilt = &Quantity{tilt, uncertainty}
		o.SignOpen = m.RingSize.Method != oilring.AcrossSurface
	}
	if o.AxisTilt != nil {
		o.Release.AxisTilt = o.AxisTilt.Value
	}
	return nil
}

// rotation computes the axis rotation from a photo, with the measured tilt if there is one.
func (o *Result) rotation(p Photo) (Quantity, error) {
	tilt := Reading{Value: o.Release.AxisTilt}
	if o.AxisTilt != nil {
		tilt = Reading{o.AxisTilt.Value, o.AxisTilt.Uncertainty}
	}
	return p.AxisRotation(tilt)
}

// speed finds the release speed and adds the variance due to the other measured quantities.
func (o *Result) speed(of studies.Setup, all Readings, s physics.Settings) error {
	m := *all.LaneTime
	average, err := m.AverageSpeed()
	if err != nil {
		return err
	}
	of.Release = o.Release
	q, err := m.ReleaseSpeed(of, s)
	if err != nil {
		return err
	}
	variance := q.Uncertainty * q.Uncertainty
	for _, of.Release = range o.misread(all.Photo) {
		moved, _, err := ReleaseSpeed(of, m.From, m.To, m.Time.Value, s)
		if err != nil {
			return err
		}
		variance += (moved - q.Value) * (moved - q.Value)
	}
	q.Uncertainty = math.Sqrt(variance)
	o.AverageSpeed, o.Speed, o.Release.Speed = &average, &q, q.Value

	s.PathSpacing, s.ExchangeSpacing = -1, -1
	shot, err := physics.Throw(of.Lane, of.Ball, o.Release, s)
	if err != nil {
		return err
	}
	if g := shot.Events.Gutter; g != nil && g.Distance < m.To {
		o.Gutter = g.Distance
	}
	return nil
}

// misread returns releases with the readings for rev rate, tilt and photo off by one standard deviation, one
// at a time. A changed tilt also changes the rotation computed with it. The tilt is moved toward zero, away
// from the vertical and from the height of the camera.
func (o *Result) misread(p *Photo) []physics.Release {
	var list []physics.Release
	if q := o.RevRate; q != nil {
		r := o.Release
		r.RevRate -= q.Uncertainty
		list = append(list, r)
	}
	if q := o.AxisTilt; q != nil {
		r := o.Release
		r.AxisTilt -= math.Copysign(q.Uncertainty, q.Value)
		if p != nil {
			if rotation, err := p.AxisRotation(Reading{Value: r.AxisTilt}); err == nil {
				r.AxisRotation = rotation.Value
			}
		}
		list = append(list, r)
	}
	if p != nil {
		if alone, err := p.AxisRotation(Reading{Value: o.Release.AxisTilt}); err == nil {
			r := o.Release
			r.AxisRotation -= alone.Uncertainty
			list = append(list, r)
		}
	}
	return list
}
