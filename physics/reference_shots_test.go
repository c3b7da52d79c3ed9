package physics_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/units"
)

// referenceShot is a delivery of a ball that carries oil.
type referenceShot struct {
	lane    lane.Lane
	ball    ball.Ball
	release physics.Release
}

func (s referenceShot) String() string {
	m := s.ball.Memory
	return fmt.Sprintf("%v, %.0f rpm, rotation %.0f°, tilt %.0f°, pick-up %.3f, give-back %.3f, width %.1f mm, soak-in %.3g s, oil %.1f ft",
		s.release.Hand, s.release.RevRate/referenceRPM, s.release.AxisRotation/units.Degree, s.release.AxisTilt/units.Degree,
		m.PickUp, m.GiveBack, 1e3*m.ContactWidth, m.SoakIn, s.lane.Oil.Length()/units.Foot)
}

// referenceRandomShot draws a shot from the range of what people throw, and the
// exchange of oil from a wide one: balls within the rule book with any layout, drilled or not,
// with any cover, releases from straight to high-rev, oil from short and crowned to
// long and flat. With a clean ball the shot arrives.
func referenceRandomShot(t testing.TB, rnd *rand.Rand) referenceShot {
	t.Helper()
	coarse := defaultReference().refined(0.25)
	for {
		s := referenceAnyShot(t, rnd)
		clean := s.ball
		clean.Memory.Off = true
		if throwReference(s.lane, clean, s.release, coarse).Status == physics.Pins {
			return s
		}
	}
}

func referenceAnyShot(t testing.TB, rnd *rand.Rand) referenceShot {
	t.Helper()
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	logarithmic := func(a, b float64) float64 { return a * math.Pow(b/a, rnd.Float64()) }
	check := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	const millilitre, mph = units.Millilitre, units.MPH
	oil, err := patterns.Crown{Length: between(33, 47) * units.Foot, Volume: between(18, 30) * millilitre,
		Ratio: logarithmic(1, 10), FrontToBack: between(2, 10)}.Build()
	check(err)
	l := lane.Default()
	l.Oil, l.Tilt = oil, between(-1e-3, 1e-3)

	s := ball.Default()
	s.Weight = between(12, 16) * units.Pound
	s.Diameter = between(8.50, 8.595) * units.Inch
	s.RG = between(2.46, 2.70) * units.Inch
	s.Differential = between(0, 0.060) * units.Inch
	s.IntermediateDifferential = s.Differential * between(0, 0.5)
	s.Roughness = between(5, 50) * units.Microinch
	s.Cover = ball.Covers()[rnd.IntN(3)]
	s.Layout = &ball.Layout{DrillingAngle: between(10, 90) * units.Degree, PinToPAP: between(0.5, 6.5) * units.Inch, VALAngle: between(10, 80) * units.Degree}
	if rnd.IntN(3) == 0 {
		for i := range s.Offset {
			s.Offset[i] = between(-1e-3, 1e-3)
		}
	}
	s.Memory = ball.FilmMemory{PickUp: logarithmic(0.02, 0.4), GiveBack: logarithmic(0.02, 0.4),
		ContactWidth: between(3e-3, 12e-3), SoakIn: math.Inf(1)}
	if rnd.IntN(2) == 0 {
		s.Memory.SoakIn = logarithmic(5, 60)
	}
	hand := ball.Hand(rnd.IntN(2))
	grip, err := ball.NewGrip([]ball.GripKind{ball.Undrilled, ball.Fingertip, ball.Conventional, ball.Thumbless}[rnd.IntN(4)])
	check(err)
	b, _, err := s.Drill(ball.DefaultPAP(), hand, grip)
	check(err)
	return referenceShot{l, b, physics.Release{Hand: hand, Speed: between(14, 21) * mph, RevRate: between(200, 550) * referenceRPM,
		AxisRotation: between(0, 90) * units.Degree, AxisTilt: between(-5, 30) * units.Degree, Phase: between(-math.Pi, math.Pi),
		Laydown: between(16, 34), Angle: between(-2, 3) * units.Degree}}
}

// referenceDraws are the shots of the tests of the film on the ball.
func referenceDraws() *rand.Rand { return rand.New(rand.NewPCG(5, 6)) }

// referenceNumber is how many shots are drawn: as many as LANESIM_GRID_SHOTS says,
// else the given number.
func referenceNumber(shots int) int {
	if n, err := strconv.Atoi(os.Getenv("LANESIM_GRID_SHOTS")); err == nil {
		return n
	}
	return shots
}

// referenceConverged is fine enough for the place at the pins of a ball that carries
// oil; TestReferenceGridConverges says how fine that is. In a step a ball of 8 m/s rolls
// by no more than a third of the strip's width, over which the film may change.
func referenceConverged(b ball.Ball) referenceSettings {
	s := defaultReference()
	s.Cells = 1_000_000
	s.Step = min(s.Step, b.Memory.ContactWidth/3/8)
	return s
}

// referenceOff is by how many boards two shots end apart, or by how many feet of
// the lane where both end in the gutter.
func referenceOff(a, b referenceResult) float64 {
	if a.Status == physics.Gutter && b.Status == physics.Gutter {
		return math.Abs(a.End.Distance-b.End.Distance) / units.Foot
	}
	return math.Abs(a.End.Lateral-b.End.Lateral) / lane.BoardWidth
}

// TestReferenceGridConverges: half the step and twice the cells move the ball at the pins
// by next to nothing.
func TestReferenceGridConverges(t *testing.T) {
	const boards, feet = 0.006, 0.05
	shots, rnd := referenceNumber(3), referenceDraws()
	worst := [3]float64{}
	for n := range shots {
		shot := referenceRandomShot(t, rnd)
		s := referenceConverged(shot.ball)
		a := throwReference(shot.lane, shot.ball, shot.release, s)
		s.Step /= 2
		b := throwReference(shot.lane, shot.ball, shot.release, s)
		s.Step, s.Cells = 2*s.Step, 2*s.Cells
		c := throwReference(shot.lane, shot.ball, shot.release, s)
		if a.Status != b.Status || a.Status != c.Status {
			t.Errorf("shot %d ends by %q, %q and %q (%v)", n, a.Status, b.Status, c.Status, shot)
			continue
		}
		read := math.Abs(c.FrictionRead-a.FrictionRead) / units.Foot
		t.Logf("shot %d: half the step %.5f, twice the cells %.5f boards, friction read %.3f ft (%v)", n, referenceOff(a, b), referenceOff(a, c), read, shot)
		worst[0], worst[1] = max(worst[0], referenceOff(a, b)), max(worst[1], referenceOff(a, c))
		if read > worst[2] {
			worst[2] = read
		}
	}
	t.Logf("at most: half the step %.5f, twice the cells %.5f boards, friction read %.3f ft", worst[0], worst[1], worst[2])
	if worst[0] > boards || worst[1] > boards || worst[2] > feet {
		t.Errorf("moves by %g boards, %g ft of the friction read", max(worst[0], worst[1]), worst[2])
	}
}
