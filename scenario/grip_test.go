package scenario

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/units"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const customGrip = `ball:
  grip:
    span: {middle: 4 3/8 in, ring: 4 1/2 in}
    bridge: 5/16 in
    shell_density: 1.2 g/cm³
    middle: {diameter: 15/16 in, depth: 2 in, forward: 1/8 in, lateral: -1/4 in, insert: none}
    ring: {insert: {outer: 0.95 in, inner: 0.7 in}}
    thumb: {diameter: 1 1/4 in, depth: 2 3/4 in, forward: -1/4 in, insert: {}}`

func TestGrips(t *testing.T) {
	want := ball.DefaultGrip()
	want.Kind = ball.CustomGrip
	if diff := cmp.Diff(want, readText(t, "ball: {grip: {bridge: 1/4 in}}").Grips[0]); diff != "" {
		t.Errorf("a grip of which little is said is not the usual one (-want +got):\n%s", diff)
	}
	for _, name := range spelled(ball.GripKinds()) {
		want, err := ball.NewGrip(ball.GripKind(name))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, readText(t, "ball: {grip: "+name+"}").Grips[0]); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
	if diff := cmp.Diff(ball.DefaultGrip(), readText(t, "title: Default").Grips[0]); diff != "" {
		t.Errorf("default (-want +got):\n%s", diff)
	}
	want = ball.Grip{
		MiddleSpan: 4.375 * units.Inch, RingSpan: 4.5 * units.Inch, Bridge: 0.3125 * units.Inch, ShellDensity: 1200,
		Middle: &ball.Hole{Diameter: 0.9375 * units.Inch, Depth: 2 * units.Inch, Forward: 0.125 * units.Inch, Lateral: -0.25 * units.Inch},
		Ring:   ball.DefaultGrip().Ring,
		Thumb:  &ball.Hole{Diameter: 1.25 * units.Inch, Depth: 2.75 * units.Inch, Forward: -0.25 * units.Inch},
	}
	want.Ring.Insert.Outer, want.Ring.Insert.Inner = 0.95*units.Inch, 0.7*units.Inch
	slug := ball.DefaultThumbInsert()
	want.Thumb.Insert = &slug
	near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-15*math.Abs(a) }) // of 0.0254 × decimals
	if diff := cmp.Diff(want, readText(t, customGrip).Grips[0], near); diff != "" {
		t.Errorf("custom (-want +got):\n%s", diff)
	}
	if g := readText(t, "ball: {grip: {thumb: none}}").Grips[0]; g.Thumb != nil || g.HoleCount() != 2 {
		t.Errorf("without a thumb hole: %+v", g)
	}
	if g := readText(t, "ball: {name: plain}", "ball.grip.thumb.depth=2 in").Grips[0]; g.Thumb.Depth != 2*units.Inch {
		t.Errorf("set: %+v", g.Thumb)
	}
}

// A lateral pitch is given toward the side of the PAP, or to the left or right, which
// depends on the bowler's hand.
func TestLateralPitches(t *testing.T) {
	grip := func(hand, middle, ring string) string {
		return "ball: {grip: {middle: {" + middle + "}, ring: {" + ring + "}}}\nbowler: {" + bowlerText + ", hand: " + hand + "}"
	}
	for hand, text := range map[string]string{
		"right": grip("right", "left: 1/2 in", "right: 3/8 in"),
		"left":  grip("left", "right: 1/2 in", "left: 3/8 in"),
	} {
		g := readText(t, text).Grips[0]
		want := readText(t, grip(hand, "lateral: -1/2 in", "lateral: 3/8 in")).Grips[0]
		if diff := cmp.Diff(want, g); diff != "" {
			t.Errorf("%s hand (-want +got):\n%s", hand, diff)
		}
	}
	for text, says := range map[string]string{
		grip("right", "left: 1/2 in, lateral: 1/2 in", ""): "lateral",
		grip("right", "left: -1/2 in", ""):                 "below 0 in, the least",
		"ball: {grip: {middle: {left: 1/2 in}}}\nbowlers: [{" + bowlerText + "}, {" + bowlerText + ", hand: left}]": "is a different pitch for each hand",
	} {
		_, err := Read("scenario.yaml", []byte("lane: {oil: dry}\n"+text), nil, nil)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", text, err, says)
		}
	}
}

// Balls are thrown drilled for each bowler's hand, unless the file says undrilled.
func TestDeliveriesAreDrilled(t *testing.T) {
	text := "balls: [{name: drilled}, {name: bare, grip: undrilled}]\nbowlers: [{" + bowlerText + "}, {" + bowlerText + ", hand: left}]"
	list := deliveriesOf(t, readText(t, text))
	if len(list) != 4 {
		t.Fatalf("%d deliveries", len(list))
	}
	for _, d := range list {
		holes := map[int]int{0: 3, 1: 0}[d.Ball]
		lost := 15*units.Pound - d.Prepared.Mass
		if len(d.Drilling.Holes) != holes || (lost > 0) != (holes > 0) || math.Abs(lost-d.Drilling.Removed+d.Drilling.PutBack) > 1e-15 {
			t.Errorf("%s: %d holes, %g kg lost", d.Prepared.Name, len(d.Drilling.Holes), lost)
		}
		if want := map[int]ball.Hand{0: ball.Right, 1: ball.Left}[d.Bowler]; d.Drilling.Hand != want {
			t.Errorf("bowler %d: drilled for the %s hand", d.Bowler, d.Drilling.Hand)
		}
	}
}

const bowlerText = "speed: 8 m/s, rev_rate: 0 rpm, laydown: 20, angle: 0 deg"

// Grips and finish wear are written so that they read back bit for bit.
func TestGripsReadBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inches := func(name string, least, most float64) float64 {
			return rapid.Float64Range(least, most).Draw(t, name) * units.Inch
		}
		s := readAny(t, customGrip)
		g := ball.DefaultGrip()
		g.Kind = ball.CustomGrip
		g.MiddleSpan, g.RingSpan, g.Bridge = inches("middle", 4, 4.2), inches("ring", 4, 4.2), inches("bridge", 0, 0.5)
		g.ShellDensity = rapid.Float64Range(1, 25000).Draw(t, "shell")
		g.Middle.Lateral, g.Ring.Forward, g.Thumb.Depth = inches("lateral", -1, 1), inches("forward", -1, 1), inches("depth", 0.1, 4)
		if rapid.Bool().Draw(t, "no thumb") {
			g.Thumb, g.MiddleSpan, g.RingSpan = nil, 4*units.Inch, 4*units.Inch
		}
		if rapid.Bool().Draw(t, "no insert") {
			g.Middle.Insert = nil
		} else {
			g.Middle.Insert.Outer = inches("outer", 0.8, 0.9)
			g.Middle.Insert.Density = rapid.Float64Range(1, 25000).Draw(t, "insert")
		}
		s.Grips = []ball.Grip{g}
		s.Balls[0].Weight = 20 * units.Pound // so that a dense shell does not exceed the ball's weight
		s.Balls[0].GamesSinceFinish = rapid.Float64Range(0, 1000).Draw(t, "games")
		s.Balls[0].FinishWear = ball.FinishWear{Toward: inches("toward", 1e-6, 1e-4), Games: rapid.Float64Range(1e-3, 1000).Draw(t, "games to wear")}
		if _, _, err := s.Balls[0].Drill(s.Bowlers[0].PAP, ball.Right, g); err != nil {
			t.Skip("no such ball")
		}
		written := inputsOf(t, s, Delivery{}, 0)
		again := mustRead(t, "inputs.json", written, nil)
		if diff := cmp.Diff([]any{s.Grips, s.Balls}, []any{again.Grips, again.Balls}); diff != "" {
			t.Fatalf("differs (-want +got):\n%s\nin %s", diff, written)
		}
		if twice, err := again.Inputs(Delivery{}, 0); err != nil || !bytes.Equal(twice, written) {
			t.Fatalf("%v, written again:\n%s\nwant\n%s", err, twice, written)
		}
	})
}

// readAny reads a scenario within a property test.
func readAny(t *rapid.T, text string) *Scenario {
	return mustRead(t, "scenario.yaml", []byte("lane: {oil: dry}\nbowler: {"+bowlerText+"}\n"+text), nil)
}

// A ball that leaves the listed limits by its grip, its offset or its wear also causes a
// warning, once.
func TestWarningsAboutDrilledBalls(t *testing.T) {
	full := "weight: 15 lb, diameter: 8.55 in, rg: 2.5 in"
	for text, word := range map[string]string{
		full + ", roughness: 25 uin, balance: {offset: [3 mm, 0 mm, 0 mm]}":                "static",
		full + ", finish: 180 grit":                                                        "roughness of 60 uin",
		full + ", roughness: 50 uin, games_since_finish: 5, finish_wear: {toward: 60 uin}": "roughness of 52.21 uin",
	} {
		s := readText(t, "ball: {"+text+"}\nbowlers: [{"+bowlerText+"}, {"+bowlerText+", hand: left}]")
		found := slices.DeleteFunc(slices.Clone(s.Warnings), func(w string) bool { return !strings.Contains(w, "outside the limits listed") })
		if len(found) != 1 || !strings.HasPrefix(found[0], "ball: "+word) {
			t.Errorf("%s: %q, want one about %s", text, s.Warnings, word)
		}
	}
	if s := readText(t, "ball: {"+full+", roughness: 25 uin}"); len(s.Warnings) != 0 {
		t.Errorf("a usual ball is warned about: %q", s.Warnings)
	}
}

// Distances that determine the angles poorly cause a warning.
func TestWarningsAboutDistances(t *testing.T) {
	for text, word := range map[string]string{
		"pin_to_pap: 4 in, psa_to_pap: 5 in, pin_to_val: 4 in":   "ball.layout: the pin is as far from the VAL",
		"pin_to_pap: 4 in, psa_to_pap: 5 in, pin_to_val: 3.9 in": "",
	} {
		s := readText(t, "ball: {weight: 15 lb, diameter: 8.58 in, rg: 2.5 in, roughness: 25 uin, differential: 0.04 in, layout: {"+text+"}}")
		if got := strings.Join(s.Warnings, ""); word == "" && got != "" || !strings.HasPrefix(got, word) {
			t.Errorf("%s: %q, want %q", text, got, word)
		}
	}
}
