package aim_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// Every angle that is found brings the ball to the middle of the pocket, and every
// place where a finer scan sees the entry board pass it is among them.
func TestAllAnglesToThePocketAreFound(t *testing.T) {
	const (
		// A search is content with 1e-4 board; jumps of the computed entry board
		// leave more with film memory.
		offWithMemory, offWithout = 2e-3, 2e-4

		scanStep      = 0.04 // deg
		scanTolerance = 1e-5

		// A root is not missed if it is one of two that nearly meet: boards by
		// which the scan must pass the middle of the pocket.
		beyondDoubt = 0.03

		// The nearest board is that of a shot at the tolerance of studies.
		nearestError = 0.1
	)
	random := rand.New(rand.NewPCG(17, 6))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	thrower := physics.NewThrower()
	found, several := 0, 0
	for range 16 {
		memory := random.IntN(2) == 0
		l := usual.Crowned(t, between(36, 48), between(18, 30), between(5, 20))
		b := usual.LaidOut(t, ball.Right, memory)
		r := physics.Release{
			Speed: between(15, 20) * units.MPH, RevRate: between(100, 550) * units.RPM,
			AxisRotation: between(0, 75) * units.Degree, AxisTilt: between(0, 25) * units.Degree, Laydown: between(15, 35),
		}
		aimed, err := aim.Pocket{Setup: studies.Setup{Lane: l, Ball: b, Release: r}}.Run(t.Context())
		none := (*aim.NoPocketError)(nil)
		if err != nil && !errors.As(err, &none) {
			t.Fatal(err)
		}
		if len(aimed.Angles) > 0 {
			found++
		}
		if len(aimed.Angles) > 1 {
			several++
		}
		allowed := offWithout
		if memory {
			allowed = offWithMemory
		}
		for i, angle := range aimed.Angles {
			if off := usual.Entry(t, thrower, l, b, r, angle, 0) - usual.PocketBoard; !(math.Abs(off) <= allowed) {
				t.Errorf("%+v: enters %.2g boards off at %.6g°", r, off, angle/units.Degree)
			}
			if i > 0 && !(angle > aimed.Angles[i-1]) {
				t.Errorf("%v: not ascending", aimed.Angles)
			}
			if math.Abs(angle) < math.Abs(aimed.Angle()) {
				t.Errorf("%v: %d is not the smallest", aimed.Angles, aimed.Used)
			}
		}
		before, steps := math.NaN(), int(12/scanStep)
		for k := range steps + 1 {
			angle := (12*float64(k)/float64(steps) - 6) * units.Degree
			off := usual.Entry(t, thrower, l, b, r, angle, scanTolerance) - usual.PocketBoard
			if before*off < 0 && math.Abs(before) > beyondDoubt && math.Abs(off) > beyondDoubt &&
				!slices.ContainsFunc(aimed.Angles, func(a float64) bool { return a <= angle && a >= angle-1.01*scanStep*units.Degree }) {
				t.Errorf("%+v: the entry board passes the pocket before %.4g°, result %.6g (%v)", r, angle/units.Degree, aimed.Angles, err)
			}
			if none != nil && math.Abs(off) < math.Abs(none.Nearest-usual.PocketBoard)-nearestError {
				t.Errorf("%+v: %.4g° comes within %.4g of the pocket, but the nearest board is said to be %.5g", r, angle/units.Degree, off, none.Nearest)
			}
			before = off
		}
	}
	if found < 6 || several < 1 {
		t.Errorf("%d releases had an angle to be found, %d of them several", found, several)
	}
}

// A mean over phases is aimed as one shot is.
func TestTheMeanOverPhasesReachesThePocket(t *testing.T) {
	const phases = 12
	a := aim.Pocket{Setup: studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 10), Ball: usual.LaidOut(t, ball.Right, true), Release: usual.Release()}, Phases: phases}
	a.Settings = studies.ForManyShots(physics.Settings{})
	found := usual.Run(t, a)
	thrower, r := physics.NewThrower(), a.Setup.Release
	for _, angle := range found.Angles {
		mean, least, most := 0.0, math.Inf(1), math.Inf(-1)
		for k := range phases {
			r.Phase = 2 * math.Pi * float64(k) / phases
			board := usual.Entry(t, thrower, a.Setup.Lane, a.Setup.Ball, r, angle, studies.ManyShotsTolerance)
			mean, least, most = mean+board/phases, min(least, board), max(most, board)
		}
		if math.Abs(mean-usual.PocketBoard) > 0.005 {
			t.Errorf("%.5g°: board %.4f in the mean", angle/units.Degree, mean)
		}
		if most-least < 0.02 {
			t.Errorf("%.5g°: boards %.4f to %.4f: the phase does nothing, which tests nothing", angle/units.Degree, least, most)
		}
	}
}

func TestAimIsRepeatable(t *testing.T) {
	l, b := usual.Crowned(t, 40, 24.5, 10), usual.LaidOut(t, ball.Right, true)
	r := usual.Release()
	first := usual.AtPocket(t, studies.Setup{Lane: l, Ball: b, Release: r}, physics.Settings{})
	r.Angle = 0.1 // of no matter
	again, err := aim.AtPocket(studies.Setup{Lane: l, Ball: b, Release: r}, physics.Settings{})
	if err != nil || again != first {
		t.Errorf("%+v, %v; the first time %+v", again, err, first)
	}
}

