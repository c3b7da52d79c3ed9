package physics

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// soundEnd holds that a shot ended where shots end.
func soundEnd(t *testing.T, l lane.Lane, shot Shot, thrower *Thrower) {
	t.Helper()
	last := instant{len(thrower.pieces) - 1, thrower.finalTime}
	x, y := thrower.component(last, ix), thrower.component(last, iy)
	const near = 2 * edgePrecision
	switch {
	case !(x <= l.Length+near && x >= -near):
		t.Errorf("%s at %v ft of a lane of %v ft", shot.Status, x/units.Foot, l.Length/units.Foot)
	case !l.Edgeless && math.Abs(y) > lane.Width/2+near:
		t.Errorf("%s with the ball %v boards from the middle", shot.Status, math.Abs(y)/lane.BoardWidth)
	case shot.Status == Pins && math.Abs(x-l.Length) > near:
		t.Errorf("at the pins at %v ft of %v ft", x/units.Foot, l.Length/units.Foot)
	case shot.Status == Gutter && math.Abs(math.Abs(y)-lane.Width/2) > near:
		t.Errorf("in the gutter %v boards from the middle", math.Abs(y)/lane.BoardWidth)
	}
}

// Places at which the rates jump may lie so close together that one step leads past
// several of them: none is lost. LANESIM_DRAWS=2000 draws twice as many shots.
func TestNoEdgeIsLost(t *testing.T) {
	n := drawn(t, 1000)
	if testing.Short() {
		n /= 5
	}
	thrower := NewThrower()
	for _, behind := range []float64{0, 1e-9, 0.05, 0.5, 2} {
		rnd := rand.New(rand.NewPCG(3, 4))
		ends := map[Status]int{}
		for k := range n {
			l, b, r := randomShot(rnd, k%2 == 0)
			l.Friction = lane.Friction{Law: lane.Zones, Zones: []lane.Zone{{To: l.Oil.Length() + behind*units.Foot, Mu: 0.04}, {To: math.Inf(1), Mu: 0.2}}}
			s := Settings{EndOnly: true, EvenNodes: true, Tolerance: 1e-4}
			if k%10 == 0 {
				s.Tolerance = 0
			}
			shot, err := thrower.Throw(l, b, r, s)
			if err != nil {
				t.Fatalf("shot %d: %v", k, err)
			}
			ends[shot.Status]++
			soundEnd(t, l, shot, thrower)
		}
		t.Logf("a zone that ends %v ft behind the oil: %v", behind, ends)
	}
	for _, feet := range []float64{59.9, 59.999, 60, 60.1} {
		rnd := rand.New(rand.NewPCG(5, 6))
		for k := range n / 10 {
			l, b, r := randomShot(rnd, k%2 == 0)
			row := make([]float64, lane.Boards)
			for i := range row {
				row[i] = 10
			}
			var err error
			if l.Oil, err = lane.NewBoardOilMap([]float64{0, feet * units.Foot}, [][]float64{row, row}); err != nil {
				t.Fatal(err)
			}
			shot, err := thrower.Throw(l, b, r, Settings{EndOnly: true, EvenNodes: true, Tolerance: []float64{0, 1e-4}[k%2]})
			if err != nil {
				t.Fatalf("oil to %v ft, shot %d: %v", feet, k, err)
			}
			soundEnd(t, l, shot, thrower)
		}
	}
}

