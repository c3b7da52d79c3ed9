// Package oilring finds the spin axis of a bowler from the first ring of oil on the ball:
// [Fit] fits a circle to points of it, whose middle is the positive axis point, and
// [TiltOf] gives the axis tilt from the size of the ring alone.
package oilring

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/internal/vector"
)

// Ring is the release as the first oil ring on a ball shows it.
//
// At release the ball touches the lane in the direction −ẑ and spins about the axis
// toward the PAP, whose elevation above the horizontal is the axis tilt β. As the
// ball turns, the point of contact moves round the circle
//
//	PAP · p = −sin β
//
// which lies 90° + β from the PAP: beyond the equator of the axis for a
// positive tilt, on the PAP's side of it for a negative one. Seen from the
// other end of the axis it is a circle of angular radius 90° − β. Flare and friction
// move the contact off this circle during the first turn.
type Ring struct {
	PAP  ball.PAP // m
	Tilt float64  // rad

	// Covariance is that of the errors of PAP.Over and PAP.Up in m and of
	// Tilt in rad, in this order.
	Covariance [3][3]float64

	// Residual is the root mean square of the distances in m of the points
	// from the ring; 0 for three points, through which a ring always goes.
	Residual float64

	Warnings []Warning
}

// OverError is the standard deviation of PAP.Over in m.
func (r Ring) OverError() float64 { return math.Sqrt(r.Covariance[0][0]) }

// UpError is the standard deviation of PAP.Up in m.
func (r Ring) UpError() float64 { return math.Sqrt(r.Covariance[1][1]) }

// TiltError is the standard deviation of Tilt in rad.
func (r Ring) TiltError() float64 { return math.Sqrt(r.Covariance[2][2]) }

// Warning says why a ring is less certain than it could be.
type Warning string

// The warnings.
const (
	// PoorSpread: the same number of points spread evenly round the ring would
	// give at least three times the accuracy.
	PoorSpread Warning = "the points cover too short an arc of the ring"

	// OffCircle: the points lie farther from one circle than their reading
	// error explains (in less than one of a hundred cases). The covariance is
	// raised to match their scatter.
	OffCircle Warning = "the points do not lie on one circle within the reading error"

	// SideUnclear: the axis lies within two standard deviations of the
	// plane through grip and fingers, so that the side of the PAP, and with
	// it the sign of the tilt, is uncertain.
	SideUnclear Warning = "the axis lies so near the centre line of the grip that its side is uncertain"
)

// Error says why no ring follows from the readings.
type Error struct {
	Problem Problem
	Detail  string // with the value at fault
}

func (e *Error) Error() string { return "oil ring: " + string(e.Problem) + ": " + e.Detail }

// Problem is the kind of an [Error].
type Problem string

// The problems.
const (
	ImpossibleReading Problem = "impossible reading"
	TooFewPoints      Problem = "too few points"
	TooCloseTogether  Problem = "points too close together"
)

const (
	// DefaultReadingError is the assumed standard deviation in m of a
	// point read on the middle of an oil ring, across the ring: a ring is
	// about a quarter inch wide, and a ruler is read to a millimetre.
	DefaultReadingError = 1e-3

	// poorSpread is the uncertainty over that of evenly spread points above which
	// PoorSpread is given.
	poorSpread = 3.0

	// offCircleChance is the probability of the points' scatter below which
	// OffCircle is given.
	offCircleChance = 0.01

	// largestAngleError is the standard deviation in rad of the axis or the
	// tilt above which there is no answer. Errors are propagated to first
	// order, which at half a radian is off by 4 % in the sine and 12 % in the
	// cosine.
	largestAngleError = 0.5

	// unclearSide is the distance of the axis from the grip's centre line,
	// in standard deviations, below which SideUnclear is given.
	unclearSide = 2.0
)

