package studies

import (
	"context"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// bagOf returns a bag whose cells are known: shares[i][j] of ball i on lane j.
func bagOf(size int, shares [][]float64) Bag {
	q := Bag{Balls: make([]ball.Ball, len(shares)), Lanes: make([]lane.Lane, len(shares[0])), Size: size, Known: map[int]BagCell{}}
	for i, row := range shares {
		for j, s := range row {
			q.Known[i*len(row)+j] = BagCell{PocketShare: s, Reaches: true}
		}
	}
	return q
}

func TestBagTakesBallsThatCoverDifferentLanes(t *testing.T) {
	// The best two alone are good on the same lane.
	c, err := bagOf(2, [][]float64{{0.6, 0.1}, {0.55, 0.15}, {0.1, 0.5}}).Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Chosen) != 2 || c.Chosen[0] != 0 || c.Chosen[1] != 2 {
		t.Errorf("chose %v, want 0 and 2", c.Chosen)
	}
	const tiny = 1e-12 // of sums of shares
	if c.Coverage-0.55 > tiny || 0.55-c.Coverage > tiny {
		t.Errorf("covers %g, want 0.55", c.Coverage)
	}
	if d := c.Adds[2] - 0.2; d > tiny || -d > tiny {
		t.Errorf("the third adds %g, want 0.2", c.Adds[2])
	}
	if c.Adds[1] != 0 {
		t.Errorf("the second adds %g to the others", c.Adds[1])
	}
}

func TestBagWeighsLanes(t *testing.T) {
	q := bagOf(1, [][]float64{{0.6, 0.1}, {0.3, 0.3}})
	q.Weights = []float64{1, 9}
	c, err := q.Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if c.Chosen[0] != 1 {
		t.Errorf("chose %v", c.Chosen)
	}
}

func TestBagComputesItsCellsOnceAndTellsThem(t *testing.T) {
	s := wornSetup(t, ball.Right, 3.4, leagueSigmas())
	far := wornSetup(t, ball.Right, 6.1, leagueSigmas())
	q := Bag{
		Balls: []ball.Ball{s.Ball, far.Ball}, Lanes: []lane.Lane{s.Lane}, Release: s.Release, Repeatability: s.Repeatability,
		Size: 1, Farthest: 2, Shots: 40, Seed: 1, Settings: physics.Settings{},
	}
	known := map[int]BagCell{}
	q.Cell = func(i int, c BagCell) { known[i] = c }
	first, err := q.Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(known) != 2 || !known[0].Reaches || !(known[0].PocketShare > 0) {
		t.Fatalf("told of %+v", known)
	}
	q.Known, q.Cell = known, func(int, BagCell) { t.Error("computed a cell that was known") }
	again, err := q.Run(context.Background())
	if err != nil || again.Coverage != first.Coverage {
		t.Errorf("covers %g, first %g (%v)", again.Coverage, first.Coverage, err)
	}
}

func TestBagRefusesWhatCannotBeChosen(t *testing.T) {
	for _, q := range []Bag{{}, bagOf(3, [][]float64{{1}, {1}}), bagOf(0, [][]float64{{1}})} {
		if _, err := q.Run(context.Background()); err == nil {
			t.Errorf("chose %d of %d", q.Size, len(q.Balls))
		}
	}
}
