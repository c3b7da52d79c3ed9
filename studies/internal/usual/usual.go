package usual

import (
	"context"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/units"

	"testing"
)

// PocketBoard is the middle of the pocket.
const PocketBoard = 17.5

// Crowned returns a lane with an invented crown pattern.
func Crowned(t testing.TB, feet, volume, ratio float64) lane.Lane {
	t.Helper()
	oil, err := patterns.Crown{Length: feet * units.Foot, Volume: volume * units.Millilitre, Ratio: ratio}.Build()
	if err != nil {
		t.Fatal(err)
	}
	l := lane.Default()
	l.Oil = oil
	return l
}

// LaidOut returns an asymmetric ball for a hand.
func LaidOut(t testing.TB, hand ball.Hand, memory bool) ball.Ball {
	t.Helper()
	s := ball.Default()
	s.RG, s.Differential, s.IntermediateDifferential = 2.49*units.Inch, 0.048*units.Inch, 0.012*units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 4.5 * units.Inch, VALAngle: 40 * units.Degree}
	s.Memory.Off = !memory
	return Prepared(t, s, hand)
}

// Prepared returns a ball laid out for a usual PAP.
func Prepared(t testing.TB, s ball.Specification, hand ball.Hand) ball.Ball {
	t.Helper()
	b, err := s.Prepare(ball.DefaultPAP(), hand)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func Release() physics.Release {
	return physics.Release{
		Speed: 18 * units.MPH, RevRate: 325 * units.RPM, AxisRotation: 45 * units.Degree, AxisTilt: 13 * units.Degree, Laydown: 24,
	}
}

// Entry throws at an angle in rad and returns the entry board, NaN if the ball does not reach the pins.
func Entry(t testing.TB, thrower *physics.Thrower, l lane.Lane, b ball.Ball, r physics.Release, angle, tolerance float64) float64 {
	t.Helper()
	r.Angle = angle
	shot, err := thrower.Throw(l, b, r, physics.Settings{Tolerance: tolerance, EvenNodes: true, PathSpacing: -1, ExchangeSpacing: -1})
	if err != nil {
		t.Fatal(err)
	}
	return shot.EntryBoard()
}

// Run runs a study and fails the test on an error.
func Run[R any](t testing.TB, study interface {
	Run(ctx context.Context) (R, error)
}) R {
	t.Helper()
	result, err := study.Run(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// AtPocket returns a setup's release with the line to the pocket.
func AtPocket(t testing.TB, of studies.Setup, s physics.Settings) physics.Release {
	t.Helper()
	r, err := aim.AtPocket(of, s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Throw throws a ball and fails the test on an error.
func Throw(t testing.TB, thrower *physics.Thrower, l lane.Lane, b ball.Ball, r physics.Release, s physics.Settings) physics.Shot {
	t.Helper()
	shot, err := thrower.Throw(l, b, r, s)
	if err != nil {
		t.Fatal(err)
	}
	return shot
}

// Deliverer makes deliveries with a repeatability about a release.
func Deliverer(t testing.TB, r studies.Repeatability, about physics.Release) studies.Deliverer {
	t.Helper()
	d, err := r.Deliverer(about)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