// A ball that is put down over the lane's edge leaves the lane there or goes on over
// it, by where it is headed.
func TestLaydownOnTheLanesEdge(t *testing.T) {
	for _, c := range []struct {
		board, angle, rotation float64
		want                   Status
	}{
		{0.5, 1, 45, Gutter}, {39.5, -1, -45, Gutter}, {0.5, 0, -45, Gutter}, {39.5, 0, 45, Gutter},
		{0.5, -0.5, 0, Pins}, {39.5, 0.5, 0, Pins}, {0.5, 0, 45, Pins},
	} {
		for _, tolerance := range []float64{0, 1e-4} {
			for _, hand := range []ball.Hand{ball.Right, ball.Left} {
				thrower := NewThrower()
				s := ball.Default()
				s.Differential = 0
				b := lawPrepare(t, s, hand)
				r := Release{Hand: hand, Speed: 8, RevRate: 30, AxisRotation: c.rotation * units.Degree, Laydown: c.board, Angle: c.angle * units.Degree}
				l := lane.Default()
				l.Friction = lane.Friction{Law: lane.Constant, Mu: 0.04}
				shot, err := thrower.Throw(l, b, r, Settings{Tolerance: tolerance})
				if err != nil {
					t.Fatal(err)
				}
				if shot.Status != c.want {
					t.Errorf("board %v, %v°, rotation %v°, %v hand: %s, not %s", c.board, c.angle, c.rotation, hand, shot.Status, c.want)
				}
				if shot.Status == Gutter && shot.Events.Gutter.Distance > 0.1 {
					t.Errorf("board %v: in the gutter after %v m", c.board, shot.Events.Gutter.Distance)
				}
				soundEnd(t, l, shot, thrower)
			}
		}
	}
}

// A ball whose mass centre its own spin would lift off the lane is not thrown on.
func TestLiftedAtRelease(t *testing.T) {
	s := ball.Default()
	b := lawPrepare(t, s, ball.Right)
	b.Offset = [3]float64{0, 0.012, 0}
	lifted := 0
	for phase := 0.0; phase < 360; phase += 15 {
		r := Release{Speed: 8, RevRate: 62, Laydown: 20, Phase: phase * units.Degree}
		for _, tolerance := range []float64{0, 1e-4} {
			thrower := NewThrower()
			shot, err := thrower.Throw(lane.Default(), b, r, Settings{Tolerance: tolerance})
			if err != nil {
				t.Fatal(err)
			}
			first := shot.Path[0]
			if first.Normal <= 0 {
				lifted++
				if shot.Status != Lifted || shot.Path[len(shot.Path)-1].Time != 0 {
					t.Errorf("phase %v°: %v N at release, but %s after %v s", phase, first.Normal, shot.Status, shot.Path[len(shot.Path)-1].Time)
				}
			}
			for _, p := range shot.Path[:len(shot.Path)-1] {
				if p.Time > 0 && p.Normal < 0 {
					t.Errorf("phase %v°: %v N at %v s of a shot that ends after %v s", phase, p.Normal, p.Time, shot.Path[len(shot.Path)-1].Time)
				}
			}
		}
	}
	if lifted == 0 {
		t.Error("no release without weight on the lane")
	}
}

// A ball with so much backspin that it comes back ends at the foul line.
func TestBackOverTheFoulLine(t *testing.T) {
	s := ball.Default()
	b := lawPrepare(t, s, ball.Right)
	for _, c := range []struct {
		name string
		lane func(*lane.Lane)
	}{
		{"dry", func(*lane.Lane) {}},
		{"zones", func(l *lane.Lane) {
			l.Friction = lane.Friction{Law: lane.Zones, Zones: []lane.Zone{{To: 0.5, Mu: 0.3}, {To: 0.6, Mu: 0.2}, {To: math.Inf(1), Mu: 0.25}}}
		}},
		{"oil on the foul line alone", func(l *lane.Lane) {
			oil, err := lane.NewOilMap([]float64{0}, 0, 1, 1, []float64{1e-5})
			if err != nil {
				t.Fatal(err)
			}
			l.Oil = oil
		}},
	} {
		for _, distance := range []float64{0, 0.2} {
			for _, tolerance := range []float64{0, 1e-4} {
				l := lane.Default()
				c.lane(&l)
				thrower := NewThrower()
				shot, err := thrower.Throw(l, b, Release{Speed: 2.2, RevRate: 150, AxisRotation: math.Pi, Laydown: 20, LaydownDistance: distance}, Settings{Tolerance: tolerance})
				if err != nil {
					t.Fatal(err)
				}
				end := shot.Path[len(shot.Path)-1]
				if shot.Status != FoulLine || math.Abs(end.Distance) > 2*edgeClearance || !(end.Velocity[0] < 0) {
					t.Errorf("%s from %v m: %s at %v m, %v m/s down-lane", c.name, distance, shot.Status, end.Distance, end.Velocity[0])
				}
				soundEnd(t, l, shot, thrower)
			}
		}
	}
}

