package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report/layouts"
	"lanesim/report/terms"
	"lanesim/report/thrown"
	"lanesim/studies"
	"lanesim/studies/compare"
	"lanesim/units"

	"gopkg.in/yaml.v3"
)

// withoutFilm makes shots fast to compute: no ball carries oil.
const withoutFilm = " --set balls[0].film_memory=off --set balls[1].film_memory=off"

// outputsToExplain are command lines that print all that each command can print, with the
// endings of their output files.
var outputsToExplain = []string{
	"throw low-flare.yaml .json .csv",
	"compare compare-one-number.yaml --assumed 1 .json .csv",
	"aim aim-two-balls.yaml --laydown 25:25 --shots 4 --assumed 1 .json .csv" + withoutFilm,
	"spread spread-two-balls.yaml --shots 10 --sobol --by carry --games 1 .json .csv" + withoutFilm,
	"wear aim-two-balls.yaml --shots 2 --moves --by carry --assumed 1 .json .csv" + withoutFilm,
	"wear wear-two-layouts.yaml --plan alone --shots 10 --limit 10 .json .csv" + withoutFilm,
	"bag compare-one-number.yaml --level league --size 1 --shots 2 --farthest 1 --assumed 1 .json .csv" + withoutFilm,
	"fit fit-friction.yaml friction-tracks.csv --fit film --bootstrap 1 .json .csv --set ball.film_memory=off",
	"carry carry-light-and-flush.yaml --racks 10 .json .csv",
	"carry carry-light-and-flush.yaml --racks 5 --map --scatter --leave 3-6-10 .json .csv",
	"spares spare-ten-pin.yaml --leaves 10,7-10 --laydown 25:25 --shots 5 .json .csv",
	"bowler measured-bowler.yaml .json",
	"bowler",
	"bowler --json",
	"pattern house .json .csv",
	"pattern",
	"pattern --json",
	"sweep sweep-layout.yaml .csv .jsonl",
	"validate --json -q",
	"seek seek-layout.yaml --points 2 --others 1 --assumed 1 .json",
	"layout layout-strong.yaml --tolerances .json",
	"layout drill-symmetric.yaml .json",
	"layout drill-asymmetric.yaml .json",
	"layout drill-thumbless.yaml .json",
	"layout drill-spare.yaml .json",
	"layout drill-left.yaml .json",
	"throw fit-friction.yaml --track friction-tracks.csv .json .csv",
	"pattern build --length 40ft --volume 24.5mL --ratio 10 .yaml",
}

// labelledRows are the commands whose table rows are quantities; those of other commands
// begin with names.
var labelledRows = []string{"throw", "compare", "layout", "pattern"}

// plainWords are parts of keys and headings that are common English or the user's own
// names.
var plainWords = strings.Fields(`
	a a's about after again against b b's ball balls before bowler cells change check counts customer date description down driller failure
	edition fingers flush for fresh guess if it its kind layouts least low most name names never nothing on other others overall
	quantity second summary taken tape they title what two usual value variant values whole widest with words yes no none one and both or is be`)

// Every key of JSON and CSV and every heading of a table is a term or consists of terms.
func TestEveryOutputIsExplained(t *testing.T) {
	unknown := map[string][]string{}
	ask := func(line, kind, key string) {
		_, rest := terms.Explain(key)
		rest = slices.DeleteFunc(rest, func(w string) bool { return slices.Contains(plainWords, w) })
		if len(rest) > 0 {
			unknown[key] = append(unknown[key], kind+" of lanesim "+line)
		}
	}
	seen := map[string]bool{}
	for _, line := range outputsToExplain {
		arguments, paths := inExamples(line, filepath.Join(t.TempDir(), "out"))
		text := goodOnce(t, arguments...)
		if strings.Contains(line, " --json") {
			for _, key := range keysOf(t, text) {
				ask(line, "key", key)
			}
			continue
		}
		for _, path := range paths {
			content := string(contents(t, path))
			if filepath.Ext(path) == ".csv" {
				header, _, _ := strings.Cut(content, "\n")
				for key := range strings.SplitSeq(header, ",") {
					ask(line, "column", key)
				}
				continue
			}
			if filepath.Ext(path) == ".yaml" {
				var read any
				if err := yaml.Unmarshal([]byte(content), &read); err != nil {
					t.Fatal(err)
				}
				encoded, err := json.Marshal(read)
				if err != nil {
					t.Fatal(err)
				}
				content = string(encoded)
			}
			checkShares(t, line, content)
			for _, key := range keysOf(t, content) {
				seen[key] = true
				ask(line, "key", key)
			}
		}
		rows := slices.Contains(labelledRows, arguments[0]) && strings.Contains(line, " .csv") || arguments[0] == "layout"
		for _, heading := range headingsOf(text, rows) {
			ask(line, "heading", heading)
		}
	}
	for _, line := range outputsToExplain {
		if name, drilled := strings.CutPrefix(line, "layout drill-"); drilled {
			for _, name := range namesOnSheet(t, "drill-"+strings.Fields(name)[0]) {
				ask(line, "name on the sheet", name)
			}
		}
	}
	for _, c := range thrown.ShotColumns() {
		ask("sweep --columns", "column", c.Key)
	}
	for _, c := range (&program{}).command().Commands() {
		begins := func(line string) bool { return strings.HasPrefix(line+" ", c.Name()+" ") }
		others := []string{"merge", "explain"} // rows of a sweep, and the terms themselves
		if c.Flags().Lookup("json") != nil && !slices.ContainsFunc(outputsToExplain, begins) && !slices.Contains(others, c.Name()) {
			t.Errorf("outputsToExplain has no line of lanesim %s", c.Name())
		}
	}
	if len(seen) < 300 {
		t.Errorf("only %d keys seen", len(seen))
	}
	var names []string
	for key := range unknown {
		names = append(names, key)
	}
	sort.Strings(names)
	for _, key := range names {
		t.Errorf("%q is not explained: %s", key, unknown[key][0])
	}
}

