package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The keys of the output in order. Scripts depend on them.
var (
	topKeys     = strings.Fields("model warnings shots")
	shotKeys    = strings.Fields("lane ball bowler status inputs events marks summary aimed stats path")
	aimedKeys   = []string{"angles_deg", "used"}
	eventKeys   = strings.Fields("hook_start friction_read breakpoint roll_start pattern_end pins gutter")
	summaryKeys = strings.Fields("feet_board laydown_board arrows_board skid_ft hook_ft roll_ft entry_board entry_angle_deg speed_loss_mph energy_lost_J" +
		" flare_in flare_oil_in revolutions re_slips pocket hit good_angle breakpoint_in_oil oil_mL")
	oilKeys   = strings.Fields("lane ball soaked")
	statsKeys = strings.Fields("steps rejected evaluations")
	stateKeys = strings.Fields("time_s distance_m distance_ft lateral_m board heading_deg speed_mps speed_mph" +
		" velocity_mps spin_rad_s rev_rate_rpm axis_rotation_deg axis_tilt_deg slip_mps friction normal_N oil_um ball_oil_um")
	csvColumns = strings.Fields("lane ball bowler time_s distance_m distance_ft lateral_m board heading_deg speed_mps speed_mph" +
		" velocity_mps_down_lane velocity_mps_left spin_rad_s_down_lane spin_rad_s_left spin_rad_s_up" +
		" rev_rate_rpm axis_rotation_deg axis_tilt_deg slip_mps friction normal_N oil_um ball_oil_um")
)

// member is a key of a JSON object with its value.
type member struct {
	key   string
	value json.RawMessage
}

// members splits an object into its members, in the order written.
func members(t testing.TB, text json.RawMessage) []member {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(text))
	if token, err := d.Token(); err != nil || token != json.Delim('{') {
		t.Fatalf("no object: %.80s (%v)", text, err)
	}
	var list []member
	for d.More() {
		key, err := d.Token()
		if err != nil {
			t.Fatal(err)
		}
		m := member{key: key.(string)}
		if err := d.Decode(&m.value); err != nil {
			t.Fatal(err)
		}
		list = append(list, m)
	}
	return list
}

// parts checks the keys of an object and returns its values.
func parts(t testing.TB, what string, text json.RawMessage, keys []string) map[string]json.RawMessage {
	t.Helper()
	var got []string
	values := map[string]json.RawMessage{}
	for _, m := range members(t, text) {
		got = append(got, m.key)
		values[m.key] = m.value
	}
	if diff := cmp.Diff(keys, got); diff != "" {
		t.Fatalf("keys of %s (-want +got):\n%s", what, diff)
	}
	return values
}

// decode decodes a JSON value of a known type.
func decode[T any](t testing.TB, text json.RawMessage) T {
	t.Helper()
	var v T
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		t.Fatalf("%.80s: %v", text, err)
	}
	return v
}

func isNull(text json.RawMessage) bool { return string(text) == "null" }

// checkState checks the keys of a state, with the additional keys more, and returns its
// numbers.
func checkState(t testing.TB, text json.RawMessage, more ...string) map[string]float64 {
	t.Helper()
	values := parts(t, "a state", text, slices.Concat(stateKeys, more))
	numbers := map[string]float64{}
	for _, key := range stateKeys {
		switch key {
		case "velocity_mps":
			v := decode[[]float64](t, values[key])
			if len(v) != 2 {
				t.Fatalf("%s: %v", key, v)
			}
			numbers["down_lane"], numbers["left"] = v[0], v[1]
		case "spin_rad_s":
			if v := decode[[]float64](t, values[key]); len(v) != 3 {
				t.Fatalf("%s: %v", key, v)
			}
		case "axis_rotation_deg", "axis_tilt_deg":
			if isNull(values[key]) {
				continue
			}
			fallthrough
		default:
			numbers[key] = decode[float64](t, values[key])
		}
	}
	// Quantities given in two units agree, converted here independently.
	near := func(key string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-12*math.Max(1, math.Abs(want)) {
			t.Errorf("%s: %v, want %v", key, got, want)
		}
	}
	near("distance_ft", numbers["distance_ft"], numbers["distance_m"]*12/0.0254/144)
	near("speed_mph", numbers["speed_mph"], numbers["speed_mps"]*3600/1609.344)
	near("speed_mps", numbers["speed_mps"], math.Hypot(numbers["down_lane"], numbers["left"]))
	return numbers
}

// shotsOf splits the output of throw into shots.
func shotsOf(t testing.TB, text string) []map[string]json.RawMessage {
	t.Helper()
	if !json.Valid([]byte(text)) {
		t.Fatalf("no JSON: %.200s", text)
	}
	top := parts(t, "the output", json.RawMessage(text), topKeys)
	if got := decode[int](t, top["model"]); got != 1 {
		t.Errorf("model %d", got)
	}
	decode[[]string](t, top["warnings"])
	var shots []map[string]json.RawMessage
	for _, s := range decode[[]json.RawMessage](t, top["shots"]) {
		shots = append(shots, parts(t, "a shot", s, shotKeys))
	}
	return shots
}

