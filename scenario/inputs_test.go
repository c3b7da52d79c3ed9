package scenario

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"

	"lanesim/units"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The inputs of a delivery are a scenario of the same delivery, bit for bit, and that
// scenario has the same inputs.
func TestInputsReadBackExactly(t *testing.T) {
	s := readGood(t, "full.yaml")
	list := deliveriesOf(t, s)
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(list).Draw(t, "delivery")
		angle := rapid.OneOf(rapid.Float64Range(-math.Pi/4, math.Pi/4), rapid.Float64Range(-0.1, 0.1)).Draw(t, "angle")
		text := inputsOf(t, s, d, angle)
		if !json.Valid(text) {
			t.Fatalf("not JSON: %s", text)
		}
		for _, name := range []string{"inputs.json", "inputs.yaml"} {
			again := mustRead(t, name, text, nil)
			prepared, err := again.Deliveries()
			if err != nil || len(prepared) != 1 {
				t.Fatal(len(prepared), err)
			}
			release := s.Bowlers[d.Bowler].Release
			release.Angle = angle
			for _, pair := range [][2]any{
				{s.Lanes[d.Lane], again.Lanes[0]},
				{s.Balls[d.Ball], again.Balls[0]},
				{s.Grips[d.Ball], again.Grips[0]},
				{d.Prepared, prepared[0].Prepared},
				{release, again.Bowlers[0].Release},
				{s.Bowlers[d.Bowler].PAP, again.Bowlers[0].PAP},
				{s.Settings, again.Settings},
				{s.Visible, again.Visible},
				{s.Rack, again.Rack},
				{s.Title, again.Title},
			} {
				if diff := cmp.Diff(pair[0], pair[1], wholeOil); diff != "" {
					t.Fatalf("differs (-want +got):\n%s\nin %s", diff, text)
				}
			}
			twice, err := again.Inputs(prepared[0], angle)
			if err != nil || !bytes.Equal(twice, text) {
				t.Fatalf("%v, written again:\n%s\nwant\n%s", err, twice, text)
			}
		}
	})
}

// Flow-style YAML and JSON are read by different readers; both must see the
// same scenario, so the text is also read as YAML with a comment before it.
func TestInputsAreYAMLToo(t *testing.T) {
	s := readGood(t, "full.yaml")
	list := deliveriesOf(t, s)
	for _, d := range list {
		text := inputsOf(t, s, d, 0.03)
		again := mustRead(t, "inputs.yaml", append([]byte("# YAML\n"), text...), nil)
		if diff := cmp.Diff(s.Lanes[d.Lane], again.Lanes[0], wholeOil); diff != "" {
			t.Errorf("lane differs (-want +got):\n%s", diff)
		}
	}
}

func TestInputsRefuseWhatIsNone(t *testing.T) {
	s := readText(t, "title: Plain")
	for _, angle := range []float64{math.NaN(), math.Inf(1), 46 * units.Degree, -46 * units.Degree} {
		if text, err := s.Inputs(Delivery{}, angle); err == nil {
			t.Errorf("%v rad gives %s", angle, text)
		}
	}
	for _, d := range []Delivery{{Lane: 1}, {Ball: 1}, {Bowler: 1}, {Lane: -1}} {
		if text, err := s.Inputs(d, 0); err == nil {
			t.Errorf("%+v gives %s", d, text)
		}
	}
}