// A ball that begins to roll too slowly to go on has stopped, though no event says so.
func TestTooSlowToRoll(t *testing.T) {
	b := lawPrepare(t, ball.Default(), ball.Right)
	for _, tolerance := range []float64{0, 1e-4} {
		for _, c := range []struct {
			name string
			l    func(*lane.Lane)
			r    Release
			want Status
		}{
			{"slow", func(l *lane.Lane) { l.RollingResistance = lane.MostRollingResistance }, Release{Speed: 0.022, Laydown: 20}, Stopped},
			{"rolling slowly from the start", func(*lane.Lane) {}, Release{Speed: 0.01, RevRate: 0.01 / b.Radius, Laydown: 20}, Stopped},
		} {
			l := lane.Default()
			c.l(&l)
			thrower := NewThrower()
			shot, err := thrower.Throw(l, b, c.r, Settings{Tolerance: tolerance})
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			if shot.Status != c.want {
				t.Errorf("%s: %s", c.name, shot.Status)
			}
			soundEnd(t, l, shot, thrower)
		}
	}
}

// Rolling resistance above friction keeps a ball from rolling: it slides until it stands
// still, v²/(2 μ g) on, and does not roll and slide by turns at the end.
func TestMoreResistanceThanFriction(t *testing.T) {
	const speed, mu = 1.2, 0.03
	for _, tolerance := range []float64{0, 1e-4} {
		for _, c := range []struct {
			name                  string
			tilt, offset, revRate float64
		}{
			{name: "straight"}, {name: "on a tilted lane", tilt: 0.3 * units.Inch}, {name: "with an offset", offset: 5e-4},
			{name: "about the vertical", revRate: 20}, {name: "all", tilt: -0.3 * units.Inch, offset: 3e-4, revRate: 20},
		} {
			l := lane.Default()
			l.Friction, l.RollingResistance = lane.Friction{Law: lane.Constant, Mu: mu}, lane.MostRollingResistance
			l.Tilt = c.tilt
			s := ball.Default()
			s.Offset = [3]float64{c.offset, 0, 0}
			r := Release{Speed: speed, RevRate: c.revRate, AxisTilt: 85 * units.Degree, Laydown: 20}
			thrower := NewThrower()
			shot, err := thrower.Throw(l, lawPrepare(t, s, ball.Right), r, Settings{Tolerance: tolerance})
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			if shot.Status != Stopped || shot.Events.RollStart != nil {
				t.Errorf("%s: %s, roll start %v", c.name, shot.Status, shot.Events.RollStart)
			}
			last := shot.Path[len(shot.Path)-1]
			if want := speed * speed / (2 * mu * StandardGravity); c.name == "straight" && math.Abs(last.Distance-want) > 1e-4 {
				t.Errorf("stops after %v m, want %v", last.Distance, want)
			}
			if last.Speed > restSpeed {
				t.Errorf("%s: stands at %v m/s", c.name, last.Speed)
			}
			soundEnd(t, l, shot, thrower)
		}
	}
}

