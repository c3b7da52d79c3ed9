package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"lanesim/ball/rules"
	"lanesim/report/layouts"
)

// The keys of the output of layout in order. Scripts depend on them.
var (
	layoutTopKeys = strings.Fields("model warnings limits cautions layouts")
	layoutKeys    = strings.Fields("ball bowler hand diameter_in diameter_mm pap layout drilled grip before after change verdicts flare box hole_weights plans clearances")
	marksKeys     = strings.Fields("drilling_angle_deg pin_to_pap_in pin_to_pap_mm val_angle_deg psa_to_pap_in psa_to_pap_mm" +
		" pin_to_val_in pin_to_val_mm pin val_to_psa_angle_deg pin_to_grip_in pin_to_grip_mm psa_to_grip_in psa_to_grip_mm" +
		" psa_to_thumb_in psa_to_thumb_mm")
	placeKeys  = strings.Fields("over_in over_mm up_in up_mm")
	gripKeys   = strings.Fields("kind middle_span_in middle_span_mm ring_span_in ring_span_mm middle_fitted_span_in middle_fitted_span_mm ring_fitted_span_in ring_fitted_span_mm bridge_in bridge_mm holes")
	holeKeys   = strings.Fields("finger diameter_in diameter_mm depth_in depth_mm forward_pitch_in forward_pitch_mm lateral_pitch_in lateral_pitch_mm mouth insert")
	insertKeys = strings.Fields("outer_in outer_mm inner_in inner_mm length_in length_mm density_g_cm3")
	massKeys   = strings.Fields("weight_lb weight_kg rg_low_in rg_low_mm rg_intermediate_in rg_intermediate_mm rg_high_in rg_high_mm" +
		" differential_in differential_mm intermediate_differential_in intermediate_differential_mm" +
		" static_side_oz static_finger_thumb_oz static_top_oz mass_centre_mm")
	changeKeys = strings.Fields("removed_oz removed_g put_back_oz put_back_g pin_moved_in pin_moved_mm psa_moved_in psa_moved_mm mass_centre_moved_mm")
	flareKeys  = strings.Fields("lane status failure flare_in flare_mm flare_oil_in flare_oil_mm revolutions oily_film_um oily_turns turns bow_ties tolerances")
	turnKeys   = strings.Fields("turn oily spacing_in spacing_mm")
	bowTieKeys = append(append([]string{}, placeKeys...), "crossings", "scatter_in", "scatter_mm")
)

// lengths checks the keys of an object, and that each length is given in inches and in mm
// with the same value, or in neither.
func lengths(t testing.TB, what string, text json.RawMessage, keys []string) map[string]json.RawMessage {
	t.Helper()
	values := parts(t, what, text, keys)
	for key, v := range values {
		stem, ok := strings.CutSuffix(key, "_in")
		if !ok {
			continue
		}
		other := values[stem+"_mm"]
		if isNull(v) || isNull(other) {
			if !isNull(v) || !isNull(other) {
				t.Errorf("%s: %s is %s, in mm %s", what, key, v, other)
			}
			continue
		}
		in, mm := decode[float64](t, v), decode[float64](t, other)
		if math.Abs(in*25.4-mm) > 1e-9*math.Max(1, math.Abs(mm)) {
			t.Errorf("%s: %s %v and %v mm", what, key, in, mm)
		}
	}
	return values
}

func layoutsOf(t testing.TB, text string) []map[string]json.RawMessage {
	t.Helper()
	top := parts(t, "the output", json.RawMessage(text), layoutTopKeys)
	parts(t, "limits", top["limits"], strings.Fields("edition mark caution"))
	if len(decode[[]string](t, top["cautions"])) < 3 || decode[int](t, top["model"]) != 1 {
		t.Errorf("cautions %s, model %s", top["cautions"], top["model"])
	}
	decode[[]string](t, top["warnings"])
	var list []map[string]json.RawMessage
	for _, l := range decode[[]json.RawMessage](t, top["layouts"]) {
		list = append(list, lengths(t, "a layout", l, layoutKeys))
	}
	return list
}

