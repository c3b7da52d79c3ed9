package compare_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/studies/internal/usual"
	"lanesim/units"
)

// thrownAtPhases throws a delivery at the twelve phases, one by one.
func thrownAtPhases(t testing.TB, d studies.Undrilled) []physics.Shot {
	t.Helper()
	b, _, err := d.Specification.Drill(d.PAP, d.Release.Hand, d.Grip)
	if err != nil {
		t.Fatal(err)
	}
	var shots []physics.Shot
	for k := range 12 {
		r := d.Release
		r.Phase = 2 * math.Pi / 12 * float64(k)
		shot := usual.Throw(t, physics.NewThrower(), d.Lane, b, r, physics.Settings{Tolerance: studies.ManyShotsTolerance, EvenNodes: true})
		shots = append(shots, shot)
	}
	return shots
}

// The numbers of a pair are means and standard deviations over twelve phases,
// worked out here from shots thrown alone, and the mean shot agrees with them.
func TestComparisonsAverageOverThePhases(t *testing.T) {
	a, b := laid(t, 2.5, 0.05), laid(t, 5, 0.05)
	a.Release.Phase, b.Release.Phase = 0.3, 1.1 // without influence
	r := compared(t, a, b)
	p := r.Pairs[0]
	shots := [2][]physics.Shot{thrownAtPhases(t, a), thrownAtPhases(t, b)}
	for _, x := range []struct {
		name         string
		mean, spread float64
		of           func(physics.Shot) float64
	}{
		{"board", p.Difference.AtPins, p.Spread.AtPins, func(s physics.Shot) float64 { return s.Events.Pins.Board }},
		{"friction read", p.Difference.FrictionRead, p.Spread.FrictionRead, func(s physics.Shot) float64 { return s.Events.FrictionRead.Distance }},
		{"hook start", p.Difference.HookStart, p.Spread.HookStart, func(s physics.Shot) float64 { return s.Events.HookStart.Distance }},
		{"angle", p.Difference.EntryAngle, p.Spread.EntryAngle, func(s physics.Shot) float64 { return s.Events.Pins.Heading }},
	} {
		sum, squares := 0.0, 0.0
		for k := range 12 {
			sum += x.of(shots[1][k]) - x.of(shots[0][k])
		}
		for k := range 12 {
			off := x.of(shots[1][k]) - x.of(shots[0][k]) - sum/12
			squares += off * off
		}
		if mean, spread := sum/12, math.Sqrt(squares/11); math.Abs(mean-x.mean) > 1e-9 || math.Abs(spread-x.spread) > 1e-9 || spread == 0 {
			t.Errorf("%s: %v ± %v, not %v ± %v", x.name, x.mean, x.spread, mean, spread)
		}
	}
	for i, s := range r.Shots {
		board, length := 0.0, 0.0
		for _, shot := range shots[i] {
			board += shot.Events.Pins.Board / 12
			length += shot.Summary.Skid / 12
		}
		if m := s.Shot; !(math.Abs(m.EntryBoard()-board) <= 1e-9) || !(math.Abs(m.Summary.Skid-length) <= 1e-9) ||
			math.Abs(m.Path[len(m.Path)-1].Board-board) > 1e-9 || s.Phases != 12 || s.Lost != 0 {
			t.Errorf("mean shot %d: %+v, not on board %v with a skid of %v", i, m.Summary, board, length)
		}
	}
	if last := p.Boards[len(p.Boards)-1]; math.Abs(last.Boards-p.Difference.AtPins) > 1e-9 {
		t.Errorf("%v boards apart at the end, %v at the pins", last.Boards, p.Difference.AtPins)
	}
}

// The phase has no influence on a ball with equal moments.
func TestABallWithoutACoreHasOnePhase(t *testing.T) {
	d := laid(t, 4, 0)
	d.Grip = ball.Grip{ShellDensity: ball.DefaultShellDensity}
	other := d
	other.Specification.Roughness *= 2
	r := compared(t, d, other)
	if s := r.Shots[0]; s.Phases != 1 || r.Pairs[0].Spread.AtPins != 0 || r.Pairs[0].Spread.EntryAngle != 0 {
		t.Errorf("%d phases, spread %+v", s.Phases, r.Pairs[0].Spread)
	}
	for _, shot := range thrownAtPhases(t, d) {
		if off := shot.Events.Pins.Board - r.Shots[0].Shot.EntryBoard(); !(math.Abs(off) <= 1e-6) {
			t.Errorf("another phase moves it by %v boards", off)
		}
	}
}

