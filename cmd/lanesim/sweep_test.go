package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"

	"github.com/google/go-cmp/cmp"
	"github.com/parquet-go/parquet-go"
)

// sweepFile writes a sweep file and returns its path.
func sweepFile(t testing.TB, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sweep.yaml")
	write(t, path, text)
	return path
}

// quickSweep is fast to compute: 3 × 4 points of two balls, some of which end in the gutter
// or never roll.
const quickSweep = `title: A title, with a comma
scenario:
  lane: {oil: dry}
  balls:
    - {name: 'Ball, first', rg: 2.6 in}
    - {name: Second, rg: 2.5 in, roughness: 8 uin}
  bowler: {speed: 18 mph, rev_rate: 100 rpm, axis_rotation: 60 deg, axis_tilt: 10 deg, laydown: 20, angle: 1 deg}
vary:
  bowler.angle: [0.5 deg, 6 deg, -6 deg]
  bowler.rev_rate: {from: 0 rpm, to: 300 rpm, steps: 4}
  lane.friction: [{law: constant, mu: 0.02}, {law: mixed}]
`

func allColumns() string {
	var names []string
	for _, c := range thrown.ShotColumns() {
		names = append(names, c.Key)
	}
	return "columns: [" + strings.Join(names, ", ") + "]\n"
}

// shotValue returns the value in a shot's JSON at the path given by a column's name, whose
// keys are joined by _.
func shotValue(v any, name string) (any, bool) {
	if name == "" {
		return v, true
	}
	if parts, ok := v.([]any); ok {
		if i := slices.Index([]string{"down_lane", "left", "up"}, name); i >= 0 {
			return parts[i], true
		}
	}
	o, _ := v.(map[string]any)
	for key, inner := range o {
		if name == key {
			return inner, true
		}
		if rest, ok := strings.CutPrefix(name, key+"_"); ok {
			if inner == nil {
				return nil, true
			}
			if found, ok := shotValue(inner, rest); ok {
				return found, true
			}
		}
	}
	return nil, false
}

