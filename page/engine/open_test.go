package engine

import (
	"os"
	"strings"
	"testing"
)

// Files with parts of a scenario take the rest from the current state.
func TestFilesOfParts(t *testing.T) {
	e := New()
	tape, err := os.ReadFile("../../examples/tape-readings.csv")
	if err != nil {
		t.Fatal(err)
	}
	state := stateWith(object{"bowler.speed": "17 mph", "balls[1].layout.pin_to_pap": "5 in"})
	type reply struct {
		Is       string
		State    object
		Problems []struct{ Text string }
		Names    struct{ Lanes, Bowlers, Balls []string }
	}
	for _, c := range []struct {
		name, text string
		balls      string
		has        []string // parts of the resulting scenario
	}{
		{"tape-readings.csv", string(tape), "Pin near, Pin far", []string{"kind: grid", "speed: 17 mph", "pin_to_pap: 5 in"}},
		{"mine.yaml", "name: Mine\nkind: crown\nlength: 41 ft\nvolume: 25 mL\nratio: 5\n", "Pin near, Pin far", []string{"kind: crown", "length: 41 ft", "speed: 17 mph"}},
		{"balls.yaml", "balls:\n  - {name: One, rg: 2.5 in}\n  - {name: Two, rg: 2.6 in}\n  - {name: Three, rg: 2.7 in}\n", "One, Two, Three", []string{"rg: 2.6 in", "speed: 17 mph"}},
		{"me.yaml", "bowler: {name: Me, speed: 20 mph, rev_rate: 400 rpm, axis_rotation: 50 deg, axis_tilt: 10 deg, laydown: 25, target: {board: 12, distance: 15 ft}}\n", "Pin near, Pin far", []string{"speed: 20 mph", "pin_to_pap: 5 in"}},
		{"lane.yaml", "lane: {name: Ours, oil: flat}\n", "Pin near, Pin far", []string{"oil: flat", "speed: 17 mph"}},
	} {
		var r reply
		ask(t, e, object{"do": "open", "name": c.name, "text": c.text, "state": state}, &r)
		if r.Is != "opened" {
			t.Errorf("%s: %s %v", c.name, r.Is, r.Problems)
			continue
		}
		if got := strings.Join(r.Names.Balls, ", "); got != c.balls {
			t.Errorf("%s: the balls are %s", c.name, got)
		}
		for _, has := range c.has {
			if !strings.Contains(r.State["base"].(string), has) {
				t.Errorf("%s: the scenario lacks %q:\n%s", c.name, has, r.State["base"])
			}
		}
		var shots reply
		if ask(t, e, object{"do": "throw", "state": r.State, "rest": true}, &shots); shots.Is != "shots" {
			t.Errorf("%s: its throw is %s %v", c.name, shots.Is, shots.Problems)
		}
	}
	for _, c := range []struct{ name, text, where string }{
		{"mine.yaml", "kind: crown\nlength: 41 miles\nvolume: 25 mL\nratio: 5\n", "mine.yaml:2:"},
		{"tape.csv", "distance_ft,board,units\n10,1,x\n", "tape.csv:2:"},
		{"balls.yaml", "balls: [{rgg: 2.5 in}]\n", "balls.yaml:1:"},
		{"other.yaml", "nothing: here\n", "other.yaml:1:"},
	} {
		var r reply
		ask(t, e, object{"do": "open", "name": c.name, "text": c.text, "state": state}, &r)
		if r.Is != "problems" || len(r.Problems) == 0 || !strings.HasPrefix(r.Problems[0].Text, c.where) {
			t.Errorf("%s: %s %v", c.name, r.Is, r.Problems)
		}
	}
}

// A finish is shown in the words of the file, even if another finish has the same
// roughness.
func TestFinishKeepsItsWords(t *testing.T) {
	e := New()
	for _, finish := range []string{"satin", "2000 grit", "matte", "1000 grit", "500 grit", "polished"} {
		var file struct{ Text string }
		var r struct {
			Is     string
			Values map[string]map[string]struct{ Text string }
		}
		ask(t, e, object{"do": "throw", "state": stateWith(object{"balls[1].finish": finish}), "rest": true}, &r)
		if got := r.Values["ball.finish"]; got["b"].Text != finish || got["a"].Text != "" {
			t.Errorf("%s is shown as %v", finish, got)
		}
		ask(t, e, object{"do": "file", "state": stateWith(object{"balls[1].finish": finish})}, &file)
		sanded := object{"base": file.Text, "sets": object{"balls[1].roughness": "12 uin"}, "aim": "same"}
		ask(t, e, object{"do": "throw", "state": sanded, "rest": true}, &r)
		if got := r.Values["ball.finish"]["b"].Text; r.Is != "shots" || got != "" {
			t.Errorf("%s: with a roughness, the finish is shown as %q", r.Is, got)
		}
	}
}
