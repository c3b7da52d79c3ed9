package compare_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
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

// laid returns a delivery of a fingertip ball with the pin at a distance in
// inches from the axis, on a house pattern.
func laid(t testing.TB, pin, differential float64) studies.Undrilled {
	t.Helper()
	grip, err := ball.NewGrip(ball.Fingertip)
	if err != nil {
		t.Fatal(err)
	}
	s := ball.Default()
	s.Differential, s.Roughness = differential*units.Inch, 14*units.Microinch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: pin * units.Inch, VALAngle: 40 * units.Degree}
	r := usual.Release()
	r.AxisRotation, r.Laydown, r.Angle = 60*units.Degree, 28, 2.75*units.Degree
	return studies.Undrilled{Setup: studies.Setup{Lane: usual.Crowned(t, 40, 24.5, 10), Release: r}, Specification: s, Grip: grip, PAP: ball.DefaultPAP()}
}

// varied returns a delivery with about half of its inputs drawn anew.
func varied(t testing.TB, random *rand.Rand) studies.Undrilled {
	t.Helper()
	d := laid(t, 3.4, 0.03)
	between := func(a, b float64) float64 { return a + (b-a)*random.Float64() }
	changes := []func(){
		func() {
			l := *d.Specification.Layout
			l.PinToPAP, l.VALAngle = between(1, 6)*units.Inch, between(20, 70)*units.Degree
			d.Specification.Layout = &l
		},
		func() {
			d.Specification.Weight, d.Specification.RG, d.Specification.Differential = between(14, 16)*units.Pound, between(2.46, 2.6)*units.Inch, between(0.02, 0.05)*units.Inch
			d.Specification.Offset[1] = between(-0.5, 0.5) * 1e-3
		},
		func() { d.Specification.Roughness = between(10, 30) * units.Microinch },
		func() { d.Release.RevRate, d.PAP.Over = between(250, 400)*units.RPM, between(4.5, 5.5)*units.Inch },
		func() { d.Release.Laydown, d.Release.Angle = between(26, 29), between(2.3, 3)*units.Degree },
		func() { d.Lane = usual.Crowned(t, between(38, 42), 24, 6) },
	}
	for _, change := range changes {
		if random.IntN(2) == 0 {
			change()
		}
	}
	return d
}

func compared(t testing.TB, list ...studies.Undrilled) compare.Result {
	t.Helper()
	c := compare.Study{Deliveries: list, Visible: compare.DefaultVisible(), Sets: -1}
	for i := range list {
		for j := i + 1; j < len(list); j++ {
			c.Pairs = append(c.Pairs, [2]int{i, j})
		}
	}
	r := usual.Run(t, c)
	return r
}

func numbers(c compare.Change) [5]float64 {
	return [5]float64{c.AtPins, c.FrictionRead, c.Breakpoint, c.HookStart, c.EntryAngle}
}

// sumTolerance is the rounding of a sum of four shares in float64: a few units in the last place of boards,
// up to 39, and of smaller distances and angles.
const sumTolerance = 1e-12

func TestIdenticalShotsDifferByNothingAndHaveNoCauses(t *testing.T) {
	a, b := laid(t, 4.5, 0.04), laid(t, 4.5, 0.04)
	b.Specification.Name, b.Lane.Name = "another name", "another lane"
	b.Release.Phase, b.Specification.Measured.PickUp, b.Specification.Cover = 1, true, ball.Cover{}
	r := compared(t, a, b)
	p := r.Pairs[0]
	if !p.Identical || len(p.Mechanisms) != 0 || len(p.Inputs) != 0 || p.Difference != (compare.Change{}) {
		t.Errorf("identical shots: %+v", p)
	}
	for _, d := range p.Boards {
		if d.Boards != 0 {
			t.Errorf("%g boards apart at %g m", d.Boards, d.Distance)
		}
	}
	if words := thrown.PairOf(r, 0, "A", "B").Explain(); words != "A and B are the same shot." {
		t.Error(words)
	}
}

