package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// frictionless is an endless lane without friction.
func frictionless() lane.Lane {
	l := endless(lane.Default())
	l.Friction = lane.Friction{Law: lane.Constant, Mu: 0}
	return l
}

// lawCore draws a centred ball with a core of any size, symmetric or not, with
// its pin at a given angle in rad from the axis.
func lawCore(t *rapid.T, pin float64, symmetric bool) ball.Ball {
	s := lawSpecification(t)
	s.Offset = [3]float64{}
	s.Differential = lawDraw(t, "core", 0.005, 0.2) * units.Inch
	s.IntermediateDifferential = 0
	if !symmetric {
		s.IntermediateDifferential = s.Differential * lawDraw(t, "core asymmetry", 0, 1)
	}
	s.Layout.PinToPAP = pin * s.Diameter / 2
	return lawPrepare(t, s, ball.Right)
}

// lawAxis returns the spin's direction in body axes.
func lawAxis(p *piece, y []float64) [3]float64 {
	q := rotated(vector{y[itx], y[ity], y[itz]}, &p.start)
	v := q.transposed(vector{y[iwx], y[iwy], y[iwz]})
	v = scale(1/norm(v), v)
	return [3]float64{v.x, v.y, v.z}
}

// Torque-free, the spin axis of a symmetric core circles the pin: the RG about it is constant, it precesses
// at Ω_p = (1 − k_low²/k_high²) Ω cos θ, and the track moves by π R (1 − k_low²/k_high²) sin 2θ per
// revolution.
func TestLawSymmetricCorePrecesses(t *testing.T) {
	const seconds = 3.0
	// What the tolerance, meant for spins of 10 rad/s, leaves in them after some
	// hundred steps that all err alike.
	const share = 1000 * lawFineTolerance
	rg := lawBound{what: "change of the RG about the migrating axis, relative", bound: share * 0.1}
	rate := lawBound{what: "precession off Ω_p in rad/s", bound: share * 10}
	spacing := lawBound{what: "track spacing per revolution off in m", bound: share * 0.1}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		pin := lawDraw(t, "pin angle", 1, 89) * units.Degree
		b, r := lawCore(t, pin, true), lawRelease(t)
		r.RevRate = lawDraw(t, "turning", 60, 600) * units.RPM
		shot := lawThrow(t, thrower, frictionless(), b, r, Settings{Tolerance: lawFineTolerance, MaxTime: seconds, PathSpacing: -1})
		low, high := b.RG([3]float64{1, 0, 0}), b.RG([3]float64{0, 0, 1})
		effect := 1 - low*low/(high*high)
		first := b.RG(b.PAP)
		azimuth := func(n [3]float64) float64 { return math.Atan2(n[2], n[1]) }
		before, turned := azimuth(b.PAP), 0.0
		lawScan(thrower, 1, func(_ int, p *piece, _ float64, y, _ []float64) {
			n := lawAxis(p, y)
			rg.hold(t, math.Abs(b.RG(n)-first)/first)
			turned += math.Remainder(azimuth(n)-before, 2*math.Pi)
			before = azimuth(n)
		})
		rate.hold(t, math.Abs(math.Abs(turned)/thrower.finalTime-effect*r.RevRate*math.Cos(pin)))
		each := shot.Summary.Flare / shot.Summary.Revolutions
		spacing.hold(t, math.Abs(each-math.Pi*b.Radius*effect*math.Sin(2*pin)))
	})
	for _, b := range []*lawBound{&rg, &rate, &spacing} {
		b.report(t)
	}
}

// The spacing is zero with the pin on the axis or 90° from it and largest at
// 45°.
func TestLawSpacingIsLargestAtHalfWay(t *testing.T) {
	thrower := NewThrower()
	ends := lawBound{what: "spacing with the pin at 0 and 90° in m", bound: 1e-12}
	rapid.Check(t, func(t *rapid.T) {
		r := lawRelease(t)
		r.RevRate = lawDraw(t, "turning", 60, 600) * units.RPM
		s := lawSpecification(t)
		s.Offset, s.IntermediateDifferential = [3]float64{}, 0
		s.Differential = lawDraw(t, "core", 0.005, 0.060) * units.Inch
		spacing := func(pin float64) float64 {
			layout := *s.Layout
			layout.PinToPAP = pin * s.Diameter / 2
			s.Layout = &layout
			shot := lawThrow(t, thrower, frictionless(), lawPrepare(t, s, ball.Right), r, Settings{MaxTime: 2, PathSpacing: -1})
			return shot.Summary.Flare / shot.Summary.Revolutions
		}
		ends.hold(t, spacing(0))
		ends.hold(t, spacing(math.Pi/2))
		most := spacing(math.Pi / 4)
		away := lawDraw(t, "away from 45°", 1, 45) * units.Degree
		for _, pin := range []float64{math.Pi/4 - away, math.Pi/4 + away} {
			if other := spacing(pin); !(other < most) {
				t.Errorf("spacing %v m with the pin at %v°, %v m at 45°", other, pin/units.Degree, most)
			}
		}
	})
	ends.report(t)
}

// Torque-free, flare is the length of the axis point's path over the ball, for
// cores without any symmetry too.
func TestLawFlareIsTheAxisPointsPath(t *testing.T) {
	// The path is measured by chords, short by a 24th of the square of their
	// share of its radius of curvature: below 10⁻⁶ for chords of 1/200 of it.
	// The rate of flare is the size of a vector, which bends sharply where it
	// passes near nothing, and it does not control the steps: that is the rest.
	off := lawBound{what: "flare off the axis point's path, of the path and the radius", bound: 1e-5}
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		b, r := lawCore(t, lawDraw(t, "pin angle", 5, 85)*units.Degree, false), lawRelease(t)
		r.RevRate = lawDraw(t, "turning", 60, 600) * units.RPM
		shot := lawThrow(t, thrower, frictionless(), b, r, Settings{Tolerance: lawFineTolerance, MaxTime: 3, PathSpacing: -1})
		length, before := 0.0, b.PAP
		lawScan(thrower, 96, func(_ int, p *piece, _ float64, y, _ []float64) {
			n := lawAxis(p, y)
			length += b.Radius * norm(vector{n[0] - before[0], n[1] - before[1], n[2] - before[2]})
			before = n
		})
		off.hold(t, math.Abs(shot.Summary.Flare-length)/(length+b.Radius))
	})
	off.report(t)
}

// A ball of equal moments does not flare at all, with any friction, offset and pivot friction.
func TestLawEqualMomentsDoNotFlare(t *testing.T) {
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		s := lawSpecification(t)
		s.Differential, s.IntermediateDifferential = 0, 0
		shot := lawThrow(t, thrower, lawFriction(t, 0, 0.3), lawPrepare(t, s, ball.Right), lawRelease(t), Settings{PathSpacing: -1})
		if shot.Summary.Flare != 0 || shot.Summary.FlareOil != 0 {
			t.Errorf("flare %v m", shot.Summary.Flare)
		}
	})
}