func TestJSONOfEveryLayoutHasItsShape(t *testing.T) {
	t.Parallel()
	for _, file := range exampleFiles(t) {
		if strings.Contains(string(contents(t, file)), "aim: {pins") { // layout needs a line
			refused(t, "", "layout", file)
			continue
		}
		for _, l := range layoutsOf(t, goodOnce(t, "layout", file, "--json", "-q")) {
			lengths(t, "pap", l["pap"], placeKeys)
			if !isNull(l["layout"]) { // a ball with equal moments of inertia needs none
				lengths(t, "layout", l["layout"], marksKeys)
			}
			grip := lengths(t, "grip", l["grip"], gripKeys)
			if !isNull(l["drilled"]) {
				lengths(t, "drilled", l["drilled"], marksKeys)
			} else if holes := decode[[]json.RawMessage](t, grip["holes"]); len(holes) > 0 || !isNull(l["layout"]) {
				t.Errorf("%s: no axes of a ball with %d holes and the layout %s", file, len(holes), l["layout"])
			}
			for _, h := range decode[[]json.RawMessage](t, grip["holes"]) {
				hole := lengths(t, "a hole", h, holeKeys)
				lengths(t, "mouth", hole["mouth"], placeKeys)
				if !isNull(hole["insert"]) {
					lengths(t, "insert", hole["insert"], insertKeys)
				}
			}
			before, after := lengths(t, "before", l["before"], massKeys), lengths(t, "after", l["after"], massKeys)
			change := lengths(t, "change", l["change"], changeKeys)
			ounces := func(m map[string]json.RawMessage, key string) float64 { return decode[float64](t, m[key]) }
			lost := 16 * (ounces(before, "weight_lb") - ounces(after, "weight_lb"))
			if got := ounces(change, "removed_oz") - ounces(change, "put_back_oz"); math.Abs(got-lost) > 1e-9 {
				t.Errorf("%s: %v oz out, but %v lighter", file, got, lost)
			}
			if n := len(decode[[]json.RawMessage](t, l["verdicts"])); n != len(rules.Listed().Limits) {
				t.Errorf("%s: %d verdicts", file, n)
			}
			for _, c := range decode[[]json.RawMessage](t, l["clearances"]) {
				lengths(t, "a clearance", c, strings.Fields("kind lane what distance_in distance_mm least_in least_mm first_track_in first_track_mm last_track_in last_track_mm short"))
			}
			for _, h := range decode[[]json.RawMessage](t, l["hole_weights"]) {
				parts(t, "a hole's weights", h, strings.Fields("finger removed_oz put_back_oz side_oz finger_thumb_oz top_oz"))
			}
			for _, v := range decode[[]json.RawMessage](t, l["verdicts"]) {
				verdict := parts(t, "a verdict", v, strings.Fields("name value unit limit verdict note"))
				switch word := decode[string](t, verdict["verdict"]); word {
				case "within", "over", "under", "unknown":
				default:
					t.Errorf("verdict %q", word)
				}
			}
			for _, f := range decode[[]json.RawMessage](t, l["flare"]) {
				flare := lengths(t, "flare", f, flareKeys)
				turns := decode[[]json.RawMessage](t, flare["turns"])
				n := len(turns)
				// The last turn is left out if it is shorter than the distance between points
				// of the track.
				const short = layouts.TrackSpacing / (2 * math.Pi)
				if turned := decode[float64](t, flare["revolutions"]); n != int(math.Ceil(turned)) && n != int(math.Ceil(turned-short)) {
					t.Errorf("%s: %d turns in %s revolutions", file, n, flare["revolutions"])
				}
				oily := 0
				for i, text := range turns {
					turn := lengths(t, "a turn", text, turnKeys)
					if decode[bool](t, turn["oily"]) {
						oily++
					}
					if isNull(turn["spacing_in"]) != (i == 0) && i < n-1 {
						t.Errorf("%s: turn %d: %s", file, i, text)
					}
				}
				if oily != decode[int](t, flare["oily_turns"]) || !isNull(flare["failure"]) {
					t.Errorf("%s: %d oily turns of %s; %s", file, oily, flare["oily_turns"], flare["failure"])
				}
				for _, b := range decode[[]json.RawMessage](t, flare["bow_ties"]) {
					lengths(t, "a bow-tie", b, bowTieKeys)
				}
			}
		}
	}
}

// The two forms of a layout agree, and the flare is the one of throw.
func TestLayoutAgreesWithTheScenarioAndTheThrow(t *testing.T) {
	file := examples + "/layout-strong.yaml"
	l := layoutsOf(t, good(t, "", "layout", file, "--json", "-q"))[0]
	marks := lengths(t, "layout", l["layout"], marksKeys)
	number := func(key string) float64 { return decode[float64](t, marks[key]) }
	if number("drilling_angle_deg") != 45 || number("val_angle_deg") != 35 || math.Abs(number("pin_to_pap_in")-3.5) > 1e-12 {
		t.Errorf("layout %s", l["layout"])
	}
	// cos(PSA–PAP) = sin d cos α, sin(pin–VAL) = sin d sin β
	const radius, degree = 4.29, math.Pi / 180
	sin := math.Sin(3.5 / radius)
	if want := radius * math.Acos(sin*math.Cos(45*degree)); math.Abs(number("psa_to_pap_in")-want) > 1e-9 {
		t.Errorf("PSA to PAP %v in, want %v", number("psa_to_pap_in"), want)
	}
	if want := radius * math.Asin(sin*math.Sin(35*degree)); math.Abs(number("pin_to_val_in")-want) > 1e-9 {
		t.Errorf("pin to VAL %v in, want %v", number("pin_to_val_in"), want)
	}
	shot := shotsOf(t, good(t, "", "throw", file, "--json", "-q"))[0]
	summary := parts(t, "the summary", shot["summary"], summaryKeys)
	flare := lengths(t, "flare", decode[[]json.RawMessage](t, l["flare"])[0], flareKeys)
	for _, key := range []string{"flare_in", "flare_oil_in", "revolutions"} {
		if got, want := decode[float64](t, flare[key]), decode[float64](t, summary[key]); got != want {
			t.Errorf("%s is %v, in a throw %v", key, got, want)
		}
	}
}