// Both decompositions add up to the difference, and all shares change their sign if the two deliveries are
// exchanged.
func TestCausesAddUpAndTurnWithThePair(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	worst, most := 0.0, 0
	for range 6 {
		a, b := varied(t, random), varied(t, random)
		r := compared(t, a, b)
		p, q := r.Pairs[0], compared(t, b, a).Pairs[0]
		most = max(most, len(p.Differ))
		for i, d := range numbers(p.Difference) {
			for _, causes := range [][]compare.Cause{p.Mechanisms, p.Inputs} {
				sum := 0.0
				for _, c := range causes {
					sum += numbers(c.Change)[i]
				}
				if len(causes) == 0 {
					continue
				}
				if math.IsNaN(sum) != math.IsNaN(d) {
					t.Errorf("number %d is %v, its shares add up to %v", i, d, sum)
				}
				worst = max(worst, math.Abs(sum-d)) // NaN is no maximum
			}
			if e := numbers(q.Difference)[i]; e != -d && !math.IsNaN(d) {
				t.Errorf("number %d: %v one way, %v the other", i, d, e)
			}
		}
		for k, list := range [][2][]compare.Cause{{p.Mechanisms, q.Mechanisms}, {p.Inputs, q.Inputs}} {
			if len(list[0]) != len(list[1]) {
				t.Fatalf("%d and %d causes", len(list[0]), len(list[1]))
			}
			for j, c := range list[0] {
				d := list[1][j]
				for i, v := range numbers(c.Change) {
					if w := numbers(d.Change)[i]; c.Name != d.Name || w != -v && !(math.IsNaN(v) && math.IsNaN(w)) {
						t.Errorf("causes %d: %s %v one way, %s %v the other", k, c.Name, v, d.Name, w)
					}
				}
			}
		}
		for j, d := range p.Boards {
			if e := q.Boards[j]; e.Boards != -d.Boards && !math.IsNaN(d.Boards) {
				t.Errorf("at %g m %v boards one way, %v the other", d.Distance, d.Boards, e.Boards)
			}
		}
	}
	t.Logf("the sums are off by %.2g at most; up to %d inputs differ", worst, most)
	if worst > sumTolerance || most < 4 {
		t.Errorf("the sums are off by %g, with up to %d inputs", worst, most)
	}
}

func share(t testing.TB, list []compare.Cause, name string) compare.Change {
	t.Helper()
	for _, c := range list {
		if c.Name == name {
			return c.Change
		}
	}
	t.Fatalf("no cause %s in %v", name, list)
	return compare.Change{}
}

// With the pins 3.4 and 6.1 in from the axis and a differential of 0.03 in, oil on the track is the largest
// mechanism, and only the layouts differ.
func TestOilOnTheTrackIsWhyALowFlareLayoutReadsLater(t *testing.T) {
	a, b := laid(t, 3.4, 0.03), laid(t, 6.1, 0.03)
	r := compared(t, a, b)
	p := r.Pairs[0]
	oil := share(t, p.Mechanisms, string(compare.OilOnTrack))
	for _, c := range p.Mechanisms {
		t.Logf("%-15s %+.4f boards, %+.4f ft", c.Name, c.AtPins, c.FrictionRead/units.Foot)
		if c.Name != string(compare.OilOnTrack) && (math.Abs(c.AtPins) >= math.Abs(oil.AtPins) || math.Abs(c.FrictionRead) >= math.Abs(oil.FrictionRead)) {
			t.Errorf("%s is no smaller than oil on the track", c.Name)
		}
	}
	if other := share(t, p.Mechanisms, string(compare.OtherMechanisms)); other != (compare.Change{}) {
		t.Errorf("only the layouts differ, but other is %+v", other)
	}
	if !reflect.DeepEqual(p.Differ, []compare.Input{compare.LayoutInput}) || share(t, p.Inputs, "layout") != p.Difference {
		t.Errorf("inputs %v: %v", p.Differ, p.Inputs)
	}
	if p.Difference.FrictionRead <= 0 || p.Difference.AtPins >= 0 || !(r.Shots[1].Spacing < r.Shots[0].Spacing) || !(r.Shots[1].OnDry > r.Shots[0].OnDry) {
		t.Errorf("the low-flare layout does not read later on its own oil: %+v, %+v", p.Difference, r.Shots)
	}
	words := thrown.PairOf(r, 0, "High", "Low").Explain()
	for _, want := range []string{"Low reads the friction about", "later than High and ends", "farther right", "runs on its own oil", "per revolution", "Oil on the track makes nearly all of the difference", "Only the layout differs"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in: %s", want, words)
		}
	}

	a.Specification.Memory.Off, b.Specification.Memory.Off = true, true
	r = compared(t, a, b)
	if oil := share(t, r.Pairs[0].Mechanisms, string(compare.OilOnTrack)); oil != (compare.Change{}) {
		t.Errorf("with the memory off, oil on the track makes %+v", oil)
	}
	if words := thrown.PairOf(r, 0, "High", "Low").Explain(); strings.Contains(words, "oil") {
		t.Errorf("with the memory off: %s", words)
	}
}

