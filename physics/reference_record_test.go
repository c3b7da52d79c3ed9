package physics_test

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/units"
)

// referencePair is two layouts of one ball that differ in how far the pin lies
// from the PAP, thrown alike, and by how much the second reads the friction later, in
// ft, and enters farther outside, in boards: means over three phases.
type referencePair struct {
	differential float64 // in
	pins         [2]float64
	giveBack     float64
	drilled      bool
	later        float64 // ft
	outside      float64 // boards
}

// TestReferenceLowFlare keeps the answers that the model of the film gives to its main
// question on record, as another grid of cells gave them.
func TestReferenceLowFlare(t *testing.T) {
	referenceLowFlare(t, func(s referenceShot) (read, lateral float64) {
		res := throwReference(s.lane, s.ball, s.release, defaultReference())
		if res.Status != physics.Pins {
			t.Fatal(res.Status)
		}
		return res.FrictionRead, res.End.Lateral
	})
}

// referenceLowFlare throws the pairs; throw returns in m where the friction is read
// and where the ball is at the pins.
func referenceLowFlare(t *testing.T, throw func(referenceShot) (read, lateral float64)) {
	t.Helper()
	const feet, boards = 0.3, 0.2
	const millilitre, mph = units.Millilitre, units.MPH
	oil, err := patterns.Crown{Length: 40 * units.Foot, Volume: 24.5 * millilitre, Ratio: 10}.Build()
	if err != nil {
		t.Fatal(err)
	}
	l := lane.Default()
	l.Oil = oil
	for _, c := range []referencePair{
		{0.030, [2]float64{3.4, 6.1}, 0.05, true, 1.75, 2.25},
		{0.030, [2]float64{3.4, 6.1}, 0.40, true, 1.1, 0.9},
		{0.050, [2]float64{3.4, 6.25}, 0.05, true, 0.9, 0.7},
		{0.050, [2]float64{3.4, 6.25}, 0.40, true, 0.65, 0.0},
		{0.030, [2]float64{3.4, 6.1}, 0.05, false, 2.1, 3.1},
	} {
		var read, board [2]float64
		for i, pin := range c.pins {
			s := ball.Default()
			s.Weight, s.Diameter, s.Roughness = 15*units.Pound, 8.58*units.Inch, 14*units.Microinch
			s.RG, s.Differential = 2.50*units.Inch, c.differential*units.Inch
			s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pin * units.Inch, VALAngle: 40 * units.Degree}
			s.Memory = ball.FilmMemory{PickUp: 0.05, GiveBack: c.giveBack, ContactWidth: 6.5e-3, SoakIn: math.Inf(1)}
			b, err := s.Prepare(ball.DefaultPAP(), ball.Right)
			if c.drilled {
				b, _, err = s.Drill(ball.DefaultPAP(), ball.Right, ball.DefaultGrip())
			}
			if err != nil {
				t.Fatal(err)
			}
			for phase := range 3 {
				r := physics.Release{Speed: 18 * mph, RevRate: 325 * referenceRPM, AxisRotation: 60 * units.Degree, AxisTilt: 13 * units.Degree,
					Laydown: 28, Angle: 2.77 * units.Degree, Phase: float64(phase) * 120 * units.Degree}
				at, lateral := throw(referenceShot{l, b, r})
				read[i] += at / units.Foot / 3
				board[i] += lane.Board(lateral) / 3
			}
		}
		later, outside := read[1]-read[0], board[0]-board[1]
		t.Logf("differential %.3f in, pins %v in, give-back %.2f, drilled %v: read at %.2f and %.2f ft, board %.2f and %.2f: %.2f ft later, %.2f boards farther outside",
			c.differential, c.pins, c.giveBack, c.drilled, read[0], read[1], board[0], board[1], later, outside)
		if math.Abs(later-c.later) > feet || math.Abs(outside-c.outside) > boards {
			t.Errorf("reads %.2f ft later and enters %.2f boards farther outside, want %.2f ± %g and %.2f ± %g", later, outside, c.later, feet, c.outside, boards)
		}
	}
}