// A line that is found brings the mean of its ball to the middle of the pocket, and the other ball uses it.
func TestTheLineIsThatOfTheFirstBall(t *testing.T) {
	a, b := laid(t, 3.4, 0.03), laid(t, 6.1, 0.03)
	b.Release.Angle = 0
	c := compare.Study{Deliveries: []studies.Undrilled{a, b, b}, Lines: []int{0, 0, 2}, Pairs: [][2]int{{0, 1}}, Sets: -1}
	r := usual.Run(t, c)
	if x, y := r.Shots[0].Release.Angle, r.Shots[1].Release.Angle; x != y || x == a.Release.Angle {
		t.Errorf("launch angles of %v and %v", x, y)
	}
	for _, i := range []int{0, 2} {
		if board := r.Shots[i].Shot.EntryBoard(); !(math.Abs(board-17.5) <= 0.005) {
			t.Errorf("shot %d enters on board %v in the mean", i, board)
		}
	}
	if board := r.Shots[1].Shot.EntryBoard(); !(math.Abs(board-17.5) >= 0.1) {
		t.Errorf("the second ball enters on board %v, too", board)
	}
	c.Lines = []int{0, 0}
	if _, err := c.Run(context.Background()); err == nil {
		t.Error("lines of two of three deliveries")
	}
}

// What can be seen is half a board at the pins or a foot of friction read.
func TestVisibleIsWhatIsAtLeastOneOfItsMeasures(t *testing.T) {
	a, b := laid(t, 3.4, 0.03), laid(t, 6.1, 0.03)
	c := compare.Study{Deliveries: []studies.Undrilled{a, b}, Pairs: [][2]int{{0, 1}}, Sets: -1}
	run := func(v compare.Visible) compare.Pair {
		c.Visible = v
		r := usual.Run(t, c)
		return r.Pairs[0]
	}
	d := run(compare.DefaultVisible()).Difference
	boards, read := math.Abs(d.AtPins), math.Abs(d.FrictionRead)
	for _, x := range []struct {
		visible compare.Visible
		want    bool
	}{
		{compare.Visible{Boards: boards, FrictionRead: 2 * read}, true},
		{compare.Visible{Boards: 2 * boards, FrictionRead: read}, true},
		{compare.Visible{Boards: 1.01 * boards, FrictionRead: 1.01 * read}, false},
		{compare.Visible{}, true},
	} {
		if got := run(x.visible).Visible; got != x.want {
			t.Errorf("%+v of %+v: %v", d, x.visible, got)
		}
	}
}

// With every assumed value measured, all sets are the shots as given; with none,
// each set is the shots with its values, on the line that is given.
func TestSetsOfAssumedValuesAreThrown(t *testing.T) {
	a, b := laid(t, 3.4, 0.03), laid(t, 6.1, 0.03)
	c := compare.Study{Deliveries: []studies.Undrilled{a, b}, Pairs: [][2]int{{0, 1}}, Sets: 5, Visible: compare.DefaultVisible()}
	count := func() compare.AssumedResult {
		r := usual.Run(t, c)
		return r.Pairs[0].Assumed
	}
	var want compare.AssumedResult
	for _, set := range studies.AssumedSets(5) {
		x, y := a, b
		set.Lanes(&x.Lane, &y.Lane)
		var balls [2]ball.Ball
		for i, d := range []studies.Undrilled{x, y} {
			var err error
			if balls[i], err = d.Drill(); err != nil {
				t.Fatal(err)
			}
		}
		set.Balls(&balls[0], &balls[1])
		x.Specification.Memory, x.Specification.ContactRadius = balls[0].Memory, balls[0].ContactRadius
		y.Specification.Memory, y.Specification.ContactRadius = balls[1].Memory, balls[1].ContactRadius
		p := compared(t, x, y).Pairs[0]
		want.AtPins.Of++
		switch d := endOf(t, y) - endOf(t, x); {
		case d < -0.02:
			want.AtPins.Negative++
		case d > 0.02:
			want.AtPins.Positive++
		default:
			want.AtPins.None++
		}
		want.Seen.Of++
		if p.Visible {
			want.Seen.Positive++
		} else {
			want.Seen.None++
		}
	}
	if got := count(); got.AtPins != want.AtPins || got.Seen != want.Seen || got.FrictionRead.Of != 5 {
		t.Errorf("%+v, not %+v", got, want)
	}
	for i := range c.Deliveries {
		d := &c.Deliveries[i]
		d.Lane.Measured = lane.Measured{Film: true, Dry: true, Entrained: true, Roughness: true}
		d.Specification.Measured = ball.Measured{PickUp: true, GiveBack: true, ContactWidth: true, ContactRadius: true}
	}
	if got := count(); got.AtPins != (compare.SignCount{Of: 5, Negative: 5}) || got.FrictionRead != (compare.SignCount{Of: 5, Positive: 5}) || got.Seen != (compare.SignCount{Of: 5, Positive: 5}) {
		t.Errorf("with all of it measured: %+v", got)
	}
}

