package plots

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/report/layouts"
	"lanesim/units"
)

func drawUnit(t *rapid.T, name string) r3.Vec {
	z := rapid.Float64Range(-1, 1).Draw(t, name+" z")
	sin, cos := math.Sincos(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, name+" azimuth"))
	r := math.Sqrt(1 - z*z)
	return r3.Vec{X: r * cos, Y: r * sin, Z: z}
}

func anyView(t *rapid.T) ballView {
	toward := drawUnit(t, "toward")
	up := r3.Vec{Z: 1}
	if math.Abs(toward.Z) > 0.9 {
		up = r3.Vec{X: 1}
	}
	v := lookingAt(toward, up)
	v.radius = 100
	return v
}

// Equal areas on the ball have equal areas in the picture everywhere.
func TestViewKeepsAreas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyView(t)
		const step = 1e-4 // rad
		p := drawUnit(t, "place")
		if math.Abs(r3.Dot(p, v.toward)) < 2*step {
			return // on the rim
		}
		e := r3.Unit(r3.Cross(p, r3.Vec{X: 0.6, Y: 0.64, Z: 0.48}))
		f := r3.Cross(p, e)
		move := func(a r3.Vec) point {
			q, _ := v.at(r3.Unit(r3.Add(p, r3.Scale(step, a))))
			return q
		}
		a, b, c, d := move(e), move(r3.Scale(-1, e)), move(f), move(r3.Scale(-1, f))
		area := math.Abs((a.x-b.x)*(c.y-d.y)-(a.y-b.y)*(c.x-d.x)) / (4 * step * step)
		want := v.radius * v.radius / 2 // half a sphere, 2π, becomes a disc of area π r²
		// Central differences have an error of about step², here 1e-8, times the curvature,
		// which is largest at the rim.
		if math.Abs(area/want-1) > 1e-4 {
			t.Fatalf("area %g, not %g", area, want)
		}
	})
}

func TestViewShowsRightAndUp(t *testing.T) {
	v := lookingAt(r3.Vec{X: 1}, r3.Vec{Z: 1})
	v.radius = 100
	if q, near := v.at(r3.Vec{Y: 1}); math.Abs(q.x-100) > 1e-9 || math.Abs(q.y) > 1e-9 || !near {
		t.Errorf("right is at %v", q)
	}
	if q, _ := v.at(r3.Vec{Z: 1}); math.Abs(q.y+100) > 1e-9 {
		t.Errorf("the fingers are at %v", q)
	}
	if q, near := v.at(r3.Vec{X: -1}); near || q != (point{}) {
		t.Errorf("the far side is at %v, %v", q, near)
	}
}

func TestCurvesAreCutAtTheRim(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyView(t)
		a := drawUnit(t, "a")
		b := r3.Unit(r3.Cross(a, r3.Vec{X: 0.6, Y: 0.64, Z: 0.48}))
		c := v.curve(greatCircle(a, b))
		const onRim = 1e-3 // rad
		if len(c.near) == 0 || len(c.far) == 0 || math.Abs(r3.Dot(a, v.toward)) < onRim || math.Abs(r3.Dot(b, v.toward)) < onRim {
			return // along the rim, or beginning on it
		}
		for _, run := range append(c.near, c.far...) {
			for _, p := range run {
				// A chord of 2° that the rim cuts is 1.5e-4 inside the sphere before its end is
				// moved back onto it.
				if math.Hypot(p.x, p.y) > v.radius*(1+1e-9) {
					t.Fatalf("%v leaves the rim", p)
				}
			}
		}
		ends := 0
		for _, run := range c.near {
			for _, p := range []point{run[0], run[len(run)-1]} {
				if math.Abs(math.Hypot(p.x, p.y)-v.radius) < 1e-6 {
					ends++
				}
			}
		}
		if ends != 2 {
			t.Fatalf("%d ends of a half circle on the rim", ends)
		}
	})
}

// The edge of a hole lies on the ball, half the hole's diameter from its axis.
func TestMouthIsWhereTheCylinderMeetsTheBall(t *testing.T) {
	for name, in := range inventedBalls() {
		d := in.figure().Drilling
		for _, h := range d.Holes {
			for _, p := range mouth(h, h.Diameter, d.Radius) {
				off := r3.Sub(r3.Scale(d.Radius, p), r3.Scale(d.Radius, h.Mouth))
				across := r3.Norm(r3.Sub(off, r3.Scale(r3.Dot(off, h.Axis), h.Axis)))
				if math.Abs(across-h.Diameter/2) > 1e-12 || r3.Dot(p, h.Mouth) < 0 {
					t.Errorf("%s, %s: %g m from the axis, not %g", name, h.Name, across, h.Diameter/2)
				}
			}
		}
	}
}