func TestJSONOfEveryExampleHasItsShape(t *testing.T) {
	for _, file := range exampleFiles(t) {
		for _, s := range shotsOf(t, thrownOnce(t, file).json) {
			if got := decode[string](t, s["status"]); got != "pins" {
				t.Errorf("%s: status %s", file, got)
			}
			decode[map[string]any](t, s["inputs"])
			events := parts(t, "events", s["events"], eventKeys)
			for _, e := range events {
				if !isNull(e) {
					checkState(t, e)
				}
			}
			dry := strings.Contains(string(contents(t, file)), "oil: dry")
			if isNull(events["pins"]) || !isNull(events["gutter"]) || isNull(events["pattern_end"]) != dry {
				t.Errorf("%s: events %s", file, s["events"])
			}
			for _, m := range decode[[]json.RawMessage](t, s["marks"]) {
				checkState(t, m)
			}
			summary := parts(t, "the summary", s["summary"], summaryKeys)
			decode[bool](t, summary["pocket"])
			decode[bool](t, summary["good_angle"])
			decode[bool](t, summary["breakpoint_in_oil"])
			decode[int](t, summary["re_slips"])
			oil := 0.0
			for _, v := range parts(t, "oil_mL", summary["oil_mL"], oilKeys) {
				oil += decode[float64](t, v)
			}
			if math.Abs(oil) > 1e-9 {
				t.Errorf("%s: %g mL of oil appear from nowhere", file, oil)
			}
			parts(t, "stats", s["stats"], statsKeys)
			path := decode[[]json.RawMessage](t, s["path"])
			first, last := checkState(t, path[0]), checkState(t, path[len(path)-1])
			if first["time_s"] != 0 || math.Abs(last["distance_ft"]-60) > 1e-9 || last["board"] != decode[float64](t, summary["entry_board"]) {
				t.Errorf("%s: path from %v to %v", file, first, last)
			}
		}
	}
}

func TestWhatDoesNotExistIsNull(t *testing.T) {
	file := examples + "/straight-spare.yaml"
	s := shotsOf(t, good(t, "", "throw", file, "--json", "-q", "--set", "bowler.target.board=1", "--set", "bowler.target.distance=40 ft"))[0]
	if got := decode[string](t, s["status"]); got != "gutter" {
		t.Fatalf("status %s", got)
	}
	events := parts(t, "events", s["events"], eventKeys)
	summary := parts(t, "the summary", s["summary"], summaryKeys)
	for _, v := range []json.RawMessage{
		events["pins"], events["hook_start"], events["breakpoint"],
		summary["hook_ft"], summary["entry_board"], summary["entry_angle_deg"],
	} {
		if !isNull(v) {
			t.Errorf("%s, want null", v)
		}
	}
	if decode[bool](t, summary["pocket"]) || decode[bool](t, summary["good_angle"]) {
		t.Errorf("summary %s", s["summary"])
	}
	checkState(t, events["gutter"])
	start := decode[[]json.RawMessage](t, s["path"])[0]
	if values := parts(t, "a state", start, stateKeys); !isNull(values["axis_rotation_deg"]) || !isNull(values["axis_tilt_deg"]) {
		t.Errorf("a ball that does not turn has an axis: %s", start)
	}
}

// The inputs of a shot are a scenario that gives the same shot.
func TestInputsRunAgainToTheSameShot(t *testing.T) {
	t.Parallel()
	for _, file := range exampleFiles(t) {
		for i, s := range shotsOf(t, thrownOnce(t, file).json) {
			again := shotsOf(t, good(t, string(s["inputs"]), "throw", "-", "--json", "-q"))
			if len(again) != 1 {
				t.Fatalf("%s, shot %d: %d shots from its inputs", file, i, len(again))
			}
			for _, key := range shotKeys {
				if key == "aimed" { // the inputs have the angle that was found
					if again := again[0][key]; string(again) != "null" {
						t.Errorf("%s, shot %d: aimed once more: %s", file, i, again)
					}
					continue
				}
				if !bytes.Equal(s[key], again[0][key]) {
					t.Errorf("%s, shot %d: %s differs:\n%.200s\n%.200s", file, i, key, s[key], again[0][key])
				}
			}
		}
	}
}

func TestPocketIsReachedWhereItIsAimedAt(t *testing.T) {
	for _, name := range []string{"first-shot", "left-hander", "two-handed"} {
		s := shotsOf(t, thrownOnce(t, filepath.Join(examples, name+".yaml")).json)[0]
		summary := parts(t, "the summary", s["summary"], summaryKeys)
		// The computed entry board has steps, one of which may include the middle.
		if board := decode[float64](t, summary["entry_board"]); math.Abs(board-17.5) > 2e-3 || !decode[bool](t, summary["pocket"]) {
			t.Errorf("%s enters on board %v", name, board)
		}
		aimed := parts(t, "aimed", s["aimed"], aimedKeys)
		angles, used := decode[[]float64](t, aimed["angles_deg"]), decode[int](t, aimed["used"])
		_, after, _ := strings.Cut(string(s["inputs"]), `"angle":"`)
		written, _, _ := strings.Cut(after, " deg")
		if thrown, err := strconv.ParseFloat(written, 64); err != nil || math.Abs(thrown-angles[used]) > 1e-12 {
			t.Errorf("%s is aimed at %v, the %d.: %s", name, angles, used, s["inputs"])
		}
	}
}