// namesOnSheet are the names and headings on the sheet from which an example's ball is drilled.
func namesOnSheet(t *testing.T, example string) (names []string) {
	t.Helper()
	sheet := layouts.NewDrillSheet(laidOutOf(t, string(contents(t, filepath.Join(examples, example)))), layouts.Flare{})
	rows := slices.Concat(sheet.Fields, sheet.Layouts)
	for _, s := range slices.Concat(sheet.Lists, sheet.Details) {
		rows = append(rows, slices.DeleteFunc(s.Rows, func(r layouts.Row) bool { return r.Value == "" })...) // headings of sections
	}
	for _, r := range rows {
		names = append(names, r.Name)
	}
	for _, s := range sheet.Steps {
		names = append(names, s.Name)
	}
	for _, s := range sheet.Strips {
		names = append(names, s.Name)
	}
	for _, heading := range sheet.Holes[0] {
		names = append(names, strings.ReplaceAll(heading, "\n", " "))
	}
	return names
}

// The name of each built-in cover finds what is said of covers.
func TestBuiltInCoversAreExplained(t *testing.T) {
	for _, c := range ball.Covers() {
		if text := good(t, "", "explain", c.Name); !strings.HasPrefix(text, "cover\n") {
			t.Errorf("%s: %s", c.Name, text)
		}
	}
}

// The defaults in the explanations of terms are the real ones.
func TestTermsStateTheDefaults(t *testing.T) {
	in := func(value, unit float64) string { return strconv.FormatFloat(value/unit, 'g', 4, 64) }
	friction, memory, visible, pocket := lane.DefaultFriction(), ball.DefaultFilmMemory(), compare.DefaultVisible(), physics.DefaultPocket
	first := func(word string) string {
		found, ok := terms.Find(word)
		if !ok {
			t.Errorf("there is no term %q", word)
		}
		return found.Text + " " + found.From
	}
	for _, c := range []struct{ term, says string }{
		{"hook start", in(physics.DefaultHookTurn, units.Degree) + "° away"},
		{"hook turn", "default is " + in(physics.DefaultHookTurn, units.Degree) + "°"},
		{"pocket", fmt.Sprintf("board %g and %g to either side", (pocket.Min+pocket.Max)/2, (pocket.Max-pocket.Min)/2)},
		{"good angle", fmt.Sprintf("%s° to %s°", in(physics.DefaultGoodAngle.Min, units.Degree), in(physics.DefaultGoodAngle.Max, units.Degree))},
		{"contact width", "by default " + in(memory.ContactWidth, 1e-3) + " mm"},
		{"contact radius", "by default " + in(ball.DefaultContactRadius, 1e-3) + " mm"},
		{"board", in(lane.BoardWidth, 1e-3) + " mm wide"},
		{"board", fmt.Sprintf("the %d strips", lane.Boards)},
		{"oil unit", in(units.OilUnit, 1e-6) + " µm"},
		{"shell density", in(ball.DefaultShellDensity, 1000) + " g/cm³"},
		{"phase", fmt.Sprintf("over %d phases", compare.Phases)},
		{"holds", fmt.Sprintf("of %d.", studies.DefaultAssumedSets)},
		{"dry", fmt.Sprintf("%.2f is the figure", friction.Dry)},
		{"pins", in(lane.HeadPin, units.Foot) + " ft from the foul line"},
		{"arrows", "arrows, " + in(lane.Arrows, units.Foot) + " ft from"},
		{"mark", "arrows at " + in(lane.Arrows, units.Foot) + " ft"},
		{"feet", "by default " + in(studies.DefaultFootToBall, 1) + " boards"},
	} {
		if !strings.Contains(first(c.term), c.says) {
			t.Errorf("%s does not say %q: %s", c.term, c.says, first(c.term))
		}
	}
	for word, holds := range map[string]bool{ // numbers in words
		"pick-up: a twentieth":                 memory.PickUp == 1.0/20,
		"give-back: equals the pick-up":        memory.GiveBack == memory.PickUp,
		"visible: half a board":                visible.Boards == 0.5,
		"visible: a foot of friction read":     visible.FrictionRead == units.Foot,
		"path: every quarter of a foot":        len(thrownPath(t)) > int(4*lane.HeadPin/units.Foot),
		"rolling resistance: 0 by default":     lane.Default().RollingResistance == 0,
		"parting: a quarter of a board apart":  compare.PartingBoards == 0.25,
		"oily turns: a quarter of an oil unit": layouts.OilyFilm == units.OilUnit/4,
	} {
		term, says, _ := strings.Cut(word, ": ")
		if !holds || !strings.Contains(first(term), says) {
			t.Errorf("%s: %v, %s", word, holds, first(term))
		}
	}
}