// Fit finds PAP and axis tilt from three or more points read on the first
// oil ring of a ball of the given radius in m.
//
// It minimises the sum of the squared distances, along the surface, of the
// points from a circle on the sphere. The PAP is the end of the circle's axis on
// the side of positive Over, for both hands, since each measures toward its own
// side. The readingError is the
// standard deviation in m of a point's place, equal in all directions; 0 means
// [DefaultReadingError]. The covariance is σ² (JᵀJ)⁻¹ with J the
// derivatives of the distances, that is, to first order in σ. It does not include
// the ring's own departure from a circle: in simulated first turns the PAP is off
// by 0.5 mm and the tilt by 0.2° for a ball with equal moments, by 2.6 mm and
// 1.0° for a differential of 0.020 in and by 6 mm and 2.4° for one of 0.055 in,
// with the pin 3⅜ in from the PAP.
//
// The error is a [*Error].
func Fit(points []ball.SurfacePoint, radius, readingError float64) (Ring, error) {
	if readingError == 0 {
		readingError = DefaultReadingError
	}
	if err := checkRing(points, radius, readingError); err != nil {
		return Ring{}, err
	}
	directions := make([]r3.Vec, len(points))
	for i, p := range points {
		directions[i] = p.Direction(radius)
	}
	c := fitCircle(directions)
	if c.axis.Y < 0 {
		c.axis, c.angle = r3.Scale(-1, c.axis), math.Pi-c.angle
	}
	r := Ring{Tilt: c.angle - math.Pi/2}
	n, squares, sigma := float64(len(points)), c.squares(directions), readingError/radius
	r.Residual = radius * math.Sqrt(squares/n)
	if free := n - 3; free > 0 && mathext.GammaIncRegComp(free/2, squares/(2*sigma*sigma)) < offCircleChance {
		r.Warnings = append(r.Warnings, OffCircle)
		sigma = math.Sqrt(squares / free)
	}
	over, up := tangents(c.axis)
	variance, ok := c.covariance(directions, over, up)
	worst := max(variance[0][0], variance[1][1], variance[2][2])
	if !ok || !(sigma*math.Sqrt(worst) <= largestAngleError) {
		return Ring{}, &Error{TooCloseTogether,
			fmt.Sprintf("%d points read to %.3g mm do not determine the axis; spread them round the ring", len(points), sigma*radius*1e3)}
	}
	// Evenly spread points have the variances 2σ²/n of the axis and σ²/n of
	// the angle.
	if n*max(variance[0][0]/2, variance[1][1]/2, variance[2][2]) > poorSpread*poorSpread {
		r.Warnings = append(r.Warnings, PoorSpread)
	}
	if math.Abs(c.axis.Y) < unclearSide*sigma*math.Sqrt(variance[0][0]) {
		r.Warnings = append(r.Warnings, SideUnclear)
	}
	place := ball.SurfacePointOf(c.axis, radius)
	r.PAP = ball.PAP(place)
	// A step along the tangent over moves Over by 1/cos V as much.
	units := [3]float64{radius / math.Cos(place.Up/radius), radius, 1}
	for i := range variance {
		for j := range variance {
			r.Covariance[i][j] = sigma * sigma * units[i] * units[j] * variance[i][j]
		}
	}
	return r, nil
}

// checkRing returns an error for impossible readings or too few points.
func checkRing(points []ball.SurfacePoint, radius, readingError float64) error {
	for _, c := range []struct {
		what  string
		value float64
	}{{"radius", radius}, {"reading error", readingError}} {
		if !(c.value > 0) || math.IsInf(c.value, 0) {
			return &Error{ImpossibleReading, fmt.Sprintf("the %s must be positive and finite, not %g m", c.what, c.value)}
		}
	}
	quarter := math.Pi / 2 * radius
	var distinct []r3.Vec
next:
	for i, p := range points {
		if !(math.Abs(p.Over) <= 2*quarter && math.Abs(p.Up) <= quarter) {
			return &Error{ImpossibleReading, fmt.Sprintf("point %d at over %g m, up %g m lies beyond ±%.4g m over or ±%.4g m up", i+1, p.Over, p.Up, 2*quarter, quarter)}
		}
		v := p.Direction(radius)
		for _, d := range distinct {
			if radius*vector.Norm(r3.Sub(v, d)) < readingError {
				continue next
			}
		}
		distinct = append(distinct, v)
	}
	if len(distinct) < 3 {
		return &Error{TooFewPoints, fmt.Sprintf("a ring needs three points farther apart than the reading error, not %d", len(distinct))}
	}
	return nil
}
