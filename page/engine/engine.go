// Package engine answers the requests of the page: it runs in the browser, as WebAssembly,
// behind the controls. All numbers and words come from the packages that the program uses.
// page/web/protocol describes requests and replies.
//
// The package itself does not depend on a browser, so that it is tested like any other;
// page/engine/wasm connects it with the page's scripts.
package engine

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/scenario"
)

// Engine answers requests, one at a time. Make one with [New].
type Engine struct {
	thrower *physics.Thrower

	// The last base text with its tree, since most requests have the same one.
	base     string
	document *scenario.Document

	lines lines
}

// New returns a new engine.
func New() *Engine { return &Engine{thrower: physics.NewThrower()} }

// Reply is the answer to a request: a JSON object, and numbers to which it refers by index,
// which are faster to transfer outside JSON.
type Reply struct {
	JSON   []byte
	Packed []float32
}

// Progress is called with how much of a long computation is done.
type Progress func(what string, done, of int)

// request has the members of all requests; see page/web/protocol.
type request struct {
	ID    int    `json:"id"`
	Do    string `json:"do"`
	State state  `json:"state"`

	Text  string `json:"text"`
	Name  string `json:"name"`
	Start string `json:"start"`
	Pick  *pick  `json:"pick"`

	Rest       bool     `json:"rest"`
	Sets       int      `json:"sets"`
	Deliveries int      `json:"deliveries"`
	Sessions   int      `json:"sessions"`
	Racks      int      `json:"racks"`
	Level      string   `json:"level"`
	By         string   `json:"by"`
	Moves      []string `json:"moves"`
	Seed       uint64   `json:"seed"`
}

// answers are the functions that answer requests, by kind.
var answers = map[string]func(*Engine, context.Context, request, Progress) (answer, error){
	"hello": (*Engine).hello,
	"open":  (*Engine).openFile,
	"throw": (*Engine).throw,
	"terms": (*Engine).terms,

	"file": ofSetup((*Engine).file), "compare": ofSetup((*Engine).compare), "spread": ofSetup((*Engine).spread), "aim": ofSetup((*Engine).lineSearch),
	"move": ofSetup((*Engine).move), "wear": ofSetup((*Engine).wear), "racks": ofSetup((*Engine).racks),
}

// ofSetup returns a function that reads a request's setup and then answers it.
func ofSetup(of func(*Engine, context.Context, *setup, request, Progress) (answer, error)) func(*Engine, context.Context, request, Progress) (answer, error) {
	return func(e *Engine, ctx context.Context, r request, progress Progress) (answer, error) {
		s, err := e.read(r.State)
		if err != nil {
			return answer{}, err
		}
		return of(e, ctx, s, r, progress)
	}
}

// answer is a reply before it is written.
type answer struct {
	is      string
	members report.Object
	packed  packed
}

// Answer answers a request. An error of the request, and a context that ends, are answers,
// too.
func (e *Engine) Answer(ctx context.Context, text []byte, progress Progress) Reply {
	var r request
	var a answer
	err := json.Unmarshal(text, &r)
	if err == nil {
		of, known := answers[r.Do]
		if !known {
			err = fmt.Errorf("there is no request %q", r.Do)
		} else {
			a, err = of(e, ctx, r, progress)
		}
	}
	if err != nil {
		a = e.failed(ctx, err)
	}
	made, err := report.JSON(append(report.ObjectOf("id", r.ID, "is", a.is), a.members...))
	if err != nil {
		made, _ = report.JSON(report.ObjectOf("id", r.ID, "is", "failed", "message", err.Error()))
	}
	return Reply{made, a.packed}
}

// failed returns the answer for an error.
func (e *Engine) failed(ctx context.Context, err error) answer {
	var wrong scenario.Errors
	var none *noLineError
	switch {
	case errors.As(err, &wrong):
		return answer{is: "problems", members: report.ObjectOf("problems", problems(wrong))}
	case errors.As(err, &none):
		return none.answer()
	case ctx.Err() != nil:
		return answer{is: "stopped"}
	}
	return answer{is: "failed", members: report.ObjectOf("message", err.Error())}
}

// packed are the numbers of a reply, one list after the other.
type packed []float32

// add appends numbers.
func (p *packed) add(values ...float64) {
	for _, v := range values {
		*p = append(*p, float32(v))
	}
}

// points describes the points added from an index on, each of stride numbers.
func (p packed) points(from, stride int) report.Object {
	return report.ObjectOf("from", from, "count", (len(p)-from)/stride, "stride", stride)
}

// array refers to the numbers added from an index on; the page replaces it by an array of
// them.
func (p packed) array(from int) report.Object {
	return report.ObjectOf("$packed", []int{from, len(p)})
}
