package sweeps

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"lanesim/scenario"
)

const quickSweep = `
title: quick sweep
scenario:
  lane: {name: dry lane, friction: {law: zones, zones: [{to: 40 ft, mu: 0.04}, {mu: 0.2}]}}
  balls: [{name: A, differential: 0 in, film_memory: off}, {name: B, rg: 2.6 in, differential: 0 in, film_memory: off}]
  bowler: {like: low revs, angle: 1 deg}
vary: {bowler.speed: {from: 17 mph, to: 19 mph, steps: 5}}
columns: [entry_board]
`

func TestSweepsAreDrawn(t *testing.T) {
	made, err := scenario.ReadSweep("quick.yaml", []byte(quickSweep), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(made)
	if err != nil || !slices.Equal(s.Header.Names(), []string{"row", "bowler.speed_mph", "ball", "entry_board"}) || s.CanDraw() != nil {
		t.Fatalf("%q, %v", s.Header.Names(), err)
	}
	var picture strings.Builder
	sink := s.Picture(&picture, ".svg", 0)
	worker := s.Worker(context.Background())
	for k := range s.Header.Rows {
		cells, err := worker(k)
		if err != nil {
			t.Fatal(err)
		}
		line := s.Header.Line(cells)
		if want := fmt.Sprintf("%d,%g,%s,", k, 17+float64(k/2)/2, []string{"A", "B"}[k%2]); !strings.HasPrefix(string(line), want) {
			t.Errorf("row %d is %s, not %s…", k, line, want)
		}
		if err := sink.Row(line); err != nil {
			t.Fatal(err)
		}
	}
	if s.Header.Rows != 10 {
		t.Errorf("%d rows", s.Header.Rows)
	}
	if err := sink.Close(); err != nil || !strings.Contains(picture.String(), "<svg") {
		t.Errorf("a picture of %d bytes, %v", picture.Len(), err)
	}
}
