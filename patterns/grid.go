package patterns

import (
	"errors"
	"fmt"
	"math"

	"lanesim/lane"
	"lanesim/units"
)

// Grid is a pattern as a table of film, measured or designed.
type Grid struct {
	Name, About string

	// Distances are the rows' distances from the foul line in m, increasing.
	// The oil ends exactly at the last.
	Distances []float64

	// Units holds a row per distance, and in it the film in oil units on each
	// of the 39 boards, counted from the right.
	Units [][]float64
}

// GridError reports a fault of a [Grid].
type GridError struct {
	// Row and Column are indices from 0 into the grid's distances and into
	// the row's boards; -1 for a fault that is not in one row or one column.
	Row, Column int

	// Reason says what is wrong.
	Reason string
}

// Error counts rows and boards from 1.
func (e *GridError) Error() string {
	switch {
	case e.Row < 0:
		return "grid: " + e.Reason
	case e.Column < 0:
		return fmt.Sprintf("grid row %d: %s", e.Row+1, e.Reason)
	}
	return fmt.Sprintf("grid row %d, board %d: %s", e.Row+1, e.Column+1, e.Reason)
}

// Build returns the pattern as an oil map with the grid's rows and a column
// per board. Each fault is a [*GridError]; several are joined.
func (g Grid) Build() (*lane.OilMap, error) {
	var faults []error
	fault := func(row, column int, format string, values ...any) {
		faults = append(faults, &GridError{row, column, fmt.Sprintf(format, values...)})
	}
	if len(g.Distances) == 0 {
		fault(-1, -1, "no distances")
	}
	if len(g.Units) != len(g.Distances) {
		fault(-1, -1, "%d rows of film for %d distances", len(g.Units), len(g.Distances))
	}
	for i, d := range g.Distances {
		switch {
		case !(d >= 0) || math.IsInf(d, 0):
			fault(i, -1, "distance %.4g ft is not 0 or more", d/units.Foot)
		case i > 0 && d <= g.Distances[i-1]:
			fault(i, -1, "distance %.4g ft does not come after %.4g ft", d/units.Foot, g.Distances[i-1]/units.Foot)
		case i == len(g.Distances)-1 && d == 0:
			fault(i, -1, "the oil ends at the foul line")
		}
	}
	for i, row := range g.Units {
		if len(row) != lane.Boards {
			fault(i, -1, "%d values, not one for each of %d boards", len(row), lane.Boards)
		}
		for j, u := range row {
			if !(u >= 0) || math.IsInf(u, 0) {
				fault(i, j, "film of %g units is not 0 or more", u)
			} else if u > MaximumUnits {
				fault(i, j, "film of %g units is more than %g", u, MaximumUnits)
			}
		}
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	return lane.NewBoardOilMap(g.Distances, g.Units)
}
