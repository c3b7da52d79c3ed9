package engine

import (
	"context"
	"encoding/json"
	"testing"
)

type object = map[string]any

// ask sends a request and returns the reply, decoded into what is given.
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

// The page starts from what hello offers.
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