// A ball that does not turn runs on a tilted lane without friction along a parabola: it ends in
// the gutter if the parabola leaves the lane, however long the steps are.
func TestParabolaOverTheLanesEdge(t *testing.T) {
	b := lawPrepare(t, ball.Default(), ball.Right)
	l := lane.Default()
	l.Friction, l.Tilt = lane.Friction{Law: lane.Constant, Mu: 0}, -units.Inch // to the left
	pull := StandardGravity * units.Inch / lane.Width
	thrower := NewThrower()
	ends := map[Status]int{}
	for speed := 3.0; speed <= 9; speed += 0.5 {
		for angle := 1.0; angle <= 6; angle += 0.1 {
			r := Release{Speed: speed, Laydown: 10, Angle: angle * units.Degree}
			shot, err := thrower.Throw(l, b, r, Settings{EndOnly: true})
			if err != nil {
				t.Fatal(err)
			}
			out, down := speed*math.Sin(r.Angle), speed*math.Cos(r.Angle)
			least, arrives := out/pull, l.Length/down
			y := func(time float64) float64 { return lane.Lateral(10) - out*time + pull*time*time/2 }
			want := Pins
			if y(min(least, arrives)) < -lane.Width/2 || y(arrives) > lane.Width/2 {
				want = Gutter
			}
			ends[want]++
			if shot.Status != want {
				t.Errorf("%v m/s, %.1f°: %s, not %s", speed, angle, shot.Status, want)
			}
		}
	}
	t.Log(ends)
}

// Nonsense is refused, with the field's name.
func TestThrowRefusesNonsense(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := Release{Speed: 8, RevRate: 30, Laydown: 20}
	release := func(change func(*Release)) Release {
		r := good
		change(&r)
		return r
	}
	b := lawPrepare(t, ball.Default(), ball.Right)
	for _, c := range []struct {
		field string
		r     Release
		s     Settings
	}{
		{"Laydown", release(func(r *Release) { r.Laydown = nan }), Settings{}},
		{"Laydown", release(func(r *Release) { r.Laydown = 60 }), Settings{}},
		{"Laydown", release(func(r *Release) { r.Laydown = 0.4 }), Settings{}},
		{"LaydownDistance", release(func(r *Release) { r.LaydownDistance = -1 }), Settings{}},
		{"LaydownDistance", release(func(r *Release) { r.LaydownDistance = nan }), Settings{}},
		{"LaydownDistance", release(func(r *Release) { r.LaydownDistance = lane.Default().Length }), Settings{}},
		{"Speed", release(func(r *Release) { r.Speed = 0 }), Settings{}},
		{"Speed", release(func(r *Release) { r.Speed = inf }), Settings{}},
		{"RevRate", release(func(r *Release) { r.RevRate = -1 }), Settings{}},
		{"RevRate", release(func(r *Release) { r.RevRate = inf }), Settings{}},
		{"AxisRotation", release(func(r *Release) { r.AxisRotation = nan }), Settings{}},
		{"AxisTilt", release(func(r *Release) { r.AxisTilt = math.Pi / 2 }), Settings{}},
		{"Phase", release(func(r *Release) { r.Phase = inf }), Settings{}},
		{"Angle", release(func(r *Release) { r.Angle = math.Pi / 2 }), Settings{}},
		{"Hand", release(func(r *Release) { r.Hand = 7 }), Settings{}},
		{"Tolerance", good, Settings{Tolerance: -1}},
		{"Tolerance", good, Settings{Tolerance: nan}},
		{"Tolerance", good, Settings{Tolerance: 1}},
		{"MaxTime", good, Settings{MaxTime: -1}},
		{"Gravity", good, Settings{Gravity: -9.8}},
		{"HookTurn", good, Settings{HookTurn: -1}},
		{"HookTurn", good, Settings{HookTurn: 4}},
		{"Pocket", good, Settings{Pocket: Window{18, 17}}},
		{"GoodAngle", good, Settings{GoodAngle: Window{nan, 1}}},
		{"PathSpacing", good, Settings{PathSpacing: nan}},
		{"TrackSpacing", good, Settings{TrackSpacing: -1}},
		{"ExchangeSpacing", good, Settings{ExchangeSpacing: nan}},
	} {
		_, err := Throw(lane.Default(), b, c.r, c.s)
		if err == nil || !strings.Contains(err.Error(), c.field+" is ") {
			t.Errorf("%s: %v", c.field, err)
		}
	}
	if _, err := Throw(lane.Default(), b, good, Settings{}); err != nil {
		t.Error(err)
	}
}
