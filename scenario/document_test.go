package scenario_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lanesim/scenario"

	"github.com/google/go-cmp/cmp"
)

// inputsOf returns the inputs of all deliveries.
func inputsOf(t *testing.T, s *scenario.Scenario) []string {
	t.Helper()
	deliveries, err := s.Deliveries()
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, d := range deliveries {
		text, err := s.Inputs(d, s.Bowlers[d.Bowler].Release.Angle)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, string(text))
	}
	return list
}

// withoutName removes the name of a delivery's ball, which changes if a ball is used twice.
func withoutName(t *testing.T, inputs string) any {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal([]byte(inputs), &v); err != nil {
		t.Fatal(err)
	}
	delete(v["ball"].(map[string]any), "name")
	return v
}

// Parts of each example, written as YAML by themselves, read as the same lane, balls and
// bowler, without the files that the example names.
func TestPartsOfExamplesAreWrittenOut(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d, err := scenario.Open(filepath.ToSlash(file), data, os.ReadFile)
		if err != nil {
			t.Fatal(err)
		}
		s, err := d.Read(nil)
		if err != nil {
			continue // a sweep, a pattern, measurements
		}
		alone, err := d.Alone([]string{"bowler.phase=10 deg"})
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		text, err := alone.YAML(nil)
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		turned, err := scenario.Read("alone", text, nil, nil)
		if err != nil {
			t.Fatalf("%s: %v\n%s", file, err, text)
		}
		want, err := d.Read([]string{"bowler.phase=10 deg"})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(inputsOf(t, want), inputsOf(t, turned)); diff != "" {
			t.Errorf("%s, written out: %s\n%s", file, diff, text)
		}
		lane, first, second := len(s.Lanes)-1, 0, len(s.Balls)-1
		whole := inputsOf(t, s)
		for bowler := range s.Bowlers {
			only, err := d.Only(lane, bowler, first, second)
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			text, err := only.YAML(nil)
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			again, err := scenario.Read("taken", text, nil, nil)
			if err != nil {
				t.Fatalf("%s: %v\n%s", file, err, text)
			}
			parts := inputsOf(t, again)
			at := (lane*len(s.Bowlers) + bowler) * len(s.Balls)
			for k, i := range []int{first, second} {
				if diff := cmp.Diff(withoutName(t, whole[at+i]), withoutName(t, parts[k])); diff != "" {
					t.Errorf("%s, ball %d: %s\n%s", file, i, diff, text)
				}
			}
			got, want := again.Bowlers[0], s.Bowlers[bowler]
			if got.AimAtPocket != want.AimAtPocket || got.AimAtPins != want.AimAtPins || got.Move != want.Move || !cmp.Equal(got.Breakpoint, want.Breakpoint) {
				t.Errorf("%s: %+v is taken out as %+v", file, want, got)
			}
			if again.Balls[0].Name == again.Balls[1].Name || !strings.HasPrefix(again.Balls[1].Name, s.Balls[second].Name) {
				t.Errorf("%s: balls are named %q and %q", file, again.Balls[0].Name, again.Balls[1].Name)
			}
		}
		seen++
	}
	if seen < 30 {
		t.Errorf("%d scenarios among %d examples", seen, len(files))
	}
}

// A document can be read repeatedly with other values, and always equals the file with
// those values.
func TestDocumentIsReadAgain(t *testing.T) {
	data, err := os.ReadFile("../examples/compare-flare.yaml")
	if err != nil {
		t.Fatal(err)
	}
	d, err := scenario.Open("file", data, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, sets := range [][]string{
		{"balls[1].layout.pin_to_pap=5 in", "bowlers[0].speed=17 mph"}, nil, {"lane.oil=flat", "bowler.target={board: 12, distance: 15 ft}"},
		{"bowler.like=two-handed"}, {"balls[0].rg=2 km"}, {"ball.rg=2.6 in"}, {"bowler.sped=3 mph"}, nil,
	} {
		want, wantErr := scenario.Read("file", data, nil, sets)
		got, err := d.Read(sets)
		if (err == nil) != (wantErr == nil) || err != nil && err.Error() != wantErr.Error() {
			t.Errorf("%q: %v, not %v", sets, err, wantErr)
			continue
		}
		if err != nil {
			continue
		}
		if diff := cmp.Diff(inputsOf(t, want), inputsOf(t, got)); diff != "" || !slices.Equal(got.Warnings, want.Warnings) {
			t.Errorf("%q: %s\n%q", sets, diff, got.Warnings)
		}
		text, err := d.YAML(sets)
		if err != nil {
			t.Fatal(err)
		}
		written, err := scenario.Read("written", text, nil, nil)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if diff := cmp.Diff(inputsOf(t, want), inputsOf(t, written)); diff != "" {
			t.Errorf("%q, written: %s\n%s", sets, diff, text)
		}
	}
}
