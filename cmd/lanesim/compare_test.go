package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

type comparedShares struct {
	Cause      string   `json:"cause"`
	AtPins     *float64 `json:"at_pins_boards"`
	Breakpoint *float64 `json:"breakpoint_ft"`
	EntryAngle *float64 `json:"entry_angle_deg"`
	HookStart  *float64 `json:"hook_start_ft"`
}

func (s comparedShares) all() []*float64 {
	return []*float64{s.AtPins, s.Breakpoint, s.EntryAngle, s.HookStart}
}

type comparedOutput struct {
	Pairs []struct {
		A, B struct {
			Ball    string          `json:"ball"`
			Status  string          `json:"status"`
			Inputs  json.RawMessage `json:"inputs"`
			Summary struct {
				EntryBoard *float64 `json:"entry_board"`
				EntryAngle *float64 `json:"entry_angle_deg"`
			} `json:"summary"`
		}
		Difference []struct {
			Distance *float64 `json:"distance_ft"`
			Boards   *float64 `json:"boards"`
		} `json:"difference_boards"`
		comparedShares
		Mechanisms  []comparedShares `json:"mechanisms"`
		Inputs      []comparedShares `json:"inputs"`
		Explanation string           `json:"explanation"`
	}
}

func comparedJSON(t *testing.T, arguments ...string) comparedOutput {
	t.Helper()
	var out comparedOutput
	if err := json.Unmarshal([]byte(good(t, "", append([]string{"compare", "--json", "-q"}, arguments...)...)), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// The JSON holds b − a, and shares of it that add up.
func TestComparisonAsJSON(t *testing.T) {
	out := comparedJSON(t, filepath.Join(examples, "compare-flare.yaml"), "--set", "balls[1].roughness=16 uin")
	if len(out.Pairs) != 3 {
		t.Fatalf("%d pairs", len(out.Pairs))
	}
	const unitRounding = 1e-12 // of converting to feet and degrees
	for _, p := range out.Pairs {
		if d := *p.B.Summary.EntryBoard - *p.A.Summary.EntryBoard; *p.AtPins != d {
			t.Errorf("%v boards at the pins, not %v", *p.AtPins, d)
		}
		if d := *p.B.Summary.EntryAngle - *p.A.Summary.EntryAngle; math.Abs(*p.EntryAngle-d) > unitRounding {
			t.Errorf("%v deg, not %v", *p.EntryAngle, d)
		}
		last := p.Difference[len(p.Difference)-1]
		if p.Difference[0].Boards == nil || *last.Distance != 60 || math.Abs(*last.Boards-*p.AtPins) > unitRounding {
			t.Errorf("the last difference is %v at %v", *last.Boards, *last.Distance)
		}
		names := func(list []comparedShares) (names []string) {
			for _, c := range list {
				names = append(names, c.Cause)
			}
			return names
		}
		if got := names(p.Mechanisms); !slices.Equal(got, []string{"oil_on_track", "axis_migration", "rg_about_axis", "other"}) {
			t.Error(got)
		}
		if got := names(p.Inputs); !slices.Equal(got, []string{"layout", "surface"}) {
			t.Error(got)
		}
		for i, total := range p.all() {
			for _, list := range [][]comparedShares{p.Mechanisms, p.Inputs} {
				sum := 0.0
				for _, c := range list {
					sum += *c.all()[i]
				}
				if math.Abs(sum-*total) > unitRounding {
					t.Errorf("%v adds up to %v, not %v", names(list), sum, *total)
				}
			}
		}
	}
}

// The numbers of a comparison are those of the shots thrown alone.
func TestComparedShotsAreThoseThrown(t *testing.T) {
	p := comparedJSON(t, filepath.Join(examples, "low-flare.yaml")).Pairs[0]
	for _, shot := range []struct {
		inputs json.RawMessage
		board  float64
	}{{p.A.Inputs, *p.A.Summary.EntryBoard}, {p.B.Inputs, *p.B.Summary.EntryBoard}} {
		thrown := readThrown(t, good(t, string(shot.inputs), "throw", "-", "--json", "-q"))
		if thrown != shot.board {
			t.Errorf("board %v compared, %v thrown", shot.board, thrown)
		}
	}
}

func readThrown(t *testing.T, text string) float64 {
	t.Helper()
	var out struct {
		Shots []struct {
			Summary struct {
				EntryBoard float64 `json:"entry_board"`
			} `json:"summary"`
		} `json:"shots"`
	}
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		t.Fatal(err)
	}
	return out.Shots[0].Summary.EntryBoard
}

func TestGutterBallsHaveNullsInTheComparison(t *testing.T) {
	p := comparedJSON(t, filepath.Join(examples, "compare-flat.yaml"), "--set", "bowler.angle=7 deg").Pairs[0]
	for _, c := range append(append([]comparedShares{p.comparedShares}, p.Mechanisms...), p.Inputs...) {
		for _, v := range c.all() {
			if v != nil {
				t.Errorf("%s has %v", c.Cause, *v)
			}
		}
	}
	if last := p.Difference[len(p.Difference)-1]; last.Boards != nil && p.A.Status != p.B.Status {
		t.Errorf("%v boards apart at the end", *last.Boards)
	}
	if !strings.Contains(p.Explanation, "gutter") {
		t.Error(p.Explanation)
	}
}

func TestComparisonStopsWhenInterrupted(t *testing.T) {
	if code, output, _ := interrupted(t, "compare", "-"); code != exitInterrupted || output != "" {
		t.Errorf("exit code %d, %q printed", code, output)
	}
}
