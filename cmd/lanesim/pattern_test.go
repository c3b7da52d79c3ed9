package main

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// measuredPattern is the part of a pattern's JSON that the tests read.
type measuredPattern struct {
	Kind    string   `json:"kind"`
	Length  float64  `json:"length_ft"`
	Volume  float64  `json:"volume_mL"`
	Ratio   ratios   `json:"ratio"`
	Exit    *float64 `json:"exit_board"`
	Section []struct {
		Distance float64 `json:"distance_ft"`
		Ratio    ratios  `json:"ratio"`
	} `json:"sections"`
	Units    []float64 `json:"units"`
	Cautions []string  `json:"cautions"`
}

type ratios struct{ Right, Left, Both *float64 }

func measurePattern(t testing.TB, input string, arguments ...string) measuredPattern {
	t.Helper()
	var m measuredPattern
	readJSON(t, good(t, input, append(append([]string{"pattern"}, arguments...), "--json")...), &m)
	return m
}

// A built pattern has the given numbers, read from its settings and from its grid.
func TestBuiltPatternsMeetTheirNumbers(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		// Tenths, as people write them, with the inside boards on the plateau and the outside
		// ones beyond the shoulders.
		tenths := func(name string, from, to int) float64 { return float64(rapid.IntRange(from, to).Draw(rt, name)) / 10 }
		length, volume, ratio := tenths("length", 250, 550), tenths("volume", 100, 350), tenths("ratio", 2, 200)
		arguments := []string{"pattern", "build", fmt.Sprintf("--length=%gft", length), fmt.Sprintf("--volume=%g mL", volume), fmt.Sprintf("--ratio=%g", ratio),
			fmt.Sprintf("--front-to-back=%g", tenths("front to back", 10, 200)), fmt.Sprintf("--fall-off=%g", tenths("fall off", 2, 60)),
			fmt.Sprintf("--plateau=%g", tenths("plateau", 60, 150)), fmt.Sprintf("--shoulder=%g", tenths("shoulder", 10, 50))}
		if rapid.Bool().Draw(rt, "grid") {
			arguments = append(arguments, "--grid")
		}
		m := measurePattern(t, good(t, "", arguments...), "-")
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"length", m.Length, length}, {"volume", m.Volume, volume}, {"ratio", *m.Ratio.Both, ratio},
			{"ratio on the right", *m.Ratio.Right, ratio}, {"ratio on the left", *m.Ratio.Left, ratio},
			{"ratio at 15 ft", *m.Section[1].Ratio.Both, ratio},
		} {
			// Sums of about 2000 film values, each rounded to 1e-16.
			if math.Abs(c.got-c.want) > 1e-9*c.want {
				rt.Errorf("%s: %s is %v, want %v", strings.Join(arguments, " "), c.name, c.got, c.want)
			}
		}
	})
}

// Tape readings have the same measures as the grid to which they are converted.
func TestConvertedTapeIsTheTape(t *testing.T) {
	tape := filepath.Join(examples, "tape-readings.csv")
	grid := good(t, "", "pattern", "convert", tape)
	a, b := measurePattern(t, "", tape), measurePattern(t, grid, "-")
	if fmt.Sprint(a.Units) != fmt.Sprint(b.Units) || a.Volume != b.Volume || a.Length != b.Length || b.Kind != "grid" {
		t.Errorf("%+v\nis not\n%+v", b, a)
	}
	if len(a.Cautions) != 1 || len(b.Cautions) != 1 || len(measurePattern(t, "", "house").Cautions) != 0 {
		t.Errorf("cautions %q and %q", a.Cautions, b.Cautions)
	}
	smooth := measurePattern(t, good(t, "", "pattern", "convert", tape, "--smooth", "4"), "-")
	// Each row is a sum of 39 weighted values.
	if math.Abs(smooth.Volume-a.Volume) > 1e-12*a.Volume || fmt.Sprint(smooth.Units) == fmt.Sprint(a.Units) {
		t.Errorf("smoothed to %v mL, read %v mL", smooth.Volume, a.Volume)
	}
	if again := measurePattern(t, "", tape, "--smooth", "4"); fmt.Sprint(again.Units) != fmt.Sprint(smooth.Units) {
		t.Errorf("smoothed while measured: %v\nwhile converted: %v", again.Units, smooth.Units)
	}
}

// Numbers that do not exist are null.
func TestPatternNumbersThatDoNotExistAreNull(t *testing.T) {
	m := measurePattern(t, "{kind: crown, length: 20 ft, volume: 10 mL, ratio: 3}", "-")
	if m.Exit != nil || m.Section[2].Distance != 22 || m.Section[2].Ratio.Both != nil || m.Section[0].Ratio.Both == nil {
		t.Errorf("%+v", m)
	}
}
