package physics

import (
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// A ball without film memory needs no contact width: it can be thrown, also where it breaks away from
// rolling, and so can a ball with zero pick-up on an oiled lane.
func TestBallsWithoutFilmAreThrown(t *testing.T) {
	oiled, _, release := benchmarkShot(true)
	dry := lane.Default()
	dry.Friction = lane.Friction{Law: lane.Constant, Mu: 0.02}
	dry.Oil = nil
	for name, l := range map[string]lane.Lane{"dry": dry, "oiled": oiled} {
		for _, memory := range []ball.FilmMemory{{Off: true}, {}} {
			s := ball.Default()
			s.RG, s.Differential, s.IntermediateDifferential = 2.46*units.Inch, 0.06*units.Inch, 0.03*units.Inch
			s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 3 * units.Inch, VALAngle: 30 * units.Degree}
			b, err := s.Prepare(ball.DefaultPAP(), ball.Right)
			if err != nil {
				t.Fatal(err)
			}
			b.Memory = memory
			rolling := release
			rolling.AxisRotation, rolling.AxisTilt, rolling.RevRate = 0, 0, rolling.Speed/b.Radius
			for _, r := range []Release{release, rolling} {
				for _, tolerance := range []float64{1e-4, DefaultTolerance} {
					shot, err := Throw(l, b, r, Settings{Tolerance: tolerance, EvenNodes: true})
					if err != nil || shot.Status != Pins && shot.Status != Gutter {
						t.Errorf("%s, %+v: %s, %v", name, memory, shot.Status, err)
					}
				}
			}
		}
	}
}
