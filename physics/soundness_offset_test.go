package physics

import (
	"math"
	"math/rand/v2"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// Balls with the mass centre beside the sphere's, which shakes all forces once a turn.

// Without friction the lane only presses a ball up: its energy stays, on long steps too.
func TestOffsetWithoutFriction(t *testing.T) {
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Constant}
	lost := lawBound{what: "energy lost without friction", bound: 1e-4}
	for _, revRate := range []float64{0, 0.5, 1, 2, 4, 30, 60} {
		for _, offset := range []float64{5e-4, 2e-3, 6e-3} {
			s := ball.Default()
			s.Offset = [3]float64{offset, offset / 3, -offset / 2}
			b := lawPrepare(t, s, ball.Right)
			r := Release{Speed: 7, RevRate: revRate, AxisRotation: 0.8, AxisTilt: 0.4, Phase: 1, Laydown: 20}
			for _, tolerance := range []float64{0, 1e-4} {
				start := lawStart(t, l, b, r)
				before := lawMeasure(&start.m, start.state[:], &start.m.start)
				thrower := NewThrower()
				status, err := thrower.run(l, b, r, Settings{Tolerance: tolerance})
				if err != nil {
					t.Fatal(err)
				}
				if status != Pins && status != Lifted {
					t.Errorf("ends %s", status)
				}
				lost.hold(t, math.Abs(lawEnd(thrower).energy-before.energy)/before.energy)
			}
		}
	}
	lost.report(t)
}

// Pivot friction works against the turning about the vertical, also where an offset turns
// that round within a step: a step for which it does not hold is an error.
func TestPivotFrictionNeverPushes(t *testing.T) {
	thrower := NewThrower()
	ends := map[Status]int{}
	for k := range 400 {
		rnd := rand.New(rand.NewPCG(21, uint64(k)))
		l := lane.Default()
		l.Friction = lane.Friction{Law: lane.Constant, Mu: 0.3 + rnd.Float64()}
		s := ball.Default()
		s.Differential = 0.03 * units.Inch
		s.Layout = &ball.Layout{DrillingAngle: rnd.Float64(), PinToPAP: 0.1, VALAngle: rnd.Float64()}
		for i := range s.Offset {
			s.Offset[i] = (rnd.Float64() - 0.5) * 0.008
		}
		r := Release{
			Speed: 1 + 4*rnd.Float64(), RevRate: 60 * rnd.Float64(), Laydown: 20, Phase: 6 * rnd.Float64(),
			AxisRotation: 3 * (rnd.Float64() - 0.5), AxisTilt: 2 * (rnd.Float64() - 0.5),
		}
		shot, err := thrower.Throw(l, lawPrepare(t, s, ball.Right), r, Settings{EvenNodes: true, Tolerance: []float64{0, 1e-4}[k%2], EndOnly: true})
		if err != nil {
			t.Errorf("shot %d: %v", k, err)
		}
		ends[shot.Status]++
	}
	t.Log(ends)
}

// Strong friction may jam a ball with an offset, so that no normal force is enough: it is thrown up, and
// the shot ends.
func TestFrictionJamsAnOffset(t *testing.T) {
	thrower := NewThrower()
	ends, most := map[Status]int{}, 0.0
	for k := range 300 {
		rnd := rand.New(rand.NewPCG(22, uint64(k)))
		l := lane.Default()
		l.Friction = lane.Friction{Law: lane.Constant, Mu: lane.MostFriction}
		s := ball.Default()
		s.RG = (ball.LeastRG + 0.2*rnd.Float64()) * s.Diameter / 2
		for i := range s.Offset {
			s.Offset[i] = (rnd.Float64() - 0.5) * 0.01
		}
		r := Release{Speed: 4 + 4*rnd.Float64(), RevRate: 40 * rnd.Float64(), Laydown: 20, Phase: 6 * rnd.Float64(), AxisRotation: 3 * rnd.Float64()}
		shot, err := thrower.Throw(l, lawPrepare(t, s, ball.Right), r, Settings{EvenNodes: true, Tolerance: []float64{0, 1e-4}[k%2]})
		if err != nil {
			t.Errorf("shot %d: %v", k, err)
			continue
		}
		if ends[shot.Status]++; shot.Status == Lifted {
			most = max(most, shot.Path[len(shot.Path)-1].Normal/(s.Weight*StandardGravity))
		}
	}
	t.Logf("%v; normal force up to %.3g times the weight", ends, most)
	if ends[Lifted] == 0 {
		t.Error("no shot was jammed")
	}
}
