package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"lanesim/page/engine"
	"lanesim/scenario"

	"github.com/google/go-cmp/cmp"
)

// pageAsks sends a request to the page's engine.
func pageAsks(t *testing.T, e *engine.Engine, request map[string]any) (reply map[string]any) {
	t.Helper()
	text, err := json.Marshal(request)
	if err != nil {
		t.Fatal(err)
	}
	r := e.Answer(context.Background(), text, func(string, int, int) {})
	if err := json.Unmarshal(r.JSON, &reply); err != nil {
		t.Fatalf("%v in %.500s", err, r.JSON)
	}
	return reply
}

// The page's numbers equal the program's to the bit, for the first and the last lane,
// bowler and ball of every example that the page can show.
func TestPageThrowsAsTheProgram(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(examples, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	open := func(name string) ([]byte, error) { return os.ReadFile(name) }
	e := engine.New()
	compared, left := 0, map[string]bool{}
	for _, file := range files {
		data := contents(t, file)
		d, err := scenario.Open(filepath.ToSlash(file), data, open)
		if err != nil {
			continue
		}
		s, err := d.Read(nil)
		if err != nil {
			continue // not a scenario
		}
		alone, err := d.Alone(nil)
		if err != nil {
			t.Fatal(err)
		}
		text, err := alone.YAML(nil)
		if err != nil {
			t.Fatal(err)
		}
		var want struct{ Shots []map[string]any }
		readJSON(t, thrownOnce(t, file).json, &want)
		last := len(s.Balls) - 1
		for _, pick := range slices.Compact([][2]int{{0, 0}, {len(s.Lanes) - 1, len(s.Bowlers) - 1}}) {
			l, w := pick[0], pick[1]
			if s.Bowlers[w].AimAtPins != 0 {
				left[filepath.Base(file)+", which aims at pins"] = true
				continue
			}
			at := (l*len(s.Bowlers) + w) * len(s.Balls)
			opened := pageAsks(t, e, map[string]any{"do": "open", "text": string(text), "pick": map[string]any{"lane": l, "bowler": w, "balls": []int{0, last}}})
			state, ok := opened["state"].(map[string]any)
			if !ok {
				t.Fatalf("%s: %v", file, opened)
			}
			state["aim"] = "each"
			thrown := pageAsks(t, e, map[string]any{"do": "throw", "state": state, "rest": true})
			if thrown["is"] != "shots" {
				t.Fatalf("%s, lane %d, bowler %d: %v", file, l, w, thrown)
			}
			for side, ball := range []int{0, last} {
				if side == 1 && last > 0 && s.Bowlers[w].LineToFind() {
					left[filepath.Base(file)+", of which the page throws all balls on the line found for the first"] = true
					continue
				}
				got, want := thrown["shots"].([]any)[side].(map[string]any)["exact"].(map[string]any), want.Shots[at+ball]
				delete(want, "path")
				if side == 1 && last == 0 {
					continue // same ball, other name
				}
				if s.Bowlers[w].LineToFind() {
					delete(want, "aimed") // the inputs here give the line that was found
					delete(got, "aimed")
				}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Errorf("%s, lane %d, bowler %d, ball %d: %s", file, l, w, ball, diff)
				}
				compared++
			}
		}
	}
	t.Logf("%d shots compared; left out: %v", compared, left)
	if compared < 60 || len(left) > 3 {
		t.Errorf("%d shots compared, %v left out", compared, left)
	}
}

// The page and the program agree about both shots: the sentences of the comparison, the
// scatter and the racks.
func TestPageStudiesAsTheProgram(t *testing.T) {
	e := engine.New()
	state := pageAsks(t, e, map[string]any{"do": "hello"})["state"].(map[string]any)
	state["sets"] = map[string]any{"bowler.target": "{board: 20.25, distance: 15 ft}"}
	saved := pageAsks(t, e, map[string]any{"do": "file", "state": state})
	file := filepath.Join(t.TempDir(), "saved.yaml")
	write(t, file, saved["text"].(string))
	program := func(arguments ...string) (got map[string]any) {
		t.Helper()
		code, out, problems := lanesim(t, "", append(arguments, file, "--json")...)
		if code != 0 {
			t.Fatalf("%v: %s", arguments, problems)
		}
		readJSON(t, out, &got)
		return got
	}
	same := func(what string, want, got any) {
		t.Helper()
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", what, diff)
		}
	}

	page := pageAsks(t, e, map[string]any{"do": "compare", "state": state, "sets": 3})
	pair := program("compare", "--assumed", "3")["pairs"].([]any)[0].(map[string]any)
	same("explanation", pair["explanation"], page["explanation"])
	difference := page["difference"].(map[string]any)
	deviation := page["deviation"].(map[string]any)
	for key := range difference {
		same(key, pair[key], difference[key])
		same(key+"_sd", pair[key+"_sd"], deviation[key])
	}
	for _, list := range []string{"mechanisms", "inputs"} {
		for i, one := range page[list].([]any) {
			cause := one.(map[string]any)
			delete(cause, "label")
			same(list, pair[list].([]any)[i], cause)
		}
	}

	page = pageAsks(t, e, map[string]any{"do": "spread", "state": state, "deliveries": 100, "seed": 4, "level": "recreational"})
	for i, one := range program("spread", "--shots", "100", "--seed", "4", "--level", "recreational")["deliveries"].([]any) {
		ball, want := page["balls"].([]any)[i].(map[string]any), one.(map[string]any)
		if want["ends"].(map[string]any)["gutter"] == nil {
			t.Error("no ball in the gutter, which misses the pins")
		}
		hits := map[string]any{}
		for _, h := range ball["hits"].([]any) {
			one := h.(map[string]any)
			hits[one["hit"].(string)] = one["share"].(map[string]any)["share"]
		}
		same("hits", want["hits"], hits)
		same("pocket share", want["pocket_share"], ball["pocket"].(map[string]any)["share"])
		same("mean", want["entry_board"].(map[string]any)["mean"], ball["mean"])
	}

	page = pageAsks(t, e, map[string]any{"do": "racks", "state": state, "racks": 20, "seed": 2})
	for i, one := range program("carry", "--racks", "20", "--seed", "2")["deliveries"].([]any) {
		ball, want := page["balls"].([]any)[i].(map[string]any), one.(map[string]any)
		same("strikes", want["strike_share"], ball["strike"].(map[string]any)["share"])
		same("pins down", want["pins_down_mean"], ball["pinsDown"])
	}

	page = pageAsks(t, e, map[string]any{"do": "wear", "state": state, "deliveries": 20, "sessions": 2, "seed": 3})
	lone := filepath.Join(t.TempDir(), "lone.yaml")
	opened := pageAsks(t, e, map[string]any{"do": "open", "text": saved["text"], "pick": map[string]any{"balls": []int{0, 0}}})
	write(t, lone, oneBall(t, opened["state"].(map[string]any)["base"].(string)))
	file = lone
	for i, one := range program("wear", "--shots", "20", "--sessions", "2", "--seed", "3")["blocks"].([]any) {
		block, want := page["balls"].([]any)[0].(map[string]any)["blocks"].([]any)[i].(map[string]any), one.(map[string]any)
		same("block", want["pocket_share"], block["pocket"].(map[string]any)["share"])
		same("mean", want["entry_board_mean"], block["mean"])
	}
}

// oneBall keeps the first of two equal balls.
func oneBall(t *testing.T, base string) string {
	t.Helper()
	d, err := scenario.Open("base", []byte(base), nil)
	if err != nil {
		t.Fatal(err)
	}
	d, err = d.Only(0, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	text, err := d.YAML(nil)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
