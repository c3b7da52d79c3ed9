package bag

import (
	"context"
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/internal/usual"
)

// bagOf returns a bag whose cells are known: shares[i][j] of ball i on lane j, in
// twentieths.
func bagOf(size int, shares [][]float64) Study {
	q := Study{Balls: make([]ball.Ball, len(shares)), Lanes: make([]lane.Lane, len(shares[0])), Size: size, Shots: 20}
	for i, row := range shares {
		for j, s := range row {
			c := Cell{Reaches: true, ByMeasure: aim.ByMeasure[[]bool]{Pocket: make([]bool, q.Shots), Good: make([]bool, q.Shots)}}
			for k := range int(math.Round(s * float64(q.Shots))) {
				c.Pocket[(k+3*i+7*j)%q.Shots] = true
			}
			q.Known = append(q.Known, c)
		}
	}
	return q
}

func TestBagTakesBallsThatCoverDifferentLanes(t *testing.T) {
	// The best two alone are good on the same lane.
	c := usual.Run(t, bagOf(2, [][]float64{{0.6, 0.1}, {0.55, 0.15}, {0.1, 0.5}}))
	if len(c.Chosen) != 2 || c.Chosen[0] != 0 || c.Chosen[1] != 2 {
		t.Errorf("chose %v, want 0 and 2", c.Chosen)
	}
	const tiny = 1e-12 // of sums of shares
	if c.Coverage.Value-0.55 > tiny || 0.55-c.Coverage.Value > tiny {
		t.Errorf("covers %g, want 0.55", c.Coverage.Value)
	}
	if d := c.Adds[2].Value - 0.2; d > tiny || -d > tiny {
		t.Errorf("the third adds %g, want 0.2", c.Adds[2].Value)
	}
	if c.Adds[1] != (studies.Mean{}) {
		t.Errorf("the second adds %v to the others", c.Adds[1])
	}
}

func TestBagWeighsLanes(t *testing.T) {
	q := bagOf(1, [][]float64{{0.6, 0.1}, {0.3, 0.3}})
	q.Weights = []float64{1, 9}
	c := usual.Run(t, q)
	if c.Chosen[0] != 1 {
		t.Errorf("chose %v", c.Chosen)
	}
}

// Cells are computed once, and equal the results of a line search without runners-up, which may have more
// hits of few deliveries.
func TestBagCellsAreThoseOfTheLineSearch(t *testing.T) {
	s := usual.Setup(t, ball.Right, 3.4, usual.League())
	far := usual.Setup(t, ball.Right, 6.1, usual.League())
	limits := aim.Limits{Laydown: physics.Window{Min: s.Release.Laydown - 1, Max: s.Release.Laydown + 1}}
	q := Study{
		Balls: []ball.Ball{s.Ball, far.Ball}, Lanes: []lane.Lane{s.Lane}, Release: s.Release, Repeatability: s.Repeatability,
		Size: 1, Limits: limits, Shots: 60, Seed: 1,
	}
	var known []Cell
	q.Cell = func(c Cell) error { known = append(known, c); return nil }
	first := usual.Run(t, q)
	if len(known) != 2 || !known[0].Reaches || known[0].Count(aim.ByPocketShare).Hits == 0 {
		t.Fatalf("cells %+v", known)
	}
	for i, c := range known {
		setup := s
		setup.Ball = q.Balls[i]
		found := usual.Run(t, aim.Search{Setup: setup, Limits: limits, By: aim.ByPocketShare, Shots: q.Shots, RunnersUp: -1, Seed: q.Seed})
		if best := found.Best; best.Release.Laydown != c.Laydown || best.Release.Angle != c.Angle || best.Pocket != c.Count(aim.ByPocketShare) || best.Good != c.Count(aim.ByGoodShare) {
			t.Errorf("ball %d: %g, %g, %v; the search finds %g, %g, %v", i, c.Laydown, c.Angle, c.Count(aim.ByPocketShare), best.Release.Laydown, best.Release.Angle, best.Pocket)
		}
	}
	q.Known, q.Cell = known, func(Cell) error { t.Error("computed a cell that was known"); return nil }
	again, err := q.Run(context.Background())
	if err != nil || again.Coverage != first.Coverage {
		t.Errorf("covers %v, first %v (%v)", again.Coverage, first.Coverage, err)
	}
	// Strikes that are rolled take the place of those from the table, on the best line.
	q.Known, q.Cell, q.Balls = nil, nil, q.Balls[:1]
	q.Strikes = func(_ context.Context, rolled studies.Setup) ([]bool, error) {
		if rolled.Release.Laydown != known[0].Laydown || rolled.Release.Angle != known[0].Angle {
			t.Errorf("rolled from %g at %g", rolled.Release.Laydown, rolled.Release.Angle)
		}
		return []bool{true, false, true, true}, nil
	}
	if again, err = q.Run(context.Background()); err != nil || again.Cells[0][0].Count(aim.ByStrikeShare) != (studies.Count{Hits: 3, Of: 4}) {
		t.Errorf("%+v: %v", again.Cells, err)
	}
}

// Intervals are those of means over deliveries: of one ball on one lane a share's.
func TestBagIntervals(t *testing.T) {
	c := usual.Run(t, bagOf(1, [][]float64{{0.6}, {0.25}}))
	for i, p := range []float64{0.6, 0.25} {
		want := 1.959964 * math.Sqrt(p*(1-p)/19) // the normal interval, with n − 1 of 20
		if got := c.Alone[i].HalfWidth(); math.Abs(got-want) > 1e-6 || math.Abs(c.Alone[i].Value-p) > 1e-12 {
			t.Errorf("ball %d alone covers %v, half width %g, want %g", i, c.Alone[i], got, want)
		}
	}
	if c.Coverage != c.Alone[0] || !c.Adds[0].Holds(c.Adds[0].Value) {
		t.Errorf("%+v", c)
	}
}

func TestBagRefusesWhatCannotBeChosen(t *testing.T) {
	weighed := func(w ...float64) Study {
		q := bagOf(1, [][]float64{{1, 1}})
		q.Weights = w
		return q
	}
	for _, q := range []Study{{}, weighed(1), weighed(1, -1), weighed(0, 0), weighed(1, math.NaN()), weighed(1, 2, 3), bagOf(3, [][]float64{{1}, {1}}), bagOf(0, [][]float64{{1}})} {
		if _, err := q.Run(context.Background()); err == nil {
			t.Errorf("chose %d of %d", q.Size, len(q.Balls))
		}
	}
}
