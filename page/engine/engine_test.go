package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"testing"
)

type object = map[string]any

// ask sends a request, decodes the reply into into, and returns it.
func ask(t testing.TB, e *Engine, request object, into any) Reply {
	t.Helper()
	text, err := json.Marshal(request)
	if err != nil {
		t.Fatal(err)
	}
	r := e.Answer(context.Background(), text, func(string, int, int) {})
	if err := json.Unmarshal(r.JSON, into); err != nil {
		t.Fatalf("%v in %.2000s", err, r.JSON)
	}
	return r
}

// The reply to hello has what the page needs at the start.
func TestHelloOffersAStart(t *testing.T) {
	e := New()
	var ready, shots object
	ask(t, e, object{"id": 1, "do": "hello"}, &ready)
	if ready["is"] != "ready" {
		t.Fatal(ready)
	}
	ask(t, e, object{"id": 2, "do": "throw", "state": ready["state"], "rest": true}, &shots)
	if shots["is"] != "shots" || shots["id"] != 2.0 {
		t.Fatal(shots)
	}
}

// BenchmarkThrow measures a slider's move and its release, for a given line and for one
// that has to be found.
func BenchmarkThrow(b *testing.B) {
	for _, line := range []struct {
		name string
		sets object
	}{{"given", object{"bowler.target": "{board: 20, distance: 15 ft}"}}, {"found", object{}}} {
		for _, rest := range []bool{false, true} {
			b.Run(fmt.Sprintf("%s/rest=%v", line.name, rest), func(b *testing.B) {
				e := New()
				for k := range b.N {
					line.sets["bowler.speed"] = fmt.Sprintf("%g mph", 18+0.1*float64(k%10))
					text, _ := json.Marshal(object{"id": k, "do": "throw", "state": object{"base": standard, "sets": line.sets, "aim": "same"}, "rest": rest})
					e.Answer(context.Background(), text, func(string, int, int) {})
				}
			})
		}
	}
}
