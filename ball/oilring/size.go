package oilring

import (
	"fmt"
	"math"
)

// Size names a way to measure how large an oil ring is.
type Size string

// The ways.
const (
	// AcrossSurface is the diameter along the surface, with a tape laid over
	// the ring's centre on the side of the ball away from the PAP: the arc
	// π − 2β times the ball's radius. More than half the circumference means
	// a negative tilt.
	AcrossSurface Size = "diameter along the surface"

	// AcrossChord is the straight-line diameter, between the jaws of a
	// caliper: 2R cos β.
	AcrossChord Size = "straight-line diameter"

	// Around is the length of the ring itself, with a tape laid along it:
	// 2πR cos β.
	Around Size = "length around the ring"
)

// mostExcess is how many standard deviations a chord or a length may exceed
// that of a great circle before it is impossible for this ball.
const mostExcess = 3.0

// TiltOf returns the axis tilt in rad of a ring of a size in m on a ball
// of the given radius in m, and the standard deviation of the tilt in rad that
// follows from that of the reading, readingError in m.
//
// A ring has the angular radius 90° − |β| about the nearer end of its axis.
// Chord and length give the magnitude |β| only, and poorly near 0, where they
// hardly change with it. Their uncertainty is therefore not a derivative but the
// largest change of the tilt, per standard deviation, for a reading one or two
// standard deviations longer or shorter; that of a diameter along the surface is
// readingError/(2R).
//
// The error is a [*Error].
func TiltOf(size float64, way Size, radius, readingError float64) (tilt, uncertainty float64, err error) {
	if !(radius > 0) || math.IsInf(radius, 0) || !(readingError >= 0) || math.IsInf(readingError, 0) {
		return 0, 0, &Error{ImpossibleReading, fmt.Sprintf("radius %g m and reading error %g m must be finite, the first positive", radius, readingError)}
	}
	whole, most := 2*radius, 2*radius+mostExcess*readingError
	switch way {
	case AcrossSurface:
		whole, most = 2*radius, 2*math.Pi*radius
	case Around:
		whole = 2 * math.Pi * radius
		most = whole + mostExcess*readingError
	case AcrossChord:
	default:
		return 0, 0, &Error{ImpossibleReading, fmt.Sprintf("there is no way %q to measure a ring", string(way))}
	}
	if !(size > 0 && size <= most) {
		return 0, 0, &Error{ImpossibleReading, fmt.Sprintf("%s: %.4g m does not lie between 0 and %.4g m", way, size, most)}
	}
	if way == AcrossSurface {
		return math.Pi/2 - size/whole, readingError / whole, nil
	}
	at := func(size float64) float64 { return math.Acos(max(0, min(size/whole, 1))) }
	size = min(size, whole)
	tilt = at(size)
	for _, k := range []float64{1, 2} {
		uncertainty = max(uncertainty, (tilt-at(size+k*readingError))/k, (at(size-k*readingError)-tilt)/k)
	}
	return tilt, uncertainty, nil
}
