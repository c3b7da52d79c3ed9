package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// On long oil three launch angles reach the pocket at the higher speeds; below 18.1 mph the
// two smaller ones no longer do.
const aimedSweep = `scenario:
  lane: {oil: {kind: crown, length: 46.3 ft, volume: 26.8 mL, ratio: 15.6}}
  ball:
    weight: 15 lb
    rg: 2.49 in
    differential: 0.048 in
    intermediate_differential: 0.012 in
    layout: {drilling_angle: 60 deg, pin_to_pap: 4.5 in, val_angle: 40 deg}
    grip: undrilled
    film_memory: off
  bowler: {speed: 18.5 mph, rev_rate: 391 rpm, axis_rotation: 65 deg, axis_tilt: 13 deg, laydown: 30, aim: pocket}
vary: {bowler.speed: {from: 17.6 mph, to: 19.4 mph, steps: 10}, lane.roughness: [0.2 um, 0.21 um]}
columns: [launch_angle_deg, entry_board]
`

// Rows follow one line from step to step and report where it ends.
func TestSweepFollowsALine(t *testing.T) {
	path := sweepFile(t, aimedSweep)
	rows, err := csv.NewReader(strings.NewReader(good(t, "", "sweep", path, "--csv", "-q"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := "row bowler.speed_mph lane.roughness_um line launch_angle_deg entry_board"; strings.Join(rows[0], " ") != want {
		t.Fatalf("columns %v", rows[0])
	}
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for i, row := range rows[1:] {
		speed, angle, board := number(row[1]), number(row[4]), number(row[5])
		want := "own"
		if speed < 18.1 {
			want = "changed"
		}
		if row[3] != want || board < 17.49 || board > 17.51 {
			t.Errorf("%v: want the line %s to board 17.5", row, want)
		}
		if i < 2 {
			continue
		}
		// A step of 0.2 mph moves a line by less than a quarter of a degree; a change to
		// another line is more than one degree.
		before := rows[i-1]
		if moved := number(before[4]) - angle; (moved > 1) != (row[3] != before[3]) || moved < 0 || moved > 0.25 && row[3] == before[3] {
			t.Errorf("%v after %v", row, before)
		}
	}
	picture := filepath.Join(t.TempDir(), "rows.svg")
	good(t, "", "sweep", path, "-q", "-o", picture)
	if svg := contents(t, picture); !bytes.Contains(svg, []byte("are on another line")) {
		t.Error("the picture does not say that the line changes")
	}
}

// Aimed rows do not depend on jobs, on parts or on where a run was resumed.
func TestAimedRowsAreTheSameHoweverComputed(t *testing.T) {
	path, folder := sweepFile(t, aimedSweep), t.TempDir()
	want := good(t, "", "sweep", path, "--csv", "-q", "--jobs", "1")
	if got := good(t, "", "sweep", path, "--csv", "-q", "--jobs", "3"); got != want {
		t.Errorf("with 3 jobs\n%s\nwith one\n%s", got, want)
	}
	const parts = 3
	for i := range parts {
		good(t, "", "sweep", path, "-q", "--shard", fmt.Sprintf("%d/%d", parts-1-i, parts), "-o", folder)
	}
	joined := filepath.Join(t.TempDir(), "rows.csv")
	good(t, "", "merge", folder, "-q", "-o", joined)
	if got := contents(t, joined); string(got) != want {
		t.Errorf("in parts\n%s\nat once\n%s", got, want)
	}
}