// The corner pin is 18 in right of the centre, 31.177 in behind the head pin;
// pin and ball together are 4.766/2 + 8.58/2 in wide.
func TestTheSpareBallHitsTheCornerPin(t *testing.T) {
	s := shotsOf(t, thrownOnce(t, filepath.Join(examples, "straight-spare.yaml")).json)[0]
	pins := checkState(t, parts(t, "events", s["events"], eventKeys)["pins"])
	const inch = 0.0254
	lateral := pins["lateral_m"] + 31.177*inch*math.Tan(pins["heading_deg"]*math.Pi/180)
	if off := (lateral + 18*inch) / inch; math.Abs(off) > 0.5 {
		t.Errorf("passes %.2f in from the middle of the corner pin", off)
	}
	if line := 31 - (31-3.1)*60/62.6; math.Abs(pins["board"]-line) > 0.01 {
		t.Errorf("is on board %.4f at 60 ft, its line on %.4f", pins["board"], line)
	}
	// Thrown with revolutions, a plastic ball leaves its line by fewer boards.
	var boards []float64
	for _, cover := range []string{"plastic", "reactive"} {
		s := shotsOf(t, good(t, "", "throw", examples+"/straight-spare.yaml", "--json", "-q", "--set", "ball.cover="+cover,
			"--set", "bowler.rev_rate=250 rpm", "--set", "bowler.axis_rotation=45 deg", "--set", "bowler.axis_tilt=13 deg"))[0]
		boards = append(boards, checkState(t, parts(t, "events", s["events"], eventKeys)["pins"])["board"])
	}
	if !(pins["board"] < boards[0] && boards[0] < boards[1]) {
		t.Errorf("with revs plastic is on board %.2f, reactive on %.2f", boards[0], boards[1])
	}
}

func TestCSVHasTheColumnsAndTheNumbersOfThePath(t *testing.T) {
	for _, file := range exampleFiles(t) {
		rows, err := csv.NewReader(strings.NewReader(thrownOnce(t, file).csv)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(csvColumns, rows[0]); diff != "" {
			t.Fatalf("%s: columns (-want +got):\n%s", file, diff)
		}
		rows = rows[1:]
		for _, s := range shotsOf(t, thrownOnce(t, file).json) {
			for _, point := range decode[[]json.RawMessage](t, s["path"]) {
				var want []string
				for _, key := range []string{"lane", "ball", "bowler"} {
					want = append(want, decode[string](t, s[key]))
				}
				for _, m := range members(t, point) {
					want = append(want, strings.Split(strings.Trim(string(m.value), "[]"), ",")...)
				}
				for i := range want {
					if want[i] == "null" {
						want[i] = ""
					}
				}
				if len(rows) == 0 {
					t.Fatalf("%s: too few rows", file)
				}
				if diff := cmp.Diff(want, rows[0]); diff != "" {
					t.Fatalf("%s: (-JSON +CSV):\n%s", file, diff)
				}
				rows = rows[1:]
			}
		}
		if len(rows) > 0 {
			t.Errorf("%s: %d rows too many", file, len(rows))
		}
	}
}

// The exit code, the number of failures and the cases agree.
func TestValidationFailsIfACaseDoes(t *testing.T) {
	file := filepath.Join(t.TempDir(), "cases.json")
	code, table, problems := lanesim(t, "", "validate", "-o", file)
	top := parts(t, "the output", contents(t, file), strings.Fields("model cases"))
	keys := strings.Fields("name quantity unit expected computed error tolerance relative pass failure source mark")
	failed := 0
	cases := decode[[]json.RawMessage](t, top["cases"])
	for _, c := range cases {
		values := parts(t, "a case", c, keys)
		pass := decode[bool](t, values["pass"])
		within := isNull(values["failure"]) && math.Abs(decode[float64](t, values["error"])) <= decode[float64](t, values["tolerance"])
		if pass != within {
			t.Errorf("pass is %v: %s", pass, c)
		}
		if !pass {
			failed++
		}
	}
	if len(cases) == 0 || (code == exitDone) != (failed == 0) || (code == exitFailed) != (failed > 0) {
		t.Errorf("%d of %d cases fail: exit code %d", failed, len(cases), code)
	}
	if failed > 0 && !strings.Contains(problems, fmt.Sprintf("%d of %d cases fail", failed, len(cases))) {
		t.Errorf("%d cases fail: %s", failed, problems)
	}
	if !strings.Contains(table, fmt.Sprintf("\n%d of %d cases pass.\n", len(cases)-failed, len(cases))) {
		t.Errorf("the table ends with %q", table[max(0, len(table)-50):])
	}
}
