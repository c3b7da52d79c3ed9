package physics

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
)

func uniform(R, m, kappa float64) ball.Ball {
	i := kappa * m * R * R
	return ball.Ball{Radius: R, Mass: m, Moments: [3]float64{i, i, i}, PAP: [3]float64{1, 0, 0}, Fingers: [3]float64{0, 1, 0}, Memory: ball.FilmMemory{Off: true}}
}

func TestQuickTwoZone(t *testing.T) {
	l := lane.Default()
	l.Edgeless = true
	l.Friction = lane.Friction{Law: lane.Zones, Zones: []lane.Zone{{To: 12, Mu: 0.04}, {To: math.Inf(1), Mu: 0.20}}}
	b := uniform(0.108, 7, 0.4)
	for _, tol := range []float64{1e-5, 1e-6, 1e-9} {
		s, err := Throw(l, b, Release{Speed: 8, RevRate: 300 * 2 * math.Pi / 60, AxisRotation: math.Pi / 4, Laydown: 20}, Settings{Tolerance: tol})
		if err != nil {
			t.Fatal(err)
		}
		p := s.Events.Pins
		t.Logf("%+v", s.Stats)
		t.Logf("pins t=%.6f y=%.6f v=%.6f a=%.4f", p.Time, p.Lateral, p.Speed, p.Heading*180/math.Pi)
		r := s.Events.RollStart
		t.Logf("roll t=%.6f y=%.6f x=%.6f", r.Time, r.Lateral, r.Distance)
		t.Logf("want 2.490144 s, 0.699571 m, 6.436365 m/s, 6.1136; roll 2.131163 0.453499, 15.990606")
	}
	s, _ := Throw(l, b, Release{Speed: 8, RevRate: 0, AxisRotation: math.Pi / 4, Laydown: 20}, Settings{})
	t.Logf("%+v %+v", s.Events.Pins, s.Events.RollStart)
}

func TestQuickRigid(t *testing.T) {
	l := lane.Default()
	l.Length = math.Inf(1)
	l.Friction = lane.Friction{Law: lane.Constant, Mu: 0.04}
	k := [3]float64{2.55 * ball.Inch, 2.55 * ball.Inch, 2.50 * ball.Inch}
	b := uniform(0.108, 7, 0.4)
	for i := range k {
		b.Moments[i] = 7 * k[i] * k[i]
	}
	// body axes along (right, down, up) at t=0: x_b = -y, y_b = x, z_b = z.
	th := NewThrower()
	r := Release{Speed: 8, RevRate: 300 * 2 * math.Pi / 60, AxisRotation: math.Pi / 4, AxisTilt: 15 * math.Pi / 180, Laydown: 20}
	sA, cA := math.Sincos(r.AxisRotation)
	sB, cB := math.Sincos(r.AxisTilt)
	ax := vector{-cB * sA, cB * cA, sB}
	down := add(vector{0, 0, -1}, scale(ax[2], ax))
	down = scale(1/norm(down), down)
	toBody := func(v vector) [3]float64 { return [3]float64{-v[1], v[0], v[2]} }
	b.PAP, b.Fingers = toBody(ax), toBody(down)
	for _, tol := range []float64{1e-5, 1e-6, 1e-9, 1e-11} {
		s, err := th.Throw(l, b, r, Settings{Tolerance: tol, MaxTime: 1})
		if err != nil {
			t.Fatal(err)
		}
		e := s.Path[len(s.Path)-1]
		t.Logf("%+v %v x=%.10f y=%.10f v=%.10f w=%.8f flare %v", s.Stats, s.Status, e.Distance, e.Lateral, e.Velocity, e.Spin, s.Summary.Flare)
	}
	t.Log("want y 0.0742850842 x 7.8184796169 v 0.1485459931 7.6369497645 w (right, down,up) −31.07242915, −17.46737676, 7.59728158")
}
