package patterns

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/units"
)

// Reading is the film measured on one board with tape.
type Reading struct {
	Distance float64 // m from the foul line
	Board    int     // counted from 1 at the right edge
	Units    float64 // oil units
}

// Columns of tape readings, as a CSV file names them.
const (
	distanceColumn = "distance_ft"
	boardColumn    = "board"
	unitsColumn    = "units"
)

// ReadingError reports a tape reading that cannot be used.
type ReadingError struct {
	// Index counts the readings from 0; -1 if there are none.
	Index int

	// Field is the part at fault: distance_ft, board or units.
	Field string

	// Reason says what is wrong with it.
	Reason string

	// Earlier is, for a spot read twice, the index of its first reading, else
	// -1.
	Earlier int
}

func (e *ReadingError) Error() string {
	if e.Index < 0 {
		return "tape readings: " + e.Reason
	}
	text := fmt.Sprintf("tape reading %d: %s: %s", e.Index+1, e.Field, e.Reason)
	if e.Earlier >= 0 {
		text += fmt.Sprintf(", in reading %d", e.Earlier+1)
	}
	return text
}

// FromReadings makes a grid from tape readings in any order, a row per distance.
// Between two boards read the film is interpolated linearly across the lane; beyond
// the outermost it stays level. The oil ends at the last distance: read the end of
// the oil too.
//
// Each distance needs at least two readings, on different boards. Each fault is a
// [*ReadingError]; several are joined.
func FromReadings(readings []Reading) (Grid, error) {
	if faults := checkReadings(readings, make([]bool, len(readings))); len(faults) > 0 {
		return Grid{}, errors.Join(input.Each(faults, func(e *ReadingError) error { return e })...)
	}
	sorted := slices.Clone(readings)
	slices.SortFunc(sorted, func(a, b Reading) int {
		return cmp.Or(cmp.Compare(a.Distance, b.Distance), cmp.Compare(a.Board, b.Board))
	})
	var g Grid
	for len(sorted) > 0 {
		n := 1
		for n < len(sorted) && sorted[n].Distance == sorted[0].Distance {
			n++
		}
		g.Distances = append(g.Distances, sorted[0].Distance)
		g.Units = append(g.Units, fillBoards(sorted[:n]))
		sorted = sorted[n:]
	}
	return g, nil
}

// fillBoards makes a row of all boards from readings sorted by board.
func fillBoards(readings []Reading) []float64 {
	row := make([]float64, lane.Boards)
	next := 0 // first reading at or beyond the board
	for j := range row {
		board := j + 1
		for next < len(readings) && readings[next].Board < board {
			next++
		}
		switch {
		case next == len(readings):
			row[j] = readings[next-1].Units
		case next == 0 || readings[next].Board == board:
			row[j] = readings[next].Units
		default:
			a, b := readings[next-1], readings[next]
			share := float64(board-a.Board) / float64(b.Board-a.Board)
			row[j] = (1-share)*a.Units + share*b.Units
		}
	}
	return row
}

// checkReadings lists the faults of the readings, in their order. Readings marked
// as spoilt are known to be wrong: they only count as a reading at their distance.
func checkReadings(readings []Reading, spoilt []bool) []*ReadingError {
	if len(readings) == 0 {
		return []*ReadingError{{Index: -1, Reason: "there are none", Earlier: -1}}
	}
	var faults []*ReadingError
	fault := func(i int, field, format string, values ...any) {
		faults = append(faults, &ReadingError{i, field, fmt.Sprintf(format, values...), -1})
	}
	type spot struct {
		distance float64
		board    int
	}
	first := map[spot]int{}
	count := map[float64]int{}
	farthest := 0.0
	for _, r := range readings {
		count[r.Distance]++
		if !math.IsInf(r.Distance, 0) {
			farthest = max(farthest, r.Distance)
		}
	}
	for i, r := range readings {
		if spoilt[i] {
			continue
		}
		known := !(math.IsNaN(r.Distance) || math.IsInf(r.Distance, 0) || r.Distance < 0)
		if !known {
			fault(i, distanceColumn, "%g ft is not 0 or more", r.Distance/units.Foot)
		} else if r.Distance > MaximumLength {
			fault(i, distanceColumn, "%g ft is more than %.4g ft", r.Distance/units.Foot, MaximumLength/units.Foot)
		}
		onLane := 1 <= r.Board && r.Board <= lane.Boards
		if !onLane {
			fault(i, boardColumn, "%d is not a board from 1 to %d", r.Board, lane.Boards)
		}
		if !(r.Units >= 0) || math.IsInf(r.Units, 0) {
			fault(i, unitsColumn, "%g is not 0 or more", r.Units)
		} else if r.Units > MaximumUnits {
			fault(i, unitsColumn, "%g is more than %.f", r.Units, MaximumUnits)
		}
		if !known || !onLane {
			continue
		}
		if j, twice := first[spot{r.Distance, r.Board}]; twice {
			fault(i, boardColumn, "board %d at %.6g ft is already there", r.Board, r.Distance/units.Foot)
			faults[len(faults)-1].Earlier = j
			continue
		}
		first[spot{r.Distance, r.Board}] = i
		if count[r.Distance] == 1 {
			fault(i, distanceColumn, "%.6g ft has only one reading; two or more are needed", r.Distance/units.Foot)
		}
		if farthest == 0 {
			fault(i, distanceColumn, "all readings are at the foul line, where the oil would end")
			farthest = math.Inf(1) // once is enough
		}
	}
	return faults
}
