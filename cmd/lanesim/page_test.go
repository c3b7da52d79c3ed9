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

// The page's numbers are those of the program, to the bit, for the first and the last lane,
// bowler and ball of every example that it takes.
func TestPageThrowsAsTheProgram(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(examples, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	open := func(name string) ([]byte, error) { return os.ReadFile(name) }
	e := engine.New()
	compared, left := 0, map[string]bool{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		d, err := scenario.Open(filepath.ToSlash(file), data, open)
		if err != nil {
			continue
		}
		s, err := d.Read(nil)
		if err != nil {
			continue // no scenario
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
		code, out, problems := lanesim(t, "", "throw", file, "--json")
		if code != 0 {
			t.Fatalf("%s: %s", file, problems)
		}
		if err := json.Unmarshal([]byte(out), &want); err != nil {
			t.Fatal(err)
		}
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
					continue // the same ball under another name
				}
				if s.Bowlers[w].LineToFind() {
					delete(want, "aimed") // the line that was found is given here
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