// endOf returns the mean board on which a delivery ends, in the gutter or at the pins.
func endOf(t testing.TB, d studies.Undrilled) float64 {
	sum := 0.0
	for _, s := range thrownAtPhases(t, d) {
		if s.Events.Gutter != nil {
			sum += s.Events.Gutter.Board / 12
		} else {
			sum += s.Events.Pins.Board / 12
		}
	}
	return sum
}

// An answer is open if fewer than three quarters of the sets agree.
func TestOpenIsBelowThreeQuarters(t *testing.T) {
	h := compare.SignCount{Of: 24}
	if h.Open(18) || !h.Open(17) {
		t.Error(h.Open(18), h.Open(17))
	}
}

// A comparison of intermediate differentials says what the equations give and
// what practice says.
func TestIntermediateDifferentialIsExplained(t *testing.T) {
	a, b := laid(t, 3.4, 0.05), laid(t, 3.4, 0.05)
	b.Specification.IntermediateDifferential = 0.02 * units.Inch
	r := compared(t, a, b)
	words := thrown.PairOf(r, 0, "Symmetric", "Asymmetric").Explain()
	for _, want := range []string{"Asymmetric has more intermediate differential than Symmetric (0.020 in, not 0.000)", "less flare", "Common practice"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in: %s", want, words)
		}
	}
	// At another drilling angle it makes more flare, with nothing else changed.
	for _, d := range []*studies.Undrilled{&a, &b} {
		layout := *d.Specification.Layout
		layout.PinToPAP, layout.DrillingAngle = 4.5*units.Inch, 45*units.Degree
		d.Specification.Layout, d.Grip = &layout, ball.Grip{Kind: ball.Undrilled}
	}
	b.Specification.IntermediateDifferential = 0.012 * units.Inch
	if r := compared(t, a, b); r.Shots[1].Shot.Summary.Flare < r.Shots[0].Shot.Summary.Flare {
		t.Error("the drilling angle makes no difference")
	} else if words := thrown.PairOf(r, 0, "Symmetric", "Asymmetric").Explain(); !strings.Contains(words, "as here, more") {
		t.Error(words)
	}
	if words := thrown.PairOf(compared(t, laid(t, 3.4, 0.05), laid(t, 5, 0.05)), 0, "A", "B").Explain(); strings.Contains(words, "intermediate") {
		t.Error(words)
	}
	t.Log(words)
}

// The mechanism `other` is named by the inputs that do not affect the inertia.
func TestOtherCausesAreNamed(t *testing.T) {
	a, b := laid(t, 3.4, 0.05), laid(t, 3.4, 0.05)
	b.Specification.Cover = ball.Plastic
	if words := thrown.PairOf(compared(t, a, b), 0, "Reactive", "Plastic").Explain(); !strings.Contains(words, "he cover makes") {
		t.Error(words)
	}
	b.Specification.Roughness /= 2
	if words := thrown.PairOf(compared(t, a, b), 0, "Reactive", "Plastic").Explain(); !strings.Contains(words, "he cover and surface make") {
		t.Error(words)
	}
}