// `other` is zero if only the layouts differ, also with a mass centre that the layout moves; with film memory
// off and equal moments, the whole effect of another surface is `other`.
func TestOtherTakesWhatIsNoInertia(t *testing.T) {
	a, b := laid(t, 3, 0.04), laid(t, 5, 0.04)
	a.Specification.Offset, b.Specification.Offset = [3]float64{0, 4e-4, 2e-4}, [3]float64{0, 4e-4, 2e-4}
	if other := share(t, compared(t, a, b).Pairs[0].Mechanisms, "other"); other != (compare.Change{}) {
		t.Errorf("other is %+v", other)
	}
	b = a
	b.Specification.Roughness *= 2
	p := compared(t, a, b).Pairs[0]
	if rg := share(t, p.Mechanisms, string(compare.RGAboutAxis)); rg != (compare.Change{}) {
		t.Errorf("another surface has a share of %+v by RG", rg)
	}
	if other := share(t, p.Mechanisms, "other"); math.Abs(other.AtPins) < 0.5*math.Abs(p.Difference.AtPins) {
		t.Errorf("other is %+v of %+v", other, p.Difference)
	}
}

// Two ordinary layouts on one ball end 0 to 3 boards apart (common practice).
func TestOrdinaryLayoutsEndUpToThreeBoardsApart(t *testing.T) {
	for _, revs := range []float64{220, 325, 450} {
		for _, pins := range [][2]float64{{3.375, 4.5}, {4, 5}, {4.5, 5.5}, {3.4, 6.1}} {
			a, b := laid(t, pins[0], 0.048), laid(t, pins[1], 0.048)
			a.Release.RevRate, b.Release.RevRate = revs*units.RPM, revs*units.RPM
			d := compared(t, a, b).Pairs[0].Difference.AtPins
			t.Logf("%g rpm, pins %g and %g in: %+.3f boards", revs, pins[0], pins[1], d)
			if !(math.Abs(d) <= 3) {
				t.Errorf("%g rpm, pins %g and %g in: %+.3f boards", revs, pins[0], pins[1], d)
			}
		}
	}
}

func TestInputsThatDifferAreNamedAlone(t *testing.T) {
	a := laid(t, 4, 0.03)
	for want, change := range map[compare.Input]func(*studies.Undrilled){
		compare.MassInput:    func(d *studies.Undrilled) { d.Specification.RG *= 1.01 },
		compare.CoverInput:   func(d *studies.Undrilled) { d.Specification.Cover = ball.Plastic },
		compare.SurfaceInput: func(d *studies.Undrilled) { d.Specification.Memory.GiveBack = 0.5 },
		compare.ReleaseInput: func(d *studies.Undrilled) { d.Release.AxisTilt += units.Degree },
		compare.LineInput:    func(d *studies.Undrilled) { d.Release.Laydown++ },
		compare.LaneInput:    func(d *studies.Undrilled) { d.Lane.Tilt = 1e-3 },
		compare.LayoutInput:  func(d *studies.Undrilled) { d.Grip.Middle, d.Grip.Ring, d.Grip.Thumb = nil, nil, nil },
	} {
		b := a
		change(&b)
		p := compared(t, a, b).Pairs[0]
		if len(p.Inputs) != 1 || p.Inputs[0].Name != string(want) || p.Difference.AtPins == 0 {
			t.Errorf("%s: %v, %+v", want, p.Inputs, p.Difference)
		}
	}
}

