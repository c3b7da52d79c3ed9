package engine

import (
	"context"
	"encoding/json"
	"testing"
)

// ask sends a request and returns the reply, decoded.
func ask(t *testing.T, e *Engine, request any) (map[string]any, Reply) {
	t.Helper()
	text, err := json.Marshal(request)
	if err != nil {
		t.Fatal(err)
	}
	r := e.Answer(context.Background(), text, func(string, int, int) {})
	var decoded map[string]any
	if err := json.Unmarshal(r.JSON, &decoded); err != nil {
		t.Fatalf("%v in %s", err, r.JSON)
	}
	return decoded, r
}

type object = map[string]any

func TestHello(t *testing.T) {
	e := New()
	ready, _ := ask(t, e, object{"id": 1, "do": "hello"})
	if ready["is"] != "ready" {
		t.Fatal(ready)
	}
	state := ready["state"]
	shots, r := ask(t, e, object{"id": 2, "do": "throw", "state": state, "rest": true})
	if shots["is"] != "shots" {
		t.Fatal(shots)
	}
	t.Log(len(r.JSON), len(r.Packed))
}
func BenchmarkDrag(b *testing.B) {
	e := New()
	for _, rest := range []bool{false, true} {
		text, _ := json.Marshal(object{"id": 2, "do": "throw", "state": object{"base": standard, "sets": object{"bowler.target": "{board: 14, distance: 15 ft}"}, "aim": "same"}, "rest": rest})
		b.Run("", func(b *testing.B) {
			for range b.N {
				e.Answer(context.Background(), text, nil)
			}
		})
	}
}
