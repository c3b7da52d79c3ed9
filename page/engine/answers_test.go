package engine

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"lanesim/report/terms"
	"lanesim/scenario"
)

func stateWith(sets object) object {
	return object{"base": standard, "sets": sets, "aim": "same"}
}

// Every input is a field of a scenario with a meaning and a term. Both shots accept both
// ends of its slider, with everything else unchanged.
func TestInputsAreTaken(t *testing.T) {
	e := New()
	for _, i := range inputs {
		if scenario.Meaning(i.key) == "" {
			t.Errorf("%s is no field", i.key)
		}
		term := i.term
		if term == "" {
			term = strings.ToLower(i.label)
		}
		if _, found := terms.Find(term); !found {
			t.Errorf("%s: there is no term %q", i.key, term)
		}
		var values []string
		for _, c := range i.choices {
			if c.value != "" {
				values = append(values, c.value)
			}
		}
		if i.choices == nil {
			values = []string{number(i.min) + " " + i.unit, number(i.max) + " " + i.unit, i.fallback}
		}
		for _, v := range values {
			for side := range sides {
				sets := object{"bowler.target": "{board: 19, distance: 15 ft}"}
				switch i.key {
				case "ball.intermediate_differential":
					sets["balls[0].differential"], sets["balls[1].differential"] = "0.03 in", "0.03 in"
				case "bowler.aim":
					delete(sets, "bowler.target")
				}
				write := i.write
				if write == "" {
					write = "%"
				}
				sets[i.pathOf(side)] = strings.Replace(write, "%", v, 1)
				var reply object
				ask(t, e, object{"do": "throw", "state": stateWith(sets), "rest": false}, &reply)
				if reply["is"] != "shots" {
					t.Errorf("%v: %.300v", sets, reply)
				}
			}
		}
	}
}

func number(v float64) string {
	text, _ := json.Marshal(v)
	return string(text)
}

// Errors of an input name the input.
func TestProblemsNameTheirInput(t *testing.T) {
	e := New()
	for _, c := range []struct{ path, text, key, side string }{
		{"balls[1].layout.pin_to_pap", "3 ft", "ball.layout.pin_to_pap", "b"},
		{"bowler.speed", "17 mpg", "bowler.speed", ""},
		{"lane.friction.dry", "3", "lane.friction.dry", ""},
	} {
		var reply struct {
			Is       string
			Problems []struct{ Key, Side, Message, Text string }
		}
		ask(t, e, object{"do": "throw", "state": stateWith(object{c.path: c.text}), "rest": true}, &reply)
		if reply.Is != "problems" || len(reply.Problems) == 0 {
			t.Errorf("%s: %+v", c.path, reply)
			continue
		}
		if p := reply.Problems[0]; p.Key != c.key || p.Side != c.side || p.Message == "" || !strings.Contains(p.Text, c.text) {
			t.Errorf("%s: %+v", c.path, p)
		}
	}
}

// If no line reaches the pocket, the reply names the nearest board and the ball concerned.
func TestNoLineNamesTheNearestBoard(t *testing.T) {
	var reply struct {
		Is, Side, Message string
		Nearest           *float64
	}
	ask(t, New(), object{"do": "throw", "state": stateWith(object{"lane.oil": "dry", "bowler.rev_rate": "400 rpm", "bowler.laydown": "20", "bowler.speed": "19 mph"}), "rest": true}, &reply)
	if reply.Is != "noline" || reply.Side != "a" || reply.Nearest == nil || !strings.Contains(reply.Message, "nearest board") {
		t.Errorf("%+v", reply)
	}
}

// While a slider moves, the line to the pocket follows. At rest it equals the program's.
func TestLineFollowsTheSlider(t *testing.T) {
	e := New()
	var rest, drag struct {
		Shots []struct {
			Path struct{ From, Count, Stride int }
		}
		Rows []struct{ Key, A string }
	}
	ask(t, e, object{"do": "throw", "state": stateWith(object{}), "rest": true}, &rest)
	for _, speed := range []string{"18.1 mph", "18.2 mph", "18.3 mph", "18.4 mph"} {
		r := ask(t, e, object{"do": "throw", "state": stateWith(object{"bowler.speed": speed}), "rest": false}, &drag)
		p := drag.Shots[0].Path
		board := r.Packed[p.From+(p.Count-1)*p.Stride+3]
		if board < 17.3 || board > 17.7 {
			t.Errorf("at %s A enters on board %g", speed, board)
		}
	}
}

// A study that is stopped says so, and the engine then answers the next request.
func TestStudiesStop(t *testing.T) {
	e := New()
	for _, do := range []string{"compare", "spread", "aim", "move", "wear", "racks"} {
		ctx, cancel := context.WithCancel(context.Background())
		deliveries := 50000
		if do == "wear" {
			deliveries = 30 // in a session
		}
		text, err := json.Marshal(object{"id": 9, "do": do, "state": stateWith(object{}), "sets": 24, "deliveries": deliveries, "sessions": 500, "racks": 50000, "moves": slices.Repeat([]string{"1 left"}, 50)})
		if err != nil {
			t.Fatal(err)
		}
		cancelled := false
		r := e.Answer(ctx, text, func(string, int, int) {
			cancelled = true
			cancel()
		})
		cancel()
		var reply struct {
			Is       string
			Cautions []string
		}
		if err := json.Unmarshal(r.JSON, &reply); err != nil {
			t.Fatal(err)
		}
		partial := reply.Is == "spread" && len(reply.Cautions) > 0
		if !cancelled || reply.Is != "stopped" && !partial {
			t.Errorf("%s: %+v", do, reply)
		}
	}
	var terms struct{ Topics []any }
	ask(t, e, object{"do": "terms"}, &terms)
	if len(terms.Topics) < 5 {
		t.Errorf("%d topics", len(terms.Topics))
	}
}

// Wrong requests get an error.
func TestWrongRequests(t *testing.T) {
	e := New()
	for _, r := range []object{
		{"do": "dance"},
		{"do": "spread", "state": stateWith(object{}), "deliveries": 0},
		{"do": "wear", "state": stateWith(object{"lane.oil": "dry", "bowler.target": "{board: 15, distance: 15 ft}"}), "deliveries": 10, "sessions": 1},
		{"do": "racks", "state": stateWith(object{}), "racks": 1000000},
		{"do": "compare", "state": stateWith(object{}), "sets": -3},
		{"do": "aim", "state": stateWith(object{}), "by": "luck"},
		{"do": "throw", "state": object{"base": "lane: {oil: dry}\nball: {differential: 0 in}\nbowler: {like: low revs}\n", "sets": object{}, "aim": "same"}},
	} {
		var reply struct{ Is, Message string }
		ask(t, e, r, &reply)
		if reply.Is != "failed" || reply.Message == "" {
			t.Errorf("%v: %+v", r["do"], reply)
		}
	}
}

// Links leave out values of the standard state. So the standard state of mark "1." must
// never change: a new one needs a new mark.
func TestStandardStateOfMarkOne(t *testing.T) {
	if got := sum(standard); got != standardOfMarkOne {
		t.Errorf("the standard state has the hash %s, not %s", got, standardOfMarkOne)
	}
}

const standardOfMarkOne = "b99e8a186675698a"

func sum(text string) string {
	h := sha256.Sum256([]byte(text))
	return hex.EncodeToString(h[:8])
}
