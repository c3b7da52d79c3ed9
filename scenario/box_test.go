package scenario

import (
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/units"
)

const boxScenario = `lane: {oil: flat}
ball:
  weight: 15 lb
  rg: 2.5 in
  diameter: 8.58 in
  differential: 0.04 in
  roughness: 25 uin
  layout: 55 x 4 1/2 x 40
  grip: {fitted_span: 4-3/8", middle: {diameter: 61/64 in, oval: 1/16 in at 45°}, thumb: {diameter: 1 1/4", insert: {inner: 1 in}, bevel: soft}}
  box: {weight: 15 lb 2 oz, top_weight: 3 oz, pin_out: 2 1/2 in, colour: blue, serial: 4J0021, finished: {side: 1/2 oz}}
bowler: {hand: L, speed: 18 mph, rev_rate: 300 rpm, axis_rotation: 45 deg, axis_tilt: 13 deg, laydown: 22, angle: 2 deg}
`

func TestABoxIsReadAsAPersonWritesIt(t *testing.T) {
	s := mustRead(t, "box.yaml", []byte(boxScenario), nil)
	b, g := s.Balls[0], s.Grips[0]
	if want := (15 + 2.0/16) * units.Pound; math.Abs(b.Weight-want) > 1e-12 {
		t.Errorf("weight %g kg, want %g", b.Weight, want)
	}
	if b.Box == nil || b.Box.TopWeight != units.Given(3*units.Ounce) || b.Box.PinOut != units.Given(2.5*units.Inch) || b.Box.Colour != "blue" || b.Box.Serial != "4J0021" || b.Box.Wanted.Side != units.Given(units.Ounce/2) || b.Box.Wanted.Top.Given {
		t.Errorf("box %+v", b.Box)
	}
	if s.Bowlers[0].Release.Hand != ball.Left {
		t.Error("the hand L is not left")
	}
	if l := b.Layout; math.Abs(l.DrillingAngle/units.Degree-55) > 1e-12 || l.PinToPAP != 4.5*units.Inch || math.Abs(l.VALAngle/units.Degree-40) > 1e-12 {
		t.Errorf("layout %+v", *l)
	}
	if middle, _ := g.Fitted(); math.Abs(middle-4.375*units.Inch) > 1e-15 {
		t.Errorf("fitted span %g m of the cut span %g m", middle, g.MiddleSpan)
	}
	if g.Middle.Oval != "1/16 in at 45°" || g.Thumb.Bevel != "soft" {
		t.Errorf("notes %q, %q", g.Middle.Oval, g.Thumb.Bevel)
	}
	for path, want := range map[string]string{"box.weight": "15 lb 2 oz", "grip.middle.diameter": "61/64 in", "grip.fitted_span": `4-3/8"`,
		"grip.thumb.diameter": `1 1/4"`, "layout.pin_to_pap": "4 1/2 in", "grip.ring.diameter": ""} {
		if got := s.BallsWritten[0][path]; got != want {
			t.Errorf("%s was written %q, not %q", path, want, got)
		}
	}
	for _, remark := range []string{`"L" is read as left`, "55 x 4 1/2 x 40 is read as a drilling angle of 55 deg, 4 1/2 in from pin to PAP and a VAL angle of 40 deg"} {
		if !strings.Contains(strings.Join(s.Warnings, "\n"), remark) {
			t.Errorf("no remark %q in %q", remark, s.Warnings)
		}
	}
	if far, err := Read("box.yaml", []byte(boxScenario), nil, []string{"ball.weight=13 lb"}); err != nil || !strings.Contains(strings.Join(far.Warnings, "\n"), "the gross weight of 15 lb 2 oz is used") {
		t.Errorf("%v: no remark on a nominal weight far from the gross one", err)
	}
	deliveries, err := s.Deliveries()
	if err != nil || !deliveries[0].Drilling.WeightsKnown {
		t.Fatal(err)
	}
	text := inputsOf(t, s, deliveries[0], s.Bowlers[0].Release.Angle)
	again := mustRead(t, "again.json", text, nil)
	back, err := again.Deliveries()
	if err != nil || back[0].Prepared != deliveries[0].Prepared {
		t.Errorf("%v: %+v became %+v", err, deliveries[0].Prepared, back[0].Prepared)
	}
}

func TestBoxesThatDoNotGo(t *testing.T) {
	for set, want := range map[string]string{
		"ball.balance={side: 1 oz}":          "give one of the two",
		"ball.box={finished: {side: 1 oz}}":  "top weight",
		"ball.box.cg={over: 1 in, up: 1 in}": "",
		"ball.box.weight=15 lb 17 oz":        "ounces below 16",
		"ball.box.weight=15 lb 2 in":         "ounces below 16",
		"ball.box.pin_out=14 in":             "circumference",
		"ball.layout=55 x 4 1/2":             "55 x 4 1/2 x 40",
		"bowler.hand=X":                      "right or left",
		"ball.grip.fitted_span=1/64 in":      "cut span",
		"ball.layout=-55 x 4 1/2 x -40":      "",
		"ball.layout.val_angle=95 deg":       "",
		"ball.layout.pin_to_pap=4 3/8\"":     "",
	} {
		s, err := Read("box.yaml", []byte(boxScenario), nil, []string{set})
		switch {
		case want == "" && err != nil:
			t.Errorf("%s: %v", set, err)
		case want != "" && (err == nil || !strings.Contains(err.Error(), want)):
			t.Errorf("%s: %v, want %q", set, err, want)
		}
		if strings.Contains(set, "-40") && !strings.Contains(strings.Join(s.Warnings, "\n"), "val_angle: -40 deg is unusual") {
			t.Errorf("no remark on %s: %q", set, s.Warnings)
		}
	}
}
