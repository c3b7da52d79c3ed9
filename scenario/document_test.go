package scenario

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// allInputs returns the inputs of all deliveries.
func allInputs(t *testing.T, s *Scenario) []string {
	t.Helper()
	var list []string
	for _, d := range deliveriesOf(t, s) {
		list = append(list, string(inputsOf(t, s, d, s.Bowlers[d.Bowler].Release.Angle)))
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
	files, seen := testFiles(t, "../examples/*.yaml"), 0
	for _, example := range files {
		file := filepath.ToSlash(example.path)
		d, err := Open(file, example.text, os.ReadFile)
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
		turned := mustRead(t, "alone", text, nil)
		want, err := d.Read([]string{"bowler.phase=10 deg"})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(allInputs(t, want), allInputs(t, turned)); diff != "" {
			t.Errorf("%s, written out: %s\n%s", file, diff, text)
		}
		lane, first, second := len(s.Lanes)-1, 0, len(s.Balls)-1
		whole := allInputs(t, s)
		for bowler := range s.Bowlers {
			only, err := d.Only(lane, bowler, first, second)
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			text, err := only.YAML(nil)
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			again := mustRead(t, "taken", text, nil)
			parts := allInputs(t, again)
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
	d, err := Open("file", data, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, sets := range [][]string{
		{"balls[1].layout.pin_to_pap=5 in", "bowlers[0].speed=17 mph"}, nil, {"lane.oil=flat", "bowler.target={board: 12, distance: 15 ft}"},
		{"bowler.like=two-handed"}, {"balls[0].rg=2 km"}, {"ball.rg=2.6 in"}, {"bowler.sped=3 mph"}, nil,
	} {
		want, wantErr := Read("file", data, nil, sets)
		got, err := d.Read(sets)
		if (err == nil) != (wantErr == nil) || err != nil && err.Error() != wantErr.Error() {
			t.Errorf("%q: %v, not %v", sets, err, wantErr)
			continue
		}
		if err != nil {
			continue
		}
		if diff := cmp.Diff(allInputs(t, want), allInputs(t, got)); diff != "" || !slices.Equal(got.Warnings, want.Warnings) {
			t.Errorf("%q: %s\n%q", sets, diff, got.Warnings)
		}
		text, err := d.YAML(sets)
		if err != nil {
			t.Fatal(err)
		}
		written := mustRead(t, "written", text, nil)
		if diff := cmp.Diff(allInputs(t, want), allInputs(t, written)); diff != "" {
			t.Errorf("%q, written: %s\n%s", sets, diff, text)
		}
	}
}
