package main

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

type comparedShares struct {
	Cause        string   `json:"cause"`
	AtPins       *float64 `json:"at_pins_boards"`
	FrictionRead *float64 `json:"friction_read_ft"`
	Breakpoint   *float64 `json:"breakpoint_ft"`
	HookStart    *float64 `json:"hook_start_ft"`
	EntryAngle   *float64 `json:"entry_angle_deg"`
}

func (s comparedShares) all() []*float64 {
	return []*float64{s.AtPins, s.FrictionRead, s.Breakpoint, s.HookStart, s.EntryAngle}
}

type comparedHolds struct {
	FrictionRead map[string]int `json:"friction_read"`
	AtPins       map[string]int `json:"at_pins"`
}

type comparedOutput struct {
	Answer string `json:"answer"`
	Matrix []struct {
		Bowler   *string        `json:"bowler"`
		Line     *string        `json:"line"`
		FeetA    *float64       `json:"feet_board_a"`
		FeetB    *float64       `json:"feet_board_b"`
		ArrowsA  *float64       `json:"arrows_board_a"`
		Lane     *string        `json:"lane"`
		A        string         `json:"a"`
		B        string         `json:"b"`
		Entry    *float64       `json:"entry_board"`
		EntryB   *float64       `json:"entry_board_b"`
		AtPins   *float64       `json:"at_pins_boards"`
		AtPinsSD *float64       `json:"at_pins_boards_sd"`
		Read     *float64       `json:"friction_read_ft"`
		ReadSD   *float64       `json:"friction_read_ft_sd"`
		Angle    *float64       `json:"entry_angle_deg"`
		AngleSD  *float64       `json:"entry_angle_deg_sd"`
		HitA     *string        `json:"hit_a"`
		HitB     *string        `json:"hit_b"`
		Visible  bool           `json:"visible"`
		Holds    *comparedHolds `json:"holds"`
	}
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
		AtPinsSD    *float64         `json:"at_pins_boards_sd"`
		Error       *comparedShares  `json:"numerical_error"`
		Visible     bool             `json:"visible"`
		Holds       *comparedHolds   `json:"holds"`
		Mechanisms  []comparedShares `json:"mechanisms"`
		Inputs      []comparedShares `json:"inputs"`
		Explanation string           `json:"explanation"`
	}
}

func comparedJSON(t *testing.T, arguments ...string) comparedOutput {
	t.Helper()
	var out comparedOutput
	readJSON(t, goodOnce(t, append([]string{"compare", "--json", "-q"}, arguments...)...), &out)
	return out
}

// The JSON has b − a and its shares, which add up to it.
func TestComparisonAsJSON(t *testing.T) {
	out := comparedJSON(t, filepath.Join(examples, "compare-flare.yaml"), "--assumed", "0", "--set", "balls[1].roughness=16 uin")
	if len(out.Pairs) != 3 {
		t.Fatalf("%d pairs", len(out.Pairs))
	}
	const unitRounding = 1e-12 // for means over phases, in feet and degrees
	for _, p := range out.Pairs {
		if d := *p.B.Summary.EntryBoard - *p.A.Summary.EntryBoard; math.Abs(*p.AtPins-d) > unitRounding {
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
					if share := c.all()[i]; (share == nil) != (total == nil) {
						t.Errorf("%s is %v, the whole %v", c.Cause, share, total)
					} else if share != nil {
						sum += *share
					}
				}
				if total != nil && math.Abs(sum-*total) > unitRounding {
					t.Errorf("%v adds up to %v, not %v", names(list), sum, *total)
				}
			}
		}
	}
}

// The matrix gives the pairs in short, and how many sets of assumed values give the same
// answers.
func TestMatrixOfAComparison(t *testing.T) {
	out := comparedJSON(t, filepath.Join(examples, "compare-flare.yaml"), "--assumed", "7")
	if len(out.Matrix) != 3 {
		t.Fatalf("%d lines", len(out.Matrix))
	}
	for k, m := range out.Matrix {
		p := out.Pairs[k]
		if *m.AtPins != *p.AtPins || *m.AtPinsSD != *p.AtPinsSD || *m.Read != *p.FrictionRead || *m.Angle != *p.EntryAngle || m.Visible != p.Visible ||
			*m.Entry != *p.A.Summary.EntryBoard || *m.EntryB != *p.B.Summary.EntryBoard || *m.ReadSD <= 0 || *m.AngleSD <= 0 {
			t.Errorf("line %d is not of its pair: %+v", k, m)
		}
		if m.A != "High flare" || m.B != "Low flare" || *m.Lane == "" || *m.HitA != "pocket" || math.Abs(*m.Entry-17.5) > 0.005 {
			t.Errorf("line %d: %+v", k, m)
		}
		for _, h := range []*comparedHolds{m.Holds, p.Holds} {
			if f := h.FrictionRead; f["of"] != 7 || f["later"]+f["earlier"]+f["none"] != 7 || f["later"] < 6 {
				t.Errorf("line %d: friction read %v", k, f)
			}
			if f := h.AtPins; f["of"] != 7 || f["outside"]+f["inside"]+f["none"] != 7 || len(f) != 4 {
				t.Errorf("line %d: at pins %v", k, f)
			}
		}
	}
	if p := out.Pairs[0]; p.Error != nil {
		t.Errorf("a numerical error of %+v that nobody asked for", p.Error)
	}
	// A pair on another lane or of another bowler has no name.
	lanes := comparedJSON(t, filepath.Join(examples, "house-and-flat.yaml"), "--assumed", "0").Matrix
	if m := lanes[0]; m.Lane != nil || *m.Bowler != "Outside" || m.A != "House pattern" || m.Holds != nil {
		t.Errorf("%+v", m)
	}
}

