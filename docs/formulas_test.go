package docs_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/physics/film"
	"lanesim/scenario"
	"lanesim/units"
)

// constant returns a number that the theory has where the pattern's group is.
func constant(t *testing.T, pattern string) float64 {
	t.Helper()
	found := regexp.MustCompile(pattern).FindStringSubmatch(read(t, theory))
	if found == nil {
		t.Fatalf("%s has nothing like %s", theory, pattern)
	}
	v, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// plainBall is a ball of equal moments without film memory.
func plainBall(t *testing.T, contactRadius float64) ball.Ball {
	t.Helper()
	s := ball.Default()
	s.Memory.Off = true
	s.ContactRadius = contactRadius
	b, _, err := s.Drill(ball.DefaultPAP(), ball.Right, ball.Grip{Kind: ball.Undrilled})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func thrown(t *testing.T, l lane.Lane, b ball.Ball, r physics.Release, s physics.Settings) physics.Shot {
	t.Helper()
	shot, err := physics.Throw(l, b, r, s)
	if err != nil {
		t.Fatal(err)
	}
	return shot
}

// wedge is a lane whose film thins out from front to back.
func wedge(t *testing.T) lane.Lane {
	t.Helper()
	rows := [][]float64{make([]float64, lane.Boards), make([]float64, lane.Boards)}
	for i := range rows[0] {
		rows[0][i], rows[1][i] = 40, 1 // oil units
	}
	l := lane.Default()
	var err error
	if l.Oil, err = lane.NewBoardOilMap([]float64{0, 50 * units.Foot}, rows); err != nil {
		t.Fatal(err)
	}
	return l
}

var usualRelease = physics.Release{
	Speed: 18 * units.MPH, RevRate: 325 * units.RPM, AxisRotation: 60 * units.Degree, AxisTilt: 13 * units.Degree, Laydown: 20, Angle: units.Degree,
}

// Friction along a shot is that of the page's equation.
func TestFrictionIsThatOfTheTheory(t *testing.T) {
	full, exponent := constant(t, `φ\(λ\) = \(1 − λ/(\d)\)\^`), constant(t, `φ\(λ\) = \(1 − λ/\d\)\^([\d.]+)`)
	l, b := wedge(t), plainBall(t, 0)
	f := l.Friction
	between := 0
	path := thrown(t, l, b, usualRelease, physics.Settings{}).Path
	for _, s := range path {
		lambda := f.Entrained * s.Oil / math.Hypot(b.Roughness, l.Roughness)
		want := f.Film
		if lambda < full {
			want += (f.Dry - f.Film) * math.Pow(1-lambda/full, exponent)
		}
		if lambda > 0 && lambda < full {
			between++
		}
		if math.Abs(s.Friction-want) > 1e-9 {
			t.Fatalf("at %.1f m: friction %g, want %g at λ %g", s.Distance, s.Friction, want, lambda)
		}
	}
	if between < 20 || between == len(path) {
		t.Errorf("%d of %d places between full film and dry", between, len(path))
	}
}

// The turning about the vertical slows down as the page's pivot friction says.
func TestPivotFrictionIsThatOfTheTheory(t *testing.T) {
	size, mixing := constant(t, `τ_pivot = −\((\d+)π/16\)`)*math.Pi/16, constant(t, `\+ \((\d+)π/16\) \|u\|`)*math.Pi/16
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Constant, Mu: 0.1}
	b := plainBall(t, ball.DefaultContactRadius)
	a := b.ContactRadius
	path := thrown(t, l, b, usualRelease, physics.Settings{Tolerance: 1e-9, PathSpacing: 0.01}).Path
	torque := func(s physics.State) float64 {
		w := s.Spin[2]
		return -size * s.Friction * s.Normal * a * a * w / (a*math.Abs(w) + mixing*s.Slip)
	}
	sum := 0.0
	last := path[0]
	for _, s := range path[1:] {
		if s.Slip < 0.5 {
			break
		}
		sum += (torque(s) + torque(last)) / 2 * (s.Time - last.Time)
		last = s
	}
	got := (last.Spin[2] - path[0].Spin[2]) * b.Moments[0]
	if !(math.Abs(got/sum-1) < 1e-3) || last.Distance < 3 {
		t.Errorf("angular momentum changed by %g over %.1f m, want %g", got, last.Distance, sum)
	}
}

// What a touch offers is what the page says, with a limit for a ball that hardly turns.
func TestPickUpIsThatOfTheTheory(t *testing.T) {
	memory := ball.DefaultFilmMemory()
	slowest := 1 / constant(t, `s = max\( R \|ω_h\|, \|v\| / (\d) \)`)
	const h, speed = 3e-6, 8.0
	for _, sweep := range []float64{0, 1, 3, 12} {
		want := memory.PickUp * h * speed / math.Max(sweep, slowest*speed)
		if got := film.Offer(memory, h, speed, sweep); math.Abs(got/want-1) > 1e-12 {
			t.Errorf("at R|ω_h| %g: %g, want %g", sweep, got, want)
		}
	}
}

// The friction is read where its mean over a turn has come the tenth of the way.
func TestFrictionReadIsThatOfTheTheory(t *testing.T) {
	if !strings.Contains(read(t, theory), "exceeds μ_film by a tenth of μ_dry − μ_film") {
		t.Fatal("the page words the friction read in another way")
	}
	l := wedge(t)
	shot := thrown(t, l, plainBall(t, 0), usualRelease, physics.Settings{PathSpacing: 0.005})
	read := shot.Events.FrictionRead
	if read == nil {
		t.Fatal("the friction is not read")
	}
	sum, turned := 0.0, 0.0
	for i, s := range shot.Path[1:] {
		angle := s.RevRate * (s.Time - shot.Path[i].Time)
		if about := s.RevRate * math.Abs(s.Time-read.Time); about < math.Pi {
			sum, turned = sum+angle*s.Friction, turned+angle
		}
	}
	if share := (sum/turned - l.Friction.Film) / (l.Friction.Dry - l.Friction.Film); math.Abs(share-0.1) > 3e-3 {
		t.Errorf("read at %.4f of the way from film to dry", share)
	}
}

// A breakpoint lies at least a quarter of a board outside the laydown, and angles are
// looked for as far as the page says.
func TestLimitsAreThoseOfTheTheory(t *testing.T) {
	if !strings.Contains(read(t, theory), "at least a quarter of a board from the laydown") {
		t.Fatal("the page words the breakpoint in another way")
	}
	l := lane.Default()
	l.Friction = lane.Friction{Law: lane.Constant, Mu: 0.04}
	b := plainBall(t, 0)
	without, with := 0.0, math.Inf(1)
	for angle := 0.0; angle < 1; angle += 0.01 {
		r := usualRelease
		r.Angle = angle * units.Degree
		shot := thrown(t, l, b, r, physics.Settings{})
		out := 0.0
		for _, s := range shot.Path {
			out = max(out, r.Laydown-s.Board)
		}
		if shot.Events.Breakpoint == nil {
			without = max(without, out)
		} else {
			with = min(with, out)
		}
	}
	if without > 0.25 || with < 0.25-1e-3 || with-without > 0.1 {
		t.Errorf("no breakpoint up to %g boards out, one from %g on", without, with)
	}
	if w := constant(t, `w = ([\d.]+) in /`) * units.Inch / constant(t, `in / (\d+)`); math.Abs(w-lane.BoardWidth) > 1e-12 {
		t.Errorf("a board is %g m wide, not %g", lane.BoardWidth, w)
	}
	if angle := constant(t, `All within ±(\d)°`); !strings.Contains(scenario.Reference(), "from -"+strconv.Itoa(int(angle))+" to "+strconv.Itoa(int(angle))+" deg") {
		t.Errorf("angles are not looked for within ±%g°", angle)
	}
}
