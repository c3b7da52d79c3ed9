package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"lanesim/report"
)

type spreadEstimate struct {
	Value *float64 `json:"value"`
	Error *float64 `json:"standard_error"`
}

type spreadOutput struct {
	Model      int      `json:"model"`
	Warnings   []string `json:"warnings"`
	Deliveries []struct {
		Bowler, Ball, Lane string
		Shots              int         `json:"shots"`
		Pocket             float64     `json:"pocket_share"`
		Within             *[2]float64 `json:"pocket_interval"`
		Good               float64     `json:"good_angle_share"`
		Board              struct {
			Mean      *float64            `json:"mean"`
			SD        *float64            `json:"sd"`
			Quantiles map[string]*float64 `json:"quantiles"`
		} `json:"entry_board"`
		Hits        map[string]float64 `json:"hits"`
		Ends        map[string]int     `json:"ends"`
		Sensitivity map[string]struct {
			Minus, Plus *float64
			Board       spreadEstimate `json:"entry_board_explained"`
			Without     *struct {
				Shots    int        `json:"shots"`
				Interval [2]float64 `json:"gain_interval"`
			} `json:"pocket_share_without"`
			Sobol *struct {
				BoardTotal spreadEstimate `json:"entry_board_total"`
			} `json:"sobol"`
		} `json:"sensitivity"`
	} `json:"deliveries"`
	Differences []struct {
		BallA, BallB string
		Difference   float64    `json:"pocket_share_difference"`
		Interval     [2]float64 `json:"difference_interval"`
		OnlyA        int        `json:"only_a"`
		OnlyB        int        `json:"only_b"`
		Significant  bool       `json:"significant"`
	} `json:"differences"`
}

func spreadJSON(t *testing.T, arguments ...string) spreadOutput {
	t.Helper()
	var out spreadOutput
	readJSON(t, good(t, "", append([]string{"spread", "--json", "-q"}, arguments...)...), &out)
	return out
}

// The JSON and the rows of the CSV contain the same deliveries.
func TestSpreadAsJSONAndCSV(t *testing.T) {
	arguments := []string{filepath.Join(examples, "spread-two-balls.yaml"), "--shots", "150", "--seed", "5"}
	written := filepath.Join(t.TempDir(), "rows.csv")
	out := spreadJSON(t, append(arguments, "--sobol", "-o", written)...)
	if out.Model != report.Model || len(out.Deliveries) != 2 || len(out.Differences) != 1 || len(out.Warnings) != 0 {
		t.Fatalf("%+v", out)
	}
	for _, d := range out.Deliveries {
		sum := 0.0
		for _, share := range d.Hits {
			sum += share
		}
		if len(d.Hits) != 6 || math.Abs(sum-1) > 1e-12 || d.Hits["pocket"] != d.Pocket {
			t.Errorf("hits %v, in the pocket %v", d.Hits, d.Pocket)
		}
	}
	rows := strings.Split(strings.TrimSpace(string(contents(t, written))), "\n")
	if len(rows) != 1+2*150 {
		t.Fatalf("%d rows", len(rows))
	}
	pockets := map[string]int{}
	for _, row := range rows[1:] {
		cells := strings.Split(row, ",")
		if cells[14] == "true" {
			pockets[cells[1]]++
		}
	}
	for _, d := range out.Deliveries {
		if d.Shots != 150 || d.Pocket != float64(pockets[d.Ball])/150 {
			t.Errorf("%s: %d deliveries, share %g, %d rows in the pocket", d.Ball, d.Shots, d.Pocket, pockets[d.Ball])
		}
		if !(d.Within[0] < d.Pocket && d.Pocket < d.Within[1]) || d.Board.Mean == nil || len(d.Board.Quantiles) != 5 || d.Ends["pins"] == 0 {
			t.Errorf("%+v", d)
		}
		if len(d.Sensitivity) != 7 {
			t.Errorf("%d deviations", len(d.Sensitivity))
		}
		for name, m := range d.Sensitivity {
			if m.Board.Value == nil || m.Without == nil || m.Without.Shots != 150 || m.Sobol == nil || m.Sobol.BoardTotal.Value == nil {
				t.Errorf("%s: %+v", name, m)
			}
		}
	}
	d := out.Differences[0]
	const rounding = 1e-12
	if off := d.Difference - (out.Deliveries[1].Pocket - out.Deliveries[0].Pocket); math.Abs(off) > rounding || d.Difference != float64(d.OnlyB-d.OnlyA)/150 {
		t.Errorf("%+v", d)
	}
	if (d.Interval[0] <= 0 && 0 <= d.Interval[1]) == d.Significant {
		t.Errorf("%v is significant: %v", d.Interval, d.Significant)
	}
}

func TestGutterBallsHaveNullsInTheSpread(t *testing.T) {
	out := spreadJSON(t, filepath.Join(examples, "first-shot.yaml"), "--shots", "60", "--set", "bowler.angle=15 deg", "--level", "tournament")
	d := out.Deliveries[0]
	if d.Pocket != 0 || d.Within[0] != 0 || d.Ends["gutter"] != 60 || d.Board.Mean != nil || d.Board.Quantiles["p50"] != nil || d.Sensitivity["speed"].Board.Value != nil {
		t.Errorf("%+v", d)
	}
}

func TestSharesOfFlagsAreRead(t *testing.T) {
	for text, want := range map[string]float64{"": 0, "1%": 0.01, "2.5 %": 0.025, "0.03": 0.03} {
		if got, err := shareOf("until", text); err != nil || math.Abs(got-want) > 1e-15 {
			t.Errorf("%q is %g, error %v", text, got, err)
		}
	}
	for _, text := range []string{"0", "-1%", "100%", "1", "x", "%", "NaN"} {
		if _, err := shareOf("until", text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
}
