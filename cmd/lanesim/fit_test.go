package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lanesim/scenario"
)

var (
	fitScenario = filepath.Join(examples, "fit-friction.yaml")
	fitTracks   = filepath.Join(examples, "friction-tracks.csv")
)

// The intervals contain the values from which the example's tracks were made, with speeds
// known and with speeds fitted.
func TestFitOfTheExampleFindsWhatItWasMadeWith(t *testing.T) {
	for _, known := range []bool{false, true} {
		arguments := []string{"fit", fitScenario, fitTracks, "--fit", "film,dry", "--json"}
		if known {
			arguments = append(arguments, "--known-speed")
		}
		var r struct {
			Friction []struct {
				Setting  string
				Value    float64
				Interval [2]float64 `json:"interval_95"`
			}
			Shots []struct {
				Points []struct {
					Board *float64 `json:"board_off"`
					Time  *float64 `json:"time_off_s"`
				}
			}
		}
		readJSON(t, goodOnce(t, arguments...), &r)
		truth := map[string]float64{"film": 0.026, "dry": 0.18}
		for _, s := range r.Friction {
			want := truth[s.Setting]
			// One interval in twenty misses, so half their width more is allowed.
			half := math.Sqrt(math.Sqrt(s.Interval[1] / s.Interval[0]))
			if want < s.Interval[0]/half || want > s.Interval[1]*half || math.Abs(s.Value/want-1) > 0.1 {
				t.Errorf("%s is %v, in %v; it was made with %v", s.Setting, s.Value, s.Interval, want)
			}
		}
		if len(r.Friction) != 2 || len(r.Shots) != 12 || r.Shots[0].Points[0].Board == nil || r.Shots[0].Points[0].Time != nil {
			t.Errorf("%d settings, %d shots", len(r.Friction), len(r.Shots))
		}
	}
}

// The printed YAML can replace the friction in the scenario, and equals the fitted one.
func TestFittedFrictionCanBePasted(t *testing.T) {
	written := filepath.Join(t.TempDir(), "fit.json")
	table := good(t, "", "fit", fitScenario, fitTracks, "--fit", "film,dry", "-o", written)
	_, pasted, found := strings.Cut(table, "\nlane:\n")
	if !found {
		t.Fatal(table)
	}
	text := contents(t, fitScenario)
	var lines []string
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "  friction:") {
			line = pasted
		}
		lines = append(lines, line)
	}
	s, err := scenario.Read("pasted.yaml", []byte(strings.Join(lines, "")), os.ReadFile, nil)
	if err != nil {
		t.Fatal(err)
	}
	var r struct {
		Friction []struct{ Value float64 }
	}
	readJSON(t, contents(t, written), &r)
	const rounding = 1e-4 // for five digits
	f := s.Lanes[0].Friction
	for i, got := range []float64{f.Film, f.Dry} {
		if math.Abs(got/r.Friction[i].Value-1) > rounding || f.Film == 0.022 {
			t.Errorf("pasted %v, fitted %v", f, r.Friction)
		}
	}
}

func TestAnInterruptEndsAFit(t *testing.T) {
	folder := t.TempDir()
	code, output, problems := interrupted(t, "fit", "-", fitTracks, "-o", filepath.Join(folder, "fit.json"))
	if code != exitInterrupted || output != "" || !strings.Contains(problems, "interrupted") {
		t.Errorf("exit code %d, %q, %q", code, output, problems)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}
