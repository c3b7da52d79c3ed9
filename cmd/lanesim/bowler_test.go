package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"lanesim/report"
	"lanesim/scenario"
)

// The printed YAML of a bowler can be used in a scenario: rounded in text and in a file,
// exact in JSON, with the measured values in both.
func TestMeasuredBowlersBelongInAScenario(t *testing.T) {
	measurements := filepath.Join(examples, "measured-bowler.yaml")
	own := filepath.Join(t.TempDir(), "own.yaml")
	text := good(t, "", "bowler", measurements, "-o", own)
	var r struct {
		Measured map[string]*struct{ Value, Uncertainty float64 }
		Bowler   json.RawMessage
	}
	readJSON(t, good(t, "", "bowler", measurements, "--json"), &r)
	written := contents(t, own)
	_, block, found := strings.Cut(text, "\n\n# For a scenario.")
	if block = "# For a scenario." + block; !found || block != string(written) {
		t.Errorf("printed\n%s\nwritten\n%s", block, written)
	}
	if len(r.Measured) != 7 {
		t.Fatalf("%d quantities", len(r.Measured))
	}
	for name, tail := range map[string]string{"rounded": block, "exact": "bowler: " + string(r.Bowler)} {
		s, err := scenario.Read("made.yaml", []byte("lane: {oil: house}\nball: {name: plain}\n"+tail), nil, nil)
		if err != nil {
			t.Fatalf("%s: %v\nin\n%s", name, err, tail)
		}
		b := s.Bowlers[0]
		if b.Name != "Evening bowler" || b.AimAtPocket {
			t.Errorf("%s: %+v", name, b)
		}
		for key, got := range map[string]float64{
			"speed_mph": report.MPH.In(b.Release.Speed), "rev_rate_rpm": report.RPM.In(b.Release.RevRate),
			"axis_rotation_deg": report.Degree.In(b.Release.AxisRotation), "axis_tilt_deg": report.Degree.In(b.Release.AxisTilt),
			"pap_over_in": report.Inch.In(b.PAP.Over), "pap_up_in": report.Inch.In(b.PAP.Up),
		} {
			q := r.Measured[key]
			// Rounding may change a value by a quarter of its uncertainty, conversions by a
			// few units in the last place.
			bound := 0.25 * q.Uncertainty
			if name == "exact" {
				bound = 1e-14 * math.Abs(q.Value)
			}
			if !(q.Uncertainty > 0) || math.Abs(got-q.Value) > bound {
				t.Errorf("%s %s is %v, measured %v ± %v", name, key, got, q.Value, q.Uncertainty)
			}
		}
	}
}

// The built-in bowlers with published averages are marked.
func TestBuiltinBowlersAreMarked(t *testing.T) {
	var list []struct {
		About string `json:"about"`
		Marks struct {
			Speed   string `json:"speed_mph"`
			RevRate string `json:"rev_rate_rpm"`
			Others  string `json:"others"`
		} `json:"marks"`
	}
	readJSON(t, good(t, "", "bowler", "--json"), &list)
	published := 0
	for _, b := range list {
		if b.Marks.Speed == "published" {
			published++
		}
		if b.Marks.Others != "assumed" || b.Marks.Speed != b.Marks.RevRate || b.About == "" {
			t.Errorf("%+v", b)
		}
	}
	if len(list) != 4 || published != 3 {
		t.Errorf("%d bowlers, %d of them published", len(list), published)
	}
}

func TestWithUncertainty(t *testing.T) {
	for _, c := range []struct {
		value, deviation float64
		want             string
	}{
		{17.8328, 0.146, "17.83 0.15"}, {322.388, 6.74, "322.4 6.7"}, {-0.0436, 0.18, "−0.04 0.18"}, {45.2, 12.4, "45 12"},
		{1234, 340, "1234 340"}, {0.5, 0.0996, "0.50 0.10"}, {3, 0, "3.000 0"},
	} {
		if got := strings.Join(report.WithUncertainty(c.value, c.deviation), " "); got != c.want {
			t.Errorf("%v ± %v is printed %q, want %q", c.value, c.deviation, got, c.want)
		}
	}
}