func TestInchFractionIsReadAsOnATape(t *testing.T) {
	for _, c := range []struct {
		inches float64
		want   string
	}{
		{0, "0 in"}, {4.5, "4 1/2 in"}, {4.51, "4 1/2 in"}, {4.52, "4 17/32 in"}, {0.03125, "1/32 in"}, {-0.46875, "−15/32 in"},
		{-0.001, "0 in"}, {6.99, "7 in"}, {-2.25, "−2 1/4 in"}, {13.4773, "13 15/32 in"},
	} {
		if got := layouts.InchFraction(c.inches * units.Inch); got != c.want {
			t.Errorf("%g in is read as %q, not %q", c.inches, got, c.want)
		}
	}
}

// If the ring is a great circle and moves little, the tracks cross where the plane of the
// ring turns: perpendicular to the axis and to its motion.
func TestBowTiesLieWhereTheRingsTurnAbout(t *testing.T) {
	in := usualBall()
	in.tilt, in.step, in.turns = 0, 0.4, 6.5
	f := in.figure()
	tracks := f.Flare
	if len(tracks.BowTies) != 2 || len(tracks.Turns) != 7 || tracks.Oiled != 7 {
		t.Fatalf("%d bow-ties, %d turns, %d oily", len(tracks.BowTies), len(tracks.Turns), tracks.Oiled)
	}
	frame := f.Drilling.After.Frame
	way := r3.Cross(frame.Pin, frame.PAP) // around the low axis
	cross := r3.Unit(r3.Cross(frame.PAP, way))
	a, b := tracks.BowTies[0], tracks.BowTies[1]
	// In six turns the axis moves by 2.4°.
	if off := math.Min(arcBetween(a.Place, cross), arcBetween(b.Place, cross)); off > 2*units.Degree {
		t.Errorf("nearest bow-tie lies %g° off", off/units.Degree)
	}
	if apart := arcBetween(a.Place, b.Place); apart < 178*units.Degree {
		t.Errorf("bow-ties lie %g° apart", apart/units.Degree)
	}
	// The largest distance is the axis' motion in a turn, 0.4° × sin d.
	want := in.step * units.Degree * r3.Norm(way) * f.Drilling.Radius
	for i, turn := range tracks.Turns[1:6] {
		if math.Abs(turn.Spacing/want-1) > 0.02 {
			t.Errorf("turn %d is %g mm from the one before, not %g", i+2, turn.Spacing*1e3, want*1e3)
		}
	}
}

// The distances measured on the track agree with those at which the ball's own film touches
// the lane again.
func TestTrackDistancesAgreeWithTheFilms(t *testing.T) {
	for _, hand := range []ball.Hand{ball.Right, ball.Left} {
		in := usualBall()
		in.hand = hand
		s := ball.Default()
		s.Differential = 0.05 * units.Inch
		s.Layout = &ball.Layout{DrillingAngle: in.drilling * units.Degree, PinToPAP: in.pinToPAP * units.Inch, VALAngle: in.val * units.Degree}
		b, d, err := s.Drill(ball.DefaultPAP(), hand, ball.DefaultGrip())
		if err != nil {
			t.Fatal(err)
		}
		l := inventedLane()
		if hand == ball.Left {
			l = l.Mirror()
		}
		release := physics.Release{
			Hand: hand, Speed: 8, RevRate: 35, AxisRotation: 50 * units.Degree, AxisTilt: 13 * units.Degree, Laydown: 24, Angle: 2 * units.Degree,
		}
		shot, err := physics.NewThrower().Throw(l, b, release, physics.Settings{TrackSpacing: layouts.TrackSpacing, ExchangeSpacing: -1})
		if err != nil {
			t.Fatal(err)
		}
		tracks := layouts.ReadFlare(&shot, d)
		if len(tracks.Turns) < 10 || tracks.Oiled < 5 || len(tracks.BowTies) != 2 {
			t.Fatalf("%d turns, %d oily, %d bow-ties", len(tracks.Turns), tracks.Oiled, len(tracks.BowTies))
		}
		widest := make([]float64, len(tracks.Turns))
		for _, p := range shot.Track {
			if i := min(int(p.Turned/(2*math.Pi)), len(widest)-1); p.Spacing > widest[i] {
				widest[i] = p.Spacing
			}
		}
		for i, turn := range tracks.Turns[1:] {
			// Chords of 3° approximate the curve of the engine.
			const most = 0.1e-3 // m
			if math.Abs(turn.Spacing-widest[i+1]) > most {
				t.Errorf("%v: turn %d lies %.3f mm from the one before, by the film %.3f mm", hand, i+2, turn.Spacing*1e3, widest[i+1]*1e3)
			}
		}
		// At release the contact is 90° plus the tilt from the PAP.
		first := tracks.Turns[0].Points[0].Direction
		if off := r3.Dot(first, d.Before.Frame.PAP) + math.Sin(13*units.Degree); math.Abs(off) > 1e-9 {
			t.Errorf("%v: the track begins %g off", hand, off)
		}
		for i, turn := range tracks.Turns[:len(tracks.Turns)-1] {
			end, next := turn.Points[len(turn.Points)-1], tracks.Turns[i+1].Points[0]
			if end != next {
				t.Errorf("%v: turn %d does not end where the next begins", hand, i+1)
			}
		}
	}
}
