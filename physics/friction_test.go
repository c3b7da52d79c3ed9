package physics_test

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// A cover has the lane's friction times the ratio of its numbers to the reactive cover's, dry and on the full
// film, and between them the same share of the load on asperities.
func TestCoverScalesFriction(t *testing.T) {
	dry := lane.Default()
	dry.Friction.Film, dry.Friction.Dry = 0.03, 0.24
	film := func(thickness float64) lane.Lane {
		l := dry
		oil, err := lane.NewOilMap([]float64{0, l.Length}, 0, 1, 1, []float64{thickness * units.OilUnit, thickness * units.OilUnit})
		if err != nil {
			t.Fatal(err)
		}
		l.Oil = oil
		return l
	}
	atRelease := func(l lane.Lane, c ball.Cover) float64 {
		b, err := ball.Default().Prepare(ball.DefaultPAP(), ball.Right)
		if err != nil {
			t.Fatal(err)
		}
		b.Cover = c
		s, err := physics.Throw(l, b, physics.Release{Speed: 8, RevRate: 30, AxisRotation: 0.8, Laydown: 20}, physics.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		return s.Path[0].Friction
	}
	thin, full := film(6), film(80)
	share := (atRelease(thin, ball.Reactive) - 0.03) / (0.24 - 0.03)
	if !(share > 0.05 && share < 0.95) {
		t.Fatalf("%g of the load on rough peaks: no film between dry and full", share)
	}
	covers := append(ball.Covers(), ball.Cover{}, ball.Cover{Dry: 0.3, Film: 0, SoakIn: 1})
	for _, c := range covers {
		wantDry, wantFilm := 0.24*c.Dry/0.20, 0.03*c.Film/0.022
		if c == (ball.Cover{}) {
			wantDry, wantFilm = 0.24, 0.03
		}
		for _, x := range []struct {
			what string
			l    lane.Lane
			want float64
		}{
			{"dry", dry, wantDry},
			{"full film", full, wantFilm},
			{"thin film", thin, wantFilm + (wantDry-wantFilm)*share},
		} {
			if got := atRelease(x.l, c); math.Abs(got-x.want) > 1e-12 {
				t.Errorf("%+v, %s: friction %.15g, want %.15g", c, x.what, got, x.want)
			}
		}
	}
	for _, f := range []lane.Friction{
		{Law: lane.Constant, Mu: 0.1},
		{Law: lane.Zones, Zones: []lane.Zone{{To: math.Inf(1), Mu: 0.1}}},
	} {
		l := lane.Default()
		l.Friction = f
		if got := atRelease(l, ball.Plastic); got != 0.1 {
			t.Errorf("%s law: a plastic ball meets %g, want 0.1", f.Law, got)
		}
	}
}