// Every column of a row equals, digit by digit, the value that throw prints under its name
// for the row's values.
func TestRowsAreShots(t *testing.T) {
	path := sweepFile(t, quickSweep+allColumns())
	scenarioPath := filepath.Join(filepath.Dir(path), "scenario.yaml")
	text := strings.ReplaceAll(strings.Split(strings.Split(quickSweep, "vary:")[0], "scenario:\n  ")[1], "\n  ", "\n")
	write(t, scenarioPath, text)
	rows, err := csv.NewReader(strings.NewReader(good(t, "", "sweep", path, "--csv", "-q"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+3*4*2*2 {
		t.Fatalf("%d rows", len(rows)-1)
	}
	missing := 0
	for i := 1; i < len(rows); i += 2 {
		row := rows[i]
		if row[0] != strconv.Itoa(i-1) {
			t.Errorf("row %d is numbered %s", i-1, row[0])
		}
		friction := row[3]
		output := good(t, "", "throw", scenarioPath, "--json", "-q", "--tolerance", fmt.Sprint(studies.ManyShotsTolerance),
			"--set", "bowler.angle="+row[1]+" deg", "--set", "bowler.rev_rate="+row[2]+" rpm", "--set", "lane.friction="+friction)
		var result struct{ Shots []map[string]any }
		decoder := json.NewDecoder(strings.NewReader(output))
		decoder.UseNumber()
		if err := decoder.Decode(&result); err != nil {
			t.Fatal(err)
		}
		for s, shot := range result.Shots {
			row := rows[i+s]
			if row[4] != shot["ball"] {
				t.Errorf("row %d is of %s, not of %s", i-1+s, row[4], shot["ball"])
			}
			for j := 5; j < len(row); j++ {
				name := rows[0][j]
				var want any
				ok := false
				for _, within := range []any{shot, shot["summary"], shot["events"]} {
					if want, ok = shotValue(within, name); ok {
						break
					}
				}
				oil, _ := shot["summary"].(map[string]any)["oil_mL"].(map[string]any)
				switch name {
				case "launch_angle_deg":
					want, ok = json.Number(row[1]), true
				case "release_speed_mph":
					want, ok = json.Number("18"), true
				case "release_rev_rate_rpm":
					want, ok = json.Number(row[2]), true
				case "oil_taken_mL":
					want, ok = json.Number(strings.TrimPrefix("-"+oil["lane"].(json.Number).String(), "--")), true
					if want == json.Number("-0") {
						want = json.Number("0")
					}
				}
				if !ok {
					t.Fatalf("no %s in the JSON of a shot", name)
				}
				got := any(json.Number(row[j]))
				switch want.(type) {
				case nil:
					missing++
					got = nil
					if row[j] != "" {
						t.Errorf("row %d: %s is %s, want nothing", i-1+s, name, row[j])
					}
				case bool:
					got = row[j] == "true"
				case string:
					got = row[j]
				}
				if got != want {
					t.Errorf("row %d: %s is %v, want %v", i-1+s, name, got, want)
				}
			}
		}
	}
	if missing == 0 {
		t.Error("nothing was missing: no gutter and no rolling tried")
	}
}

// JSON lines and Parquet contain the same as CSV.
func TestFormatsHoldTheSame(t *testing.T) {
	path, folder := sweepFile(t, quickSweep+"columns: [status, entry_board, pocket, re_slips, hook_ft, breakpoint_in_oil]\n"), t.TempDir()
	name := func(ending string) string { return filepath.Join(folder, "rows"+ending) }
	good(t, "", "sweep", path, "-q", "-o", name(".csv"), "-o", name(".jsonl"), "-o", name(".parquet"))
	text := contents(t, name(".csv"))
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"row", "bowler.angle_deg", "bowler.rev_rate_rpm", "lane.friction", "ball", "status", "entry_board", "pocket", "re_slips", "hook_ft", "breakpoint_in_oil"}
	if diff := cmp.Diff(want, rows[0]); diff != "" {
		t.Errorf("columns differ (-want +got):\n%s", diff)
	}

	lines := contents(t, name(".jsonl"))
	all := strings.Split(strings.TrimSuffix(string(lines), "\n"), "\n")
	f, err := os.Open(name(".parquet"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	opened, err := parquet.OpenFile(f, info.Size())
	if err != nil {
		t.Fatal(err)
	}
	for i, field := range opened.Schema().Fields() {
		if field.Name() != want[i] {
			t.Errorf("Parquet column %d is %q, want %q", i, field.Name(), want[i])
		}
	}
	if int(opened.NumRows()) != len(rows)-1 || len(all) != len(rows)-1 {
		t.Fatalf("%d rows in Parquet, %d in JSON lines, %d in CSV", opened.NumRows(), len(all), len(rows)-1)
	}
	reader := parquet.NewGenericReader[any](f, opened.Schema())
	defer reader.Close()
	for i, row := range rows[1:] {
		var object map[string]any
		decoder := json.NewDecoder(strings.NewReader(all[i]))
		decoder.UseNumber()
		if err := decoder.Decode(&object); err != nil {
			t.Fatal(err)
		}
		buffer := make([]parquet.Row, 1)
		if n, err := reader.ReadRows(buffer); n != 1 {
			t.Fatal(err)
		}
		for j, cell := range row {
			v := buffer[0][j]
			texts := [2]string{}
			if !v.IsNull() {
				switch v.Kind() {
				case parquet.Double:
					texts[0] = report.Exact(v.Double())
				case parquet.ByteArray:
					texts[0] = string(v.ByteArray())
				default:
					texts[0] = v.String()
				}
			}
			switch o := object[want[j]].(type) {
			case string:
				texts[1] = o
			case json.Number:
				texts[1] = o.String()
			case bool:
				texts[1] = strconv.FormatBool(o)
			}
			if texts != [2]string{cell, cell} {
				t.Errorf("row %d, %s: Parquet and JSON have %q, CSV %q", i, want[j], texts, cell)
			}
		}
	}
}

// A bowler without a line gives a row without numbers, and the run ends.
func TestRowsWithoutALine(t *testing.T) {
	path := sweepFile(t, `scenario:
  lane: {oil: dry}
  ball: {rg: 2.6 in}
  bowler: {speed: 18 mph, rev_rate: 0 rpm, axis_rotation: 60 deg, axis_tilt: 10 deg, laydown: 20, aim: pocket}
vary: {bowler.rev_rate: [0 rpm, 450 rpm]}
columns: [launch_angle_deg, entry_board, pocket]
`)
	lines := strings.Split(good(t, "", "sweep", path, "--csv", "-q"), "\n")
	if len(lines) != 4 || strings.Contains(lines[1], ",,") || !strings.HasSuffix(lines[1], "true") || lines[2] != "1,450,none,,," {
		t.Errorf("%q", lines)
	}
}