func TestWhatALayoutDoesNotHaveIsNull(t *testing.T) {
	file := examples + "/layout-strong.yaml"
	layout := func(sets ...string) map[string]json.RawMessage {
		t.Helper()
		arguments := []string{"layout", file, "--json", "-q"}
		for _, s := range sets {
			arguments = append(arguments, "--set", s)
		}
		return layoutsOf(t, good(t, "", arguments...))[0]
	}
	// With the pin on the axis, only the sum of the angles has a meaning.
	marks := lengths(t, "layout", layout("ball.layout.pin_to_pap=0 in")["layout"], marksKeys)
	if !isNull(marks["drilling_angle_deg"]) || !isNull(marks["val_angle_deg"]) || isNull(marks["val_to_psa_angle_deg"]) {
		t.Errorf("pin on the axis: %v", marks)
	}
	l := layout("ball.grip=undrilled")
	grip := lengths(t, "grip", l["grip"], gripKeys)
	marks = lengths(t, "layout", l["layout"], marksKeys)
	if string(grip["holes"]) != "[]" || !isNull(grip["bridge_in"]) || !isNull(marks["psa_to_thumb_in"]) {
		t.Errorf("undrilled: %s", l["grip"])
	}
	if string(l["before"]) != string(l["after"]) {
		t.Errorf("undrilled: %s became %s", l["before"], l["after"])
	}
	// Equal moments of inertia and no layout.
	bare := `{lane: {oil: flat}, ball: {weight: 15 lb, diameter: 8.58 in, rg: 2.5 in, grip: undrilled},
		bowler: {speed: 18 mph, rev_rate: 300 rpm, axis_rotation: 45 deg, axis_tilt: 13 deg, laydown: 24, angle: 2 deg}}`
	l = layoutsOf(t, good(t, bare, "layout", "-", "--json", "-q"))[0]
	change := lengths(t, "change", l["change"], changeKeys)
	if !isNull(l["layout"]) || !isNull(l["drilled"]) || !isNull(change["pin_moved_in"]) {
		t.Errorf("no layout: %s, %s, %s", l["layout"], l["drilled"], l["change"])
	}
}

// If a shot fails, only its tracks are missing.
func TestLayoutStandsWithoutItsShot(t *testing.T) {
	folder := t.TempDir()
	sheet := filepath.Join(folder, "sheet.svg")
	code, output, problems := lanesim(t, "", "layout", examples+"/layout-strong.yaml", "--json", "-o", sheet,
		"--set", "bowler.aim=pocket", "--set", "lane.oil=dry")
	if code != exitDone || !strings.Contains(problems, "no tracks: no launch angle") {
		t.Fatalf("exit code %d: %s", code, problems)
	}
	flare := lengths(t, "flare", decode[[]json.RawMessage](t, layoutsOf(t, output)[0]["flare"])[0], flareKeys)
	if !isNull(flare["status"]) || isNull(flare["failure"]) || !isNull(flare["flare_in"]) || string(flare["turns"]) != "[]" {
		t.Errorf("flare %v", flare)
	}
	content, err := os.ReadFile(sheet)
	if err != nil || !strings.Contains(string(content), "No tracks are drawn.") || strings.Contains(string(content), "bow-tie") {
		t.Errorf("sheet of %d bytes: %v", len(content), err)
	}
}

// A left-hander's layout is the mirror image of a right-hander's: the numbers are the same,
// except those given by right and left.
func TestLeftHandersLayoutHasTheSameNumbers(t *testing.T) {
	file := examples + "/layout-strong.yaml"
	// The built-in pattern is symmetric.
	right := layoutsOf(t, good(t, "", "layout", file, "--json", "-q"))[0]
	left := layoutsOf(t, good(t, "", "layout", file, "--json", "-q", "--set", "bowler.hand=left"))[0]
	if decode[string](t, left["hand"]) != "left" {
		t.Errorf("hand %s", left["hand"])
	}
	for _, key := range []string{"pap", "layout", "grip", "change"} {
		near(t, key, right[key], left[key])
	}
	near(t, "flare", right["flare"], left["flare"])
}

// near checks that two JSON values are equal except for rounding.
func near(t testing.TB, what string, a, b json.RawMessage) {
	t.Helper()
	const rounding = 1e-6 // of a number, or of 1 if that is more
	if diff := cmp.Diff(decode[any](t, a), decode[any](t, b), cmpopts.EquateApprox(rounding, rounding)); diff != "" {
		t.Errorf("%s:\n%s", what, diff)
	}
}
