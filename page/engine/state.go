package engine

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/scenario"
)

// state determines the shots.
type state struct {
	Base string `json:"base"`
	Sets sets   `json:"sets"`
	Aim  string `json:"aim"`
}

// sets are values that replace those of the base: "path=value", in order.
type sets []string

// UnmarshalJSON reads an object of paths and values and keeps their order.
func (s *sets) UnmarshalJSON(text []byte) error {
	d := json.NewDecoder(bytes.NewReader(text))
	if start, err := d.Token(); err != nil || start != json.Delim('{') {
		return errors.New("sets must be an object")
	}
	*s = nil
	for d.More() {
		path, err := d.Token()
		if err != nil {
			return err
		}
		var value string
		if err := d.Decode(&value); err != nil {
			return fmt.Errorf("the value of %v is not a text", path)
		}
		*s = append(*s, fmt.Sprint(path)+"="+value)
	}
	return nil
}

// without returns the sets except those that begin with a prefix.
func (s sets) without(prefix string) sets {
	return slices.DeleteFunc(slices.Clone(s), func(set string) bool { return strings.HasPrefix(set, prefix) })
}

// The sides A and B: the two balls of a state and their shots.
const (
	sideA = iota
	sideB
	sides
)

var sideNames = [sides]string{"a", "b"}

// setup is a state that was read: one lane, one bowler and two balls.
type setup struct {
	state
	*scenario.Scenario
	document *scenario.Document // of the base
	balls    [sides]scenario.Delivery
}

func (s *setup) lane() lane.Lane         { return s.Lanes[0] }
func (s *setup) bowler() scenario.Bowler { return s.Bowlers[0] }

// settings returns the scenario's settings for shots without the record of oil exchange.
func (s *setup) settings() physics.Settings {
	settings := s.Scenario.Settings
	settings.ExchangeSpacing = -1
	return settings
}

// errState is the error for a base that was not made by opening a file.
var errState = errors.New("the state is not that of one lane, one bowler and two balls: open a file to make one")

// read reads a state.
func (e *Engine) read(s state) (*setup, error) {
	d, err := e.parse(s.Base)
	if err != nil {
		return nil, err
	}
	made, err := d.Read(s.Sets)
	if err != nil {
		return nil, err
	}
	if len(made.Lanes) != 1 || len(made.Bowlers) != 1 || len(made.Balls) != sides {
		return nil, errState
	}
	deliveries, err := made.Deliveries()
	if err != nil {
		return nil, err
	}
	r := &setup{state: s, Scenario: made, document: d}
	copy(r.balls[:], deliveries)
	return r, nil
}

// parse returns the document of a base text, the stored one if the text is the same.
func (e *Engine) parse(base string) (*scenario.Document, error) {
	if e.document != nil && e.base == base {
		return e.document, nil
	}
	d, err := scenario.Open("scenario", []byte(base), nil)
	if err != nil {
		return nil, err
	}
	e.base, e.document = base, d
	return d, nil
}

// problems lists the errors of a file or a set, each with the input to which it belongs.
func problems(list scenario.Errors) report.List {
	return report.Each(list, func(p scenario.Problem) report.Object {
		key, side := inputAt(p.Path)
		line := p.Line
		if p.File == scenario.SetName {
			line = 0
		}
		return report.ObjectOf("text", p.String(), "message", p.Message, "hint", p.Hint,
			"line", line, "column", p.Column, "path", p.Path, "key", key, "side", side)
	})
}
