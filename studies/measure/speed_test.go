package measure_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/internal/usual"
	"lanesim/studies/measure"
	"lanesim/units"
)

// measureLane returns a lane with a flat oil of 40 ft, invented.
func measureLane(t testing.TB) lane.Lane {
	t.Helper()
	return usual.Crowned(t, 40, 24, 3)
}

// measureBall returns a ball with a differential and a pin-to-PAP distance in
// inches.
func measureBall(t testing.TB, hand ball.Hand, differential, pin float64) ball.Ball {
	t.Helper()
	s := ball.Default()
	s.Differential = differential * units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pin * units.Inch, VALAngle: 40 * units.Degree}
	return usual.Prepared(t, s, hand)
}

func measureRelease(hand ball.Hand) physics.Release {
	return physics.Release{
		Hand: hand, Speed: 8.1, RevRate: 34, AxisRotation: 48 * units.Degree, AxisTilt: 14 * units.Degree,
		Laydown: 22, Angle: 2 * units.Degree,
	}
}

// laneTime is the time that a shot takes between two distances, read off its
// path: a way of its own.
func laneTime(t interface{ Fatal(...any) }, l lane.Lane, b ball.Ball, r physics.Release, from, to float64) float64 {
	l.Edgeless = true
	shot, err := physics.Throw(l, b, r, physics.Settings{PathSpacing: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	at := func(x float64) float64 {
		for i, after := range shot.Path {
			if after.Distance >= x {
				if i == 0 {
					return after.Time
				}
				before := shot.Path[i-1]
				// With the speed linear in the time, a distance u of a step d
				// takes 2u/(v₁ + √(v₁² + (v₂² − v₁²) u/d)).
				v, w, u := before.Velocity[0], after.Velocity[0], x-before.Distance
				return before.Time + 2*u/(v+math.Sqrt(v*v+(w*w-v*v)*u/(after.Distance-before.Distance)))
			}
		}
		t.Fatal("the shot never came to", x)
		return 0
	}
	return at(to) - at(from)
}

func TestReleaseSpeedComesBackFromItsLaneTime(t *testing.T) {
	l := measureLane(t)
	worst := 0.0
	rapid.Check(t, func(rt *rapid.T) {
		hand := ball.Hand(rapid.IntRange(0, 1).Draw(rt, "hand"))
		b := measureBall(t, hand, rapid.Float64Range(0, 0.05).Draw(rt, "differential"), 3.5)
		b.Memory.Off = true
		r := measureRelease(hand)
		r.Speed = rapid.Float64Range(5, 11).Draw(rt, "speed")
		r.RevRate = rapid.Float64Range(0, 60).Draw(rt, "rev rate")
		r.AxisRotation = rapid.Float64Range(-0.4, 1.5).Draw(rt, "rotation")
		r.AxisTilt = rapid.Float64Range(-0.2, 0.8).Draw(rt, "tilt")
		r.LaydownDistance = rapid.Float64Range(0, 1).Draw(rt, "laydown distance")
		from := rapid.SampledFrom([]float64{r.LaydownDistance, 2, 8}).Draw(rt, "from")
		to := rapid.SampledFrom([]float64{10, 15, lane.HeadPin}).Draw(rt, "to")
		time := laneTime(rt, l, b, r, from, to)
		known := r
		known.Speed = 0
		got, slope, err := measure.ReleaseSpeed(studies.Setup{Lane: l, Ball: b, Release: known}, from, to, time, physics.Settings{})
		if err != nil {
			rt.Fatal(err)
		}
		off := math.Abs(got/r.Speed - 1)
		worst = max(worst, off)
		// Two shots, each within the tolerance of 10⁻⁶, and the interpolation
		// of the path.
		if off > 1e-4 {
			rt.Errorf("released at %g m/s, found %g from %g s", r.Speed, got, time)
		}
		if !(slope < 0) {
			rt.Errorf("the speed grows with the time: %g m/s²", slope)
		}
	})
	t.Logf("off by at most %.2g of the speed", worst)
}

// Where nothing slows the ball the release speed is the average speed, and its
// derivative by the time −v/t.
func TestReleaseSpeedWithoutFriction(t *testing.T) {
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Constant}
	m := measure.LaneTime{From: 2, To: 17, Time: measure.Reading{Value: 1.9, Error: 0.02}, DistanceError: 0.1}
	got, err := m.ReleaseSpeed(studies.Setup{Lane: l, Ball: measureBall(t, ball.Right, 0, 3), Release: measureRelease(ball.Right)}, physics.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	cos := math.Cos(2 * units.Degree)
	v := 15 / 1.9 / cos
	sigma := v * math.Hypot(0.02/1.9, 0.1/15)
	// The derivative is taken over 1 % either way.
	if math.Abs(got.Value-v) > 1e-6 || math.Abs(got.Uncertainty/sigma-1) > 2e-4 {
		t.Errorf("%g ± %g m/s, want %g ± %g", got.Value, got.Uncertainty, v, sigma)
	}
	average, err := m.AverageSpeed()
	if err != nil || math.Abs(average.Value-15/1.9) > 1e-15 || math.Abs(average.Uncertainty-sigma*cos) > 1e-15 {
		t.Errorf("average %+v, %v", average, err)
	}
}

// A ball that skids without spin on one friction coefficient loses μ g t: from
// x = v t − μ g t²/2 follow v = x/t + μ g t/2 and dv/dt = −x/t² + μ g/2.
func TestReleaseSpeedOfASkidInClosedForm(t *testing.T) {
	const mu, x, time = 0.05, 10.0, 1.4
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Constant, Mu: mu}
	r := physics.Release{Laydown: 20}
	s := physics.Settings{}
	got, slope, err := measure.ReleaseSpeed(studies.Setup{Lane: l, Ball: measureBall(t, ball.Left, 0, 3), Release: r}, 0, x, time, s)
	if err != nil {
		t.Fatal(err)
	}
	v, dv := x/time+mu*physics.StandardGravity*time/2, -x/(time*time)+mu*physics.StandardGravity/2
	if math.Abs(got-v) > 1e-5 || math.Abs(slope-dv) > 1e-3 {
		t.Errorf("%g m/s, %g m/s²; want %g, %g", got, slope, v, dv)
	}
}

// The slope is the change of the speed from one time to another.
func TestSlopeIsTheSpeedsDerivative(t *testing.T) {
	l, b, r := measureLane(t), measureBall(t, ball.Right, 0.04, 4), measureRelease(ball.Right)
	at := func(time float64) (float64, float64) {
		v, slope, err := measure.ReleaseSpeed(studies.Setup{Lane: l, Ball: b, Release: r}, 0, lane.HeadPin, time, physics.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		return v, slope
	}
	before, _ := at(2.33)
	after, _ := at(2.37)
	v, slope := at(2.35)
	t.Logf("60 ft in 2.35 ± 0.02 s: release at %.4f ± %.4f m/s (average %.4f)", v, -slope*0.02, lane.HeadPin/2.35)
	if want := (after - before) / 0.04; math.Abs(slope/want-1) > 0.01 {
		t.Errorf("slope %g m/s², differences give %g", slope, want)
	}
}

func TestReleaseSpeedRefuses(t *testing.T) {
	l, b, r := measureLane(t), measureBall(t, ball.Right, 0.04, 4), measureRelease(ball.Right)
	r.LaydownDistance = 0.5
	for _, c := range [][3]float64{
		{0, 18, 2.3}, {1, 19, 2.3}, {5, 5, 1}, {6, 5, 1}, {1, 18, 0}, {1, 18, math.NaN()}, {1, 18, math.Inf(1)}, {math.NaN(), 18, 2},
	} {
		_, _, err := measure.ReleaseSpeed(studies.Setup{Lane: l, Ball: b, Release: r}, c[0], c[1], c[2], physics.Settings{})
		var e *measure.ReadingError
		if !errors.As(err, &e) || e.Field != "lane_time" {
			t.Errorf("%v: %v", c, err)
		}
	}
	// A ball of 600 rpm does not need 20 s on dry boards however slowly it is
	// put down: it drives itself.
	l.Oil = nil
	r.RevRate, r.AxisRotation = 63, 0
	_, _, err := measure.ReleaseSpeed(studies.Setup{Lane: l, Ball: b, Release: r}, 1, 18, 20, physics.Settings{})
	var none *measure.NoSpeedError
	if !errors.As(err, &none) || !(none.Slow > none.Average) {
		t.Errorf("20 s: %v", err)
	}
}