// If one of the balls is lost, the difference at the pins and its shares do not exist; one ball in the gutter
// is a visible difference.
func TestWithoutAnEventThereIsNoNumber(t *testing.T) {
	a, b := laid(t, 4, 0.03), laid(t, 4, 0.03)
	b.Release.Angle = 6 * units.Degree
	r := compared(t, a, b)
	p := r.Pairs[0]
	if r.Shots[1].Shot.Status != physics.Gutter || r.Shots[1].Lost != compare.Phases || r.Shots[0].Lost != 0 {
		t.Fatal(r.Shots[1].Shot.Status, r.Shots[1].Lost)
	}
	for _, c := range append([]compare.Cause{{Change: p.Difference}}, append(p.Mechanisms, p.Inputs...)...) {
		if !math.IsNaN(c.AtPins) || !math.IsNaN(c.EntryAngle) {
			t.Errorf("%s: %+v", c.Name, c.Change)
		}
	}
	if first, last := p.Boards[0], p.Boards[len(p.Boards)-1]; first.Boards != 0 || !math.IsNaN(last.Boards) || last.Distance != lane.HeadPin {
		t.Errorf("from %+v to %+v", first, last)
	}
	if words := thrown.PairOf(r, 0, "A", "B").Explain(); !p.Visible || !strings.Contains(words, "B ends in the gutter at") || strings.Contains(words, "makes") {
		t.Error(p.Visible, words)
	}
}

// A difference that is not visible is reported as none, with its size and without a cause.
func TestWordsClaimNothingThatCouldNotBeSeen(t *testing.T) {
	a, b := laid(t, 4, 0.03), laid(t, 4, 0.03)
	b.Specification.RG += 1e-9
	b.Specification.Roughness += 1e-13
	r := compared(t, a, b)
	p := r.Pairs[0]
	if p.Identical || p.Visible {
		t.Fatalf("%+v", p)
	}
	words := thrown.PairOf(r, 0, "A", "B").Explain()
	if !strings.HasPrefix(words, "No visible difference (below 1 ft and 0.5 board): B reads") || strings.Contains(words, "makes") {
		t.Error(words)
	}
}

// The error allowed for covers what a far tighter tolerance gives.
func TestErrorOfAPairCoversATighterRun(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 9))
	for range 2 {
		c := compare.Study{Deliveries: []studies.Undrilled{varied(t, random), varied(t, random)}, Pairs: [][2]int{{0, 1}}, Sets: -1, Errors: true}
		run := func() compare.Pair {
			r := usual.Run(t, c)
			return r.Pairs[0]
		}
		usual := run()
		c.Settings.Tolerance = studies.ManyShotsTolerance / 100
		tight := run()
		for k, causes := range [][2][]compare.Cause{{usual.Mechanisms, tight.Mechanisms}, {usual.Inputs, tight.Inputs}} {
			for j := range causes[0] {
				for i, allowed := range numbers(usual.Error) {
					if off := math.Abs(numbers(causes[0][j].Change)[i] - numbers(causes[1][j].Change)[i]); off > allowed {
						t.Errorf("decomposition %d, %s, number %d: off by %g, %g allowed", k, causes[0][j].Name, i, off, allowed)
					}
				}
			}
		}
	}
}

func TestComparisonDoesNotDependOnTheWorkers(t *testing.T) {
	c := compare.Study{Deliveries: []studies.Undrilled{laid(t, 3, 0.03), laid(t, 5, 0.05)}, Pairs: [][2]int{{0, 1}}}
	var results []compare.Result
	for _, c.Workers = range []int{1, 3} {
		calls := 0
		c.Progress = func(done, total int) {
			if calls++; done != calls || done > total {
				t.Errorf("%d of %d reported in call %d", done, total, calls)
			}
		}
		r, err := c.Run(context.Background())
		if err != nil || calls == 0 {
			t.Fatal(calls, err)
		}
		results = append(results, r)
	}
	if a, b := results[0].Pairs, results[1].Pairs; !reflect.DeepEqual(a, b) {
		t.Errorf("%+v\n%+v", a, b)
	}
}

func TestComparisonEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	c := compare.Study{Deliveries: []studies.Undrilled{laid(t, 3, 0.03), laid(t, 5, 0.05)}, Pairs: [][2]int{{0, 1}}, Work: studies.Work{Workers: 1}}
	c.Progress = func(int, int) { cancel() }
	if _, err := c.Run(ctx); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	c.Pairs = [][2]int{{0, 2}}
	if _, err := c.Run(context.Background()); err == nil {
		t.Error("a delivery that is not there is compared")
	}
}

// Orders through an impossible mixed ball are left out and reported; the shares still add up.
func TestMixesThatCannotBeMadeAreSaid(t *testing.T) {
	a, b := laid(t, 3, 0.03), laid(t, 3, 0.03)
	// A hole as deep as the larger ball allows, which misses the smaller one.
	deep := *b.Grip.Thumb
	a.Specification.Diameter = 4.5 * units.Inch
	a.Specification.RG, a.Specification.Differential = 1.2*units.Inch, 0
	a.Grip = ball.Grip{ShellDensity: ball.DefaultShellDensity}
	deep.Depth = 4 * units.Inch
	b.Grip.Thumb = &deep
	b.Grip.Thumb.Insert = nil
	a.Release.Angle, b.Release.Angle = 1.5*units.Degree, 1.5*units.Degree
	r := compared(t, a, b)
	p := r.Pairs[0]
	layout, mass := share(t, p.Inputs, "layout"), share(t, p.Inputs, "mass_properties")
	for i, d := range numbers(p.Difference) {
		if sum := numbers(layout)[i] + numbers(mass)[i]; math.IsNaN(d) != math.IsNaN(sum) || math.Abs(sum-d) > sumTolerance {
			t.Errorf("number %d: %v, in shares %v", i, d, sum)
		}
	}
	if p.Impossible == nil || math.IsNaN(p.Difference.AtPins) || layout.AtPins == 0 {
		t.Errorf("%v, %+v, %+v", p.Impossible, p.Difference, p.Inputs)
	}
	if words := thrown.PairOf(r, 0, "A", "B").Explain(); !strings.Contains(words, "no ball can have") {
		t.Error(words)
	}
}

// Covers that differ only in their names are equal; a soak-in time of the film memory replaces the cover's,
// and belongs to the cover's share.
func TestCoverShare(t *testing.T) {
	a := laid(t, 4, 0.03)
	named := a
	named.Ball.Cover = ball.Cover{}
	if p := compared(t, a, named).Pairs[0]; !p.Identical {
		t.Errorf("a cover of which nothing is said differs from the reactive one: %+v", p.Difference)
	}
	overridden := a
	overridden.Ball.Cover.SoakIn, overridden.Ball.Memory.SoakIn = 1, a.Specification.SoakIn()
	if p := compared(t, a, overridden).Pairs[0]; !p.Identical {
		t.Errorf("a soak-in time that does not hold makes a difference of %+v", p.Difference)
	}
	b := a
	b.Specification.Cover.SoakIn = 1
	p := compared(t, a, b).Pairs[0]
	if len(p.Inputs) != 1 || p.Inputs[0].Name != string(compare.CoverInput) || p.Difference.AtPins == 0 {
		t.Errorf("%+v, %+v", p.Inputs, p.Difference)
	}
	b.Specification.Cover = ball.Plastic
	b.Specification.Roughness /= 2
	p = compared(t, a, b).Pairs[0]
	if len(p.Inputs) != 2 || p.Inputs[0].Name != string(compare.CoverInput) || p.Inputs[1].Name != string(compare.SurfaceInput) {
		t.Errorf("%+v", p.Inputs)
	}
}
