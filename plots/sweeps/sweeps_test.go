package sweeps

import (
	"context"
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

func TestSweepsComputeAndDrawTheirRows(t *testing.T) {
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
	var rows [2]string
	for i := range rows {
		err := s.Compute(context.Background(), i+1, 0, func() {}, func(line []byte) error {
			rows[i] += string(line)
			if i > 0 {
				return nil
			}
			return sink.Row(line)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if rows[0] != rows[1] || strings.Count(rows[0], "\n") != 10 || !strings.HasPrefix(rows[0], "0,17,A,") {
		t.Errorf("rows\n%s and\n%s", rows[0], rows[1])
	}
	if cells, err := s.Worker(context.Background())(9); err != nil || !strings.HasSuffix(rows[0], string(s.Header.Line(cells))) {
		t.Errorf("the last row is %v alone, %v", cells, err)
	}
	if err := sink.Close(); err != nil || !strings.Contains(picture.String(), "<svg") {
		t.Errorf("a picture of %d bytes, %v", picture.Len(), err)
	}
}
