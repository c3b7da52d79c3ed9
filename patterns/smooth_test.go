package patterns

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/lane"
	"lanesim/units"
)

// A crown written out as a grid has the crown's numbers.
func TestGridOfACrownIsTheCrown(t *testing.T) {
	c := Crown{Length: 41.5 * units.Foot, Volume: millilitres(25.3), Ratio: 4.5}
	o, err := c.Build()
	if err != nil {
		t.Fatal(err)
	}
	g, err := GridOf(o)
	if err != nil {
		t.Fatal(err)
	}
	again, err := g.Build()
	if err != nil {
		t.Fatal(err)
	}
	m, want := Measure(again, BoardSets{}), Measure(o, BoardSets{})
	if m.Length != want.Length || !near(m.Volume, want.Volume, exact) || !near(m.Ratio.Both, want.Ratio.Both, exact) {
		t.Errorf("%g m, %g m³, ratio %g, want %g, %g, %g", m.Length, m.Volume, m.Ratio.Both, want.Length, want.Volume, want.Ratio.Both)
	}
	for i := range o.Film {
		if !near(again.Film[i], o.Film[i], exact) {
			t.Fatalf("film %d is %g, want %g", i, again.Film[i], o.Film[i])
		}
	}
	if _, err := GridOf(nil); err == nil {
		t.Error("a dry lane was written out")
	}
}

// Smoothing keeps the oil of every row and every third, stays within the range of the film,
// and makes the film no rougher.
func TestSmoothingKeepsTheVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Grid{Distances: []float64{0, 3, 12}}
		for range g.Distances {
			g.Units = append(g.Units, rapid.SliceOfN(rapid.Float64Range(0, 100), lane.Boards, lane.Boards).Draw(t, "row"))
		}
		boards := rapid.Float64Range(1, lane.Boards).Draw(t, "boards")
		s, err := g.Smooth(boards)
		if err != nil {
			t.Fatal(err)
		}
		before, after := build(t, g), build(t, s)
		for _, to := range []float64{3, 12} {
			if a, b := after.Volume(0, to), before.Volume(0, to); !near(a, b, exact) {
				t.Errorf("%g m³ up to %g m, %g before", a, to, b)
			}
		}
		for i := range g.Units {
			rough := func(row []float64) (least, most, roughness float64) {
				least, most = math.Inf(1), math.Inf(-1)
				for j, u := range row {
					least, most = min(least, u), max(most, u)
					if j > 0 {
						roughness += math.Abs(u - row[j-1])
					}
				}
				return least, most, roughness
			}
			least, most, roughness := rough(g.Units[i])
			l, m, r := rough(s.Units[i])
			slack := exact * (1 + most)
			if l < least-slack || m > most+slack || r > roughness+lane.Boards*slack {
				t.Errorf("row %d: from %g…%g, total variation %g, to %g…%g, %g", i, least, most, roughness, l, m, r)
			}
		}
	})
}

func TestSmoothingWeights(t *testing.T) {
	g := Grid{Distances: []float64{10}, Units: [][]float64{make([]float64, lane.Boards)}}
	g.Units[0][19], g.Units[0][0] = 9, 9
	s, err := g.Smooth(3)
	if err != nil {
		t.Fatal(err)
	}
	for board, want := range map[int]float64{
		17: 0, 18: 1, 19: 2, 20: 3, 21: 2, 22: 1, 23: 0,
		// The mirror image of board 1 lies just beyond the edge.
		1: 3 + 2, 2: 2 + 1, 3: 1, 4: 0,
	} {
		if got := s.Units[0][board-1]; math.Abs(got-want) > exact {
			t.Errorf("board %d holds %g, want %g", board, got, want)
		}
	}
	same, err := g.Smooth(1)
	if err != nil {
		t.Fatal(err)
	}
	for j, u := range same.Units[0] {
		if u != g.Units[0][j] {
			t.Errorf("board %d: %g by a width of one board, want %g", j+1, u, g.Units[0][j])
		}
	}
	for _, boards := range []float64{0, 0.9, -3, 40, math.NaN(), math.Inf(1)} {
		if _, err := g.Smooth(boards); err == nil {
			t.Errorf("smoothed over %g boards", boards)
		}
	}
}

func TestMeasureAtOwnDistances(t *testing.T) {
	g := level(10, 12)
	m := MeasureAt(build(t, g), BoardSets{}, []float64{1, 5, 20})
	if len(m.Sections) != 4 {
		t.Fatalf("%d sections", len(m.Sections))
	}
	for i, want := range []float64{1, 5, 20, 12} {
		if m.Sections[i].Distance != want {
			t.Errorf("section %d at %g m, want %g", i, m.Sections[i].Distance, want)
		}
	}
	if m.Sections[1].Ratio.Both != 1 || !math.IsNaN(m.Sections[2].Ratio.Both) {
		t.Errorf("ratios %v and %v", m.Sections[1].Ratio, m.Sections[2].Ratio)
	}
}
