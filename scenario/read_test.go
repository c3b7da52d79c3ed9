package scenario

import (
	"math"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// wholeOil compares oil maps with their unexported fields.
var wholeOil = cmp.AllowUnexported(lane.OilMap{})

// mustRead reads a scenario.
func mustRead(t rapid.TB, name string, text []byte, open OpenFile, sets ...string) *Scenario {
	t.Helper()
	s, err := Read(name, text, open, sets)
	if err != nil {
		t.Fatalf("%v: %v\nin\n%s", sets, err, text)
	}
	return s
}

func deliveriesOf(t rapid.TB, s *Scenario) []Delivery {
	t.Helper()
	list, err := s.Deliveries()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// inputsOf writes a delivery with a launch angle.
func inputsOf(t rapid.TB, s *Scenario, d Delivery, angle float64) []byte {
	t.Helper()
	text, err := s.Inputs(d, angle)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// readGood reads a valid file of the test data.
func readGood(t testing.TB, name string, sets ...string) *Scenario {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "good", name))
	if err != nil {
		t.Fatal(err)
	}
	open := func(name string) ([]byte, error) { return os.ReadFile(filepath.FromSlash(name)) }
	return mustRead(t, path.Join("testdata", "good", name), data, open, sets...)
}

// readText reads a scenario of a dry lane, with one ball and a straight
// bowler unless the text has others.
func readText(t testing.TB, text string, sets ...string) *Scenario {
	t.Helper()
	for _, part := range []string{
		"lane: {oil: dry}", "ball: {name: plain}",
		"bowler: {speed: 8 m/s, rev_rate: 0 rpm, laydown: 20, angle: 0 deg}",
	} {
		key := part[:strings.Index(part, ":")]
		if !strings.Contains("\n"+text, "\n"+key) {
			text += "\n" + part
		}
	}
	return mustRead(t, "scenario.yaml", []byte(text), nil, sets...)
}

// The defaults equal those of the packages that compute.
func TestDefaultsAreThoseOfThePackages(t *testing.T) {
	s := readText(t, "title: Defaults")
	wantLane := lane.Default()
	wantLane.Name = "dry"
	if diff := cmp.Diff(wantLane, s.Lanes[0]); diff != "" {
		t.Errorf("lane (-want +got):\n%s", diff)
	}
	wantBall := ball.Default()
	wantBall.Name = "plain"
	if diff := cmp.Diff(wantBall, s.Balls[0]); diff != "" {
		t.Errorf("ball (-want +got):\n%s", diff)
	}
	if got := s.Bowlers[0].PAP; got != ball.DefaultPAP() {
		t.Errorf("PAP is %v, want %v", got, ball.DefaultPAP())
	}
	if got := readText(t, "ball: {film_memory: {}}").Balls[0].Memory; got != wantBall.Memory {
		t.Errorf("film memory is %v, want %v", got, wantBall.Memory)
	}
	want := physics.Settings{Pocket: physics.DefaultPocket, GoodAngle: physics.DefaultGoodAngle, HookTurn: physics.DefaultHookTurn, EvenNodes: true}
	if s.Settings != want {
		t.Errorf("settings are %+v, want %+v", s.Settings, want)
	}
}

func TestEverythingIsRead(t *testing.T) {
	s := readGood(t, "full.yaml")
	if s.Title != "Everything" || len(s.Lanes) != 6 || len(s.Balls) != 3 || len(s.Bowlers) != 3 {
		t.Fatalf("%q has %d lanes, %d balls, %d bowlers", s.Title, len(s.Lanes), len(s.Balls), len(s.Bowlers))
	}
	names := []string{}
	for _, l := range s.Lanes {
		names = append(names, l.Name)
	}
	for _, b := range s.Balls {
		names = append(names, b.Name)
	}
	for _, b := range s.Bowlers {
		names = append(names, b.Name)
	}
	if diff := cmp.Diff([]string{"Flat forty-two", "dry", "Zones", "own pattern", "readings", "Own grid",
		"Pin far", "ball 2", "ball 3", "Medium revs", "bowler 2", "bowler 3"}, names); diff != "" {
		t.Errorf("names (-want +got):\n%s", diff)
	}
	zones := []lane.Zone{{To: 12, Mu: 0.04}, {To: math.Inf(1), Mu: 0.20}}
	if diff := cmp.Diff(lane.Friction{Law: lane.Zones, Zones: zones}, s.Lanes[2].Friction); diff != "" {
		t.Errorf("zones (-want +got):\n%s", diff)
	}
	if got, want := s.Lanes[5].Oil.Thickness(0, 0), 20*units.OilUnit; math.Abs(got-want) > 1e-12*want {
		t.Errorf("film of the pattern file is %g m, want %g m", got, want)
	}
	if m := s.Balls[1].Memory; !m.Off {
		t.Error("film memory is not off")
	}
	if m := s.Balls[2].Memory; m.PickUp != 0.06 || m.ContactWidth != 0.007 || !math.IsInf(m.SoakIn, 1) || m.GiveBack != 0.05 {
		t.Errorf("film memory is %+v", m)
	}
	if d := s.Balls[1].Layout.Distances(s.Balls[1].Diameter / 2); !d.Below {
		t.Error("the pin is not below")
	}
	var kinds []ball.GripKind
	for _, g := range s.Grips {
		kinds = append(kinds, g.Kind)
	}
	if diff := cmp.Diff([]ball.GripKind{ball.Fingertip, ball.Thumbless, ball.CustomGrip}, kinds); diff != "" {
		t.Errorf("grips (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(&ball.StaticWeights{Side: 0.5 * units.Ounce, Top: -units.Ounce}, s.Balls[1].Static); diff != "" {
		t.Errorf("static weights (-want +got):\n%s", diff)
	}
	wantSession := &Session{Order: []Turn{{0, 0, 3, 16}, {1, 1, 1, 20}}}
	if diff := cmp.Diff(wantSession, s.Session); diff != "" {
		t.Errorf("session (-want +got):\n%s", diff)
	}
	if r := s.Bowlers[1].Repeatability; r == nil || r.Laydown != 0.5 || r.Angle != 0.15*units.Degree || r.Level != "" || r.Speed != 0 {
		t.Errorf("repeatability is %+v", r)
	}
	if r := s.Bowlers[0].Repeatability; r == nil || r.Level != "league" || !(r.Laydown > 0) {
		t.Errorf("repeatability is %+v", r)
	}
	if !s.Bowlers[2].AimAtPocket || s.Bowlers[0].AimAtPocket {
		t.Error("it is not bowler 3 alone who aims at the pocket")
	}
}

// A target lies where the launch direction points, in boards from the
// bowler's side.
func TestTargetIsOnTheLine(t *testing.T) {
	for _, hand := range []string{"right", "left"} {
		s := readText(t, "bowler: {hand: "+hand+", speed: 18 mph, rev_rate: 0 rpm, laydown: 22, laydown_distance: 1 ft, target: {board: 10, distance: 15 ft}}")
		r := s.Bowlers[0].Release
		at := r.Laydown - math.Tan(r.Angle)*(15*units.Foot-r.LaydownDistance)/lane.BoardWidth
		if math.Abs(at-10) > 1e-12 {
			t.Errorf("%s: the line crosses board %v", hand, at)
		}
		if r.Angle <= 0 {
			t.Errorf("%s: %v rad does not point toward the ball-side gutter", hand, r.Angle)
		}
	}
}

// Deliveries are in the order of lanes, then bowlers, then balls.
func TestDeliveriesInOrder(t *testing.T) {
	s := readGood(t, "full.yaml")
	list := deliveriesOf(t, s)
	i := 0
	for l := range s.Lanes {
		for w := range s.Bowlers {
			for b := range s.Balls {
				d := list[i]
				if d.Lane != l || d.Bowler != w || d.Ball != b || d.Prepared.Name != s.Balls[b].Name {
					t.Fatalf("delivery %d is lane %d, bowler %d, ball %d (%s)", i, d.Lane, d.Bowler, d.Ball, d.Prepared.Name)
				}
				i++
			}
		}
	}
	if i != len(list) {
		t.Errorf("%d deliveries, want %d", len(list), i)
	}
}

// Values outside the rule book are allowed and cause a warning. So do missing values that
// matter.
func TestWarnings(t *testing.T) {
	s := readText(t, `lane: {oil: dry, tilt: 0.05 in, length: 61 ft}
ball: {weight: 17 lb, diameter: 8.6 in, rg: 2.45 in, differential: 0.07 in, roughness: 60 uin, balance: {side: 4 oz},
  layout: {drilling_angle: 60 deg, pin_to_pap: 5 in, val_angle: 40 deg}}`)
	for _, path := range []string{"lane.tilt", "lane.length", "ball.weight", "ball.diameter", "ball.rg", "ball.differential",
		"ball.roughness", "ball.balance.side"} {
		if !slices.ContainsFunc(s.Warnings, func(w string) bool {
			return strings.HasPrefix(w, path+": ") && strings.Contains(w, "outside the limits listed")
		}) {
			t.Errorf("no warning about %s in %q", path, s.Warnings)
		}
	}
	if len(s.Warnings) != 8 {
		t.Errorf("%d warnings, want 8: %q", len(s.Warnings), s.Warnings)
	}
	s = readText(t, "ball: {weight: 16 lb, diameter: 8.5 in, rg: 2.8 in, finish: 2000 grit}")
	if len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "assumed") {
		t.Errorf("a grit is warned about with %q", s.Warnings)
	}
	s = readText(t, "ball: {name: bare}")
	if len(s.Warnings) != 4 {
		t.Errorf("a ball of which nothing is said is warned about with %q", s.Warnings)
	}
}

// On and off have many spellings, in quotes or not.
func TestSpellingsOfOnAndOff(t *testing.T) {
	for text, off := range map[string]bool{"on": false, "off": true, "On": false, "OFF": true, `"on"`: false, "'off'": true,
		"true": false, "false": true, "yes": false, "no": true, "{}": false} {
		if got := readText(t, "ball: {film_memory: "+text+"}").Balls[0].Memory.Off; got != off {
			t.Errorf("film_memory: %s reads as off: %v", text, got)
		}
	}
}

func TestBuiltinPatterns(t *testing.T) {
	list := BuiltinPatterns()
	if len(list) == 0 {
		t.Fatal("there are none")
	}
	for _, p := range list {
		if p.Word == "" || p.Name == "" || p.About == "" || !(p.Oil.Volume(0, p.Oil.Length()) > 0) {
			t.Errorf("%q: %+v", p.Word, p)
		}
		s := readText(t, "lane: {oil: "+p.Word+"}")
		if diff := cmp.Diff(p.Oil, s.Lanes[0].Oil, wholeOil); diff != "" {
			t.Errorf("%s under oil (-want +got):\n%s", p.Word, diff)
		}
	}
}
