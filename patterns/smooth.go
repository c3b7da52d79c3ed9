package patterns

import (
	"fmt"
	"math"

	"lanesim/lane"
)

// GridOf returns an oil map as a table with the map's rows and the film on each
// board, averaged over the board's width. For a map with a column per board
// [Grid.Build] returns the same film, up to the rounding of one division.
//
// It is an error if the map is nil: a dry lane has no rows.
func GridOf(o *lane.OilMap) (Grid, error) {
	if o == nil {
		return Grid{}, &GridError{-1, -1, "a dry lane has no film to write out"}
	}
	g := Grid{}
	strips := boardStrips(o)
	for i, d := range o.Distances {
		g.Distances = append(g.Distances, d)
		g.Units = append(g.Units, strips.row(o, i))
	}
	return g, nil
}

// Smooth returns the grid with each row smoothed across the lane. The film on a
// board becomes the mean over its neighbours with triangular weights, which fall
// linearly from the board itself to 0 at the given number of boards from it:
//
//	film'(i) = Σ w(k) film(i+k),    w(k) ∝ 1 − |k|/boards,  |k| < boards
//
// so that 1 changes nothing and 3 has the weights 1 2 3 2 1. Beyond the lane's
// edges the film is its mirror image, so each row keeps its volume. Rows are not
// mixed.
//
// The width must lie between 1 and the lane's 39 boards.
func (g Grid) Smooth(boards float64) (Grid, error) {
	if !(boards >= 1 && boards <= lane.Boards) {
		return Grid{}, fmt.Errorf("smoothing over %g boards: the width must lie between 1 and %d", boards, lane.Boards)
	}
	reach := int(math.Ceil(boards)) - 1
	weights := make([]float64, reach+1) // by distance from the board
	sum := 0.0
	for k := range weights {
		weights[k] = 1 - float64(k)/boards
		sum += weights[k]
		if k > 0 {
			sum += weights[k]
		}
	}
	smooth := g
	smooth.Units = make([][]float64, len(g.Units))
	for i, row := range g.Units {
		made := make([]float64, len(row))
		for j := range row {
			for k := -reach; k <= reach; k++ {
				weight := weights[max(k, -k)] / sum
				made[j] += weight * row[mirrored(j+k, len(row))]
			}
		}
		smooth.Units[i] = made
	}
	return smooth, nil
}

// mirrored reflects an index at most n beyond either end of a row of n back into
// it.
func mirrored(j, n int) int {
	switch {
	case j < 0:
		return -1 - j
	case j >= n:
		return 2*n - 1 - j
	}
	return j
}