// thrownPath returns the path of the default ball, thrown straight.
func thrownPath(t *testing.T) []physics.State {
	t.Helper()
	plain, _, err := ball.Default().Drill(ball.DefaultPAP(), ball.Right, ball.Grip{Kind: ball.Undrilled})
	if err != nil {
		t.Fatal(err)
	}
	shot, err := physics.Throw(lane.Default(), plain, physics.Release{Speed: 8, Laydown: 20}, physics.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return shot.Path
}

// inExamples turns a command line into arguments: input files in the folder of the
// examples, and output files at the path out with the endings that the line gives.
func inExamples(line, out string) (arguments, paths []string) {
	for _, w := range strings.Fields(line) {
		switch {
		case strings.HasPrefix(w, "."):
			paths = append(paths, out+w)
			arguments = append(arguments, "-o", out+w)
		case strings.HasSuffix(w, ".yaml") || strings.HasSuffix(w, ".csv"):
			arguments = append(arguments, filepath.Join(examples, w))
		default:
			arguments = append(arguments, w)
		}
	}
	return arguments, paths
}

// sharesAlone are shares without an interval and why, by the key of their object and their
// own.
var sharesAlone = map[string]string{
	"stay_shots.below_share": "is set, not estimated",
	"map.good_share":         "is interpolated between lines; those that are counted have intervals",
	"map.pocket_share":       "is interpolated likewise",
	"track.meeting_share":    "is computed from one shot",
	".left_share":            "is computed from a pattern",
}

// checkShares checks that each share in JSON has an interval next to it that contains the
// share.
func checkShares(t *testing.T, line, text string) {
	t.Helper()
	walkObjects(t, text, func(under string, o map[string]any) {
		for key, v := range o {
			names := []string{key + "_interval"} // of a mapping of shares
			if key != "hits" && key != "first_hits" {
				names = []string{strings.Replace(key, "share", "interval", 1), "interval",
					strings.Replace(key, "share_", "", 1) + "_interval", "difference_interval"}
				if _, mapping := v.(map[string]any); mapping || v == nil || !slices.Contains(strings.Split(key, "_"), "share") || sharesAlone[under+"."+key] != "" {
					continue
				}
			}
			within := slices.IndexFunc(names, func(name string) bool { return o[name] != nil })
			if within < 0 {
				t.Errorf("lanesim %s: %s.%s has no interval", line, under, key)
				continue
			}
			share, isNumber := v.(float64)
			if ends, ok := o[names[within]].([]any); isNumber && (!ok || len(ends) != 2 || !(ends[0].(float64) <= share+1e-9 && share <= ends[1].(float64)+1e-9)) {
				t.Errorf("lanesim %s: %s.%s is %g, its interval %v", line, under, key, share, o[names[within]])
			}
		}
	})
}

// walkObjects visits the objects of JSON, each with the key of its parent. It skips inputs,
// which are a scenario.
func walkObjects(t *testing.T, text string, visit func(under string, o map[string]any)) {
	t.Helper()
	var walk func(under string, v any)
	walk = func(under string, v any) {
		switch v := v.(type) {
		case map[string]any:
			visit(under, v)
			for key, inner := range v {
				if key != "inputs" {
					walk(key, inner)
				}
			}
		case []any:
			for _, inner := range v {
				walk(under, inner)
			}
		}
	}
	d := json.NewDecoder(strings.NewReader(text))
	for d.More() {
		var v any
		if err := d.Decode(&v); err != nil {
			t.Fatal(err)
		}
		walk("", v)
	}
}

// keysOf lists the keys of one or several JSON objects.
func keysOf(t *testing.T, text string) []string {
	t.Helper()
	var keys []string
	walkObjects(t, text, func(_ string, o map[string]any) { keys = slices.AppendSeq(keys, maps.Keys(o)) })
	slices.Sort(keys)
	return slices.Compact(keys)
}

// headingsOf lists the cells of the first line of each table of a text, if that has
// headings, and, with rows, the cells of its first column.
func headingsOf(text string, rows bool) []string {
	var headings []string
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		cells := cellsOf(line)
		if len(cells) < 2 {
			continue
		}
		first := i == 0 || len(cellsOf(lines[i-1])) < 2
		switch indented := strings.HasPrefix(line, "  "); {
		case first && indented:
			headings = append(headings, cells...)
		case rows:
			headings = append(headings, cells[0])
		}
	}
	return headings
}

// cellsOf splits a line of a table, whose columns are at least two spaces apart.
func cellsOf(line string) []string {
	var cells []string
	for _, c := range strings.Split(line, "  ") {
		if c = strings.TrimSpace(c); c != "" {
			cells = append(cells, c)
		}
	}
	return cells
}