// The entry in a comparison is the mean of shots thrown separately at the same phases.
func TestComparedShotsAreThoseThrown(t *testing.T) {
	p := comparedJSON(t, filepath.Join(examples, "low-flare.yaml"), "--assumed", "0").Pairs[0]
	for _, shot := range []struct {
		inputs json.RawMessage
		board  float64
	}{{p.A.Inputs, *p.A.Summary.EntryBoard}, {p.B.Inputs, *p.B.Summary.EntryBoard}} {
		sum := 0.0
		for k := range 12 {
			sum += readThrown(t, good(t, string(shot.inputs), "throw", "-", "--json", "-q", "--tolerance", "1e-4", "--set", fmt.Sprintf("bowler.phase=%d deg", 30*k)))
		}
		// Phases written in degrees are rounded. With film on the ball that alone moves a
		// shot by as much as the tolerance of studies permits.
		const open = 0.01
		if math.Abs(sum/12-shot.board) > open {
			t.Errorf("board %v compared, %v thrown", shot.board, sum/12)
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
	readJSON(t, text, &out)
	return out.Shots[0].Summary.EntryBoard
}

func TestGutterBallsHaveNullsInTheComparison(t *testing.T) {
	out := comparedJSON(t, filepath.Join(examples, "compare-flat.yaml"), "--set", "bowler.angle=7 deg", "--assumed", "3")
	p, m := out.Pairs[0], out.Matrix[0]
	for _, c := range append(append([]comparedShares{p.comparedShares}, p.Mechanisms...), p.Inputs...) {
		if c.AtPins != nil || c.EntryAngle != nil {
			t.Errorf("%s has %v and %v", c.Cause, c.AtPins, c.EntryAngle)
		}
	}
	if m.Entry != nil || m.HitA != nil || m.AtPins != nil {
		t.Errorf("%+v", m)
	}
	if last := p.Difference[len(p.Difference)-1]; last.Boards != nil && p.A.Status != p.B.Status {
		t.Errorf("%v boards apart at the end", *last.Boards)
	}
	if !strings.Contains(p.Explanation, "gutter") {
		t.Error(p.Explanation)
	}
}

// Bowlers, lanes, lines and layouts give one table that begins with the answer, and the
// whole output is short.
func TestComparisonOverLanesAndLines(t *testing.T) {
	t.Parallel()
	file := filepath.Join(examples, "layouts-sport-and-house.yaml")
	written := filepath.Join(t.TempDir(), "all.json")
	text := good(t, "", "compare", "-q", "--assumed", "0", file, "-o", written)
	var out comparedOutput
	readJSON(t, contents(t, written), &out)
	if len(out.Matrix) != 12 || len(out.Pairs) != 12 {
		t.Fatalf("%d lines of the matrix, %d pairs", len(out.Matrix), len(out.Pairs))
	}
	seen := map[string]bool{}
	for _, m := range out.Matrix {
		if m.A != "Strong" || m.B != "Control" || m.Bowler == nil || m.Lane == nil || m.Line == nil {
			t.Fatalf("%+v", m)
		}
		seen[*m.Bowler+*m.Lane+*m.Line] = true
		// The bowler's own line is found on each lane; the other line is moved from it.
		if *m.Line == "from inside" && math.Abs(*m.Entry-17.5) > 0.005 {
			t.Errorf("%s on %s enters on board %v from the own line", *m.Bowler, *m.Lane, *m.Entry)
		}
	}
	if len(seen) != 12 {
		t.Error(seen)
	}
	for i := 1; i < len(out.Matrix); i += 2 {
		own, moved := out.Matrix[i-1], out.Matrix[i]
		if *moved.Line != "moved right" || *moved.FeetA-*own.FeetA != -5 || math.Abs(*moved.ArrowsA-*own.ArrowsA+4) > 1e-9 || *moved.FeetB != *moved.FeetA {
			t.Errorf("not 5 and 4 right: %+v, %+v", own, moved)
		}
	}
	lines := strings.Split(text, "\n")
	if len(lines) > 250 {
		t.Errorf("%d lines", len(lines))
	}
	if top := strings.Join(lines[:10], " "); !strings.Contains(top, "Control against Strong: on Sport friction read") || !strings.Contains(top, "is the smoother") {
		t.Errorf("the first lines do not answer: %s", top)
	}
	// Without film on the balls the shots take less time and the pairs are the same.
	for between, pairs := range map[string]int{"lines": 12, "lanes": 12, "bowlers": 24} {
		arguments := append([]string{file, "--assumed", "0", "--between", between}, strings.Fields(withoutFilm)...)
		if n := len(comparedJSON(t, arguments...).Pairs); n != pairs {
			t.Errorf("%d pairs between %s, not %d", n, between, pairs)
		}
	}
}
