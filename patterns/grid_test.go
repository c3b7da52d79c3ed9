package patterns

import (
	"errors"
	"math"
	"slices"
	"testing"

	"lanesim/lane"
	"lanesim/units"
)

func TestGridBuilds(t *testing.T) {
	g := level(3, 12)
	g.Units[1] = make([]float64, lane.Boards)
	g.Units[1][0] = 8
	o := build(t, g)
	if got := o.Thickness(6, lane.Lateral(1)); !near(got, 5.5*units.OilUnit, exact) {
		t.Errorf("board 1 half-way has %v units, want 5.5", got/units.OilUnit)
	}
	if got := o.Thickness(12.001, 0); got != 0 {
		t.Errorf("film %v beyond the end", got)
	}
}

// Every fault is reported, with its row and column.
func TestGridErrors(t *testing.T) {
	full := func() []float64 { return slices.Repeat([]float64{1}, lane.Boards) }
	spoilt := full()
	spoilt[6], spoilt[38] = -3, math.NaN()
	for _, test := range []struct {
		name string
		grid Grid
		want string
		at   [][2]int
	}{
		{"empty", Grid{}, "grid: no distances", [][2]int{{-1, -1}}},
		{"short row", Grid{Distances: []float64{0, 12}, Units: [][]float64{full(), full()[:38]}},
			"grid row 2: 38 values, not one for each of 39 boards", [][2]int{{1, -1}}},
		{"rows missing", Grid{Distances: []float64{0, 12}, Units: [][]float64{full()}},
			"grid: 1 rows of film for 2 distances", [][2]int{{-1, -1}}},
		{"film", Grid{Distances: []float64{0, 12}, Units: [][]float64{full(), spoilt}},
			"grid row 2, board 7: film of -3 units is not 0 or more\ngrid row 2, board 39: film of NaN units is not 0 or more",
			[][2]int{{1, 6}, {1, 38}}},
		{"order", Grid{Distances: []float64{-units.Foot, 20 * units.Foot, 20 * units.Foot}, Units: [][]float64{full(), full(), full()}},
			"grid row 1: distance -1 ft is not 0 or more\ngrid row 3: distance 20 ft does not come after 20 ft",
			[][2]int{{0, -1}, {2, -1}}},
		{"foul line", Grid{Distances: []float64{0}, Units: [][]float64{full()}},
			"grid row 1: the oil ends at the foul line", [][2]int{{0, -1}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := test.grid.Build()
			var joined interface{ Unwrap() []error }
			if !errors.As(err, &joined) {
				t.Fatalf("error is %v", err)
			}
			var at [][2]int
			for _, fault := range joined.Unwrap() {
				var g *GridError
				if !errors.As(fault, &g) {
					t.Fatalf("fault is a %T", fault)
				}
				at = append(at, [2]int{g.Row, g.Column})
			}
			if err.Error() != test.want || !slices.Equal(at, test.at) {
				t.Errorf("error at %v is\n%v\nwant at %v\n%s", at, err, test.at, test.want)
			}
		})
	}
}