// A left-hander on the mirrored lane finds the same angle.
func TestLeftHandersAimIsTheMirrorImage(t *testing.T) {
	l := usual.Crowned(t, 40, 24.5, 10)
	for i := range l.Oil.Film {
		l.Oil.Film[i] *= 1 + 0.01*float64(i%l.Oil.Columns) // more oil to the left
	}
	r := usual.Release()
	right := usual.AtPocket(t, studies.Setup{Lane: l, Ball: usual.LaidOut(t, ball.Right, true), Release: r}, physics.Settings{})
	r.Hand = ball.Left
	leftBall := usual.LaidOut(t, ball.Left, true)
	left := usual.AtPocket(t, studies.Setup{Lane: l.Mirror(), Ball: leftBall, Release: r}, physics.Settings{})
	// The mirrored map rounds otherwise, so the jumps of the entry board lie
	// elsewhere. A degree is four boards here: this is 0.01 board, what the
	// default tolerance allows with film memory.
	const allowed = 2.5e-3 * units.Degree
	if math.Abs(right.Angle-left.Angle) > allowed {
		t.Errorf("%.9g° to the right, %.9g° to the left", right.Angle/units.Degree, left.Angle/units.Degree)
	}
	same := usual.AtPocket(t, studies.Setup{Lane: l, Ball: leftBall, Release: r}, physics.Settings{})
	if math.Abs(right.Angle-same.Angle) < 20*allowed {
		t.Errorf("%.9g° on the lane that is not mirrored: it is too even to test anything", same.Angle/units.Degree)
	}
}

// The pocket is the middle of the window in the settings.
func TestAimFollowsTheWindow(t *testing.T) {
	l, b := usual.Crowned(t, 40, 24.5, 10), usual.LaidOut(t, ball.Right, false)
	const board = 12.25
	r := usual.AtPocket(t, studies.Setup{Lane: l, Ball: b, Release: usual.Release()}, physics.Settings{Pocket: physics.Window{Min: board - 1, Max: board + 1}})
	if got := usual.Entry(t, physics.NewThrower(), l, b, r, r.Angle, 0); math.Abs(got-board) > 2e-4 {
		t.Errorf("enters on board %.6f", got)
	}
}

// A ball that hooks a little on the first feet and then goes straight for 290
// m stays on the lane within 0.2° only, and with no angle of the search's grid.
func TestANarrowWindowBetweenTheGuttersIsFound(t *testing.T) {
	l := lane.Default()
	l.Length = 300
	l.Friction = lane.Friction{Law: lane.Zones, Zones: []lane.Zone{{To: 9, Mu: 0.04}, {To: math.Inf(1), Mu: 0}}}
	b := usual.LaidOut(t, ball.Right, false)
	r := usual.Release()
	r.Laydown = 19
	thrower := physics.NewThrower()
	for angle := -6.0; angle <= 6; angle += 0.25 {
		if board := usual.Entry(t, thrower, l, b, r, angle*units.Degree, 0); !math.IsNaN(board) {
			t.Fatalf("reaches the pins at %g° on board %g: the window is too wide to test anything", angle, board)
		}
	}
	aimed := usual.AtPocket(t, studies.Setup{Lane: l, Ball: b, Release: r}, physics.Settings{})
	// Five times as far, an angle counts five times as much.
	if got := usual.Entry(t, thrower, l, b, r, aimed.Angle, 0); !(math.Abs(got-usual.PocketBoard) < 5*2e-4) {
		t.Errorf("enters on board %.6f at %.9g°", got, aimed.Angle/units.Degree)
	}
}

func TestWithoutAWayToThePocketTheNearestBoardIsNamed(t *testing.T) {
	l, b := lane.Default(), usual.LaidOut(t, ball.Right, false)
	r := usual.Release()
	r.RevRate, r.Laydown = 520*units.RPM, 10
	_, err := aim.AtPocket(studies.Setup{Lane: l, Ball: b, Release: r}, physics.Settings{})
	none := (*aim.NoPocketError)(nil)
	if !errors.As(err, &none) {
		t.Fatalf("error %v", err)
	}
	if got := usual.Entry(t, physics.NewThrower(), l, b, r, none.Angle, 0); !(math.Abs(got-none.Nearest) < 0.1) {
		t.Errorf("board %g at %.4g°, said to be %g", got, none.Angle/units.Degree, none.Nearest)
	}
	if !strings.Contains(err.Error(), "nearest board reached is 22.") {
		t.Errorf("message: %v", err)
	}

	r.Laydown = 35 // hooks off the lane from everywhere
	_, err = aim.AtPocket(studies.Setup{Lane: l, Ball: b, Release: r}, physics.Settings{})
	if !errors.As(err, &none) || !math.IsNaN(none.Nearest) || !strings.Contains(err.Error(), "never stays on the lane") {
		t.Errorf("error %v", err)
	}
}

func TestAimReportsAShotThatCannotBeComputed(t *testing.T) {
	l := lane.Default()
	l.Friction.Law = "none such"
	_, err := aim.AtPocket(studies.Setup{Lane: l, Ball: usual.LaidOut(t, ball.Right, false), Release: usual.Release()}, physics.Settings{})
	none := (*aim.NoPocketError)(nil)
	if err == nil || errors.As(err, &none) || !strings.Contains(err.Error(), "launch angle") {
		t.Errorf("error %v", err)
	}
}
