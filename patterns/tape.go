package patterns

import (
	"errors"
	"fmt"
	"math"

	"lanesim/internal/input"
	"lanesim/units"
)

// TapeError reports a fault in a file of tape readings.
type TapeError struct {
	Name string // of the file, as given
	input.Fault
}

func (e *TapeError) Error() string {
	text := fmt.Sprintf("%s:%d:%d: ", e.Name, e.Line, e.Column)
	if e.Field != "" {
		text += e.Field + ": "
	}
	text += e.Reason
	if e.Hint != "" {
		text += "; " + e.Hint
	}
	return text
}

// TapeColumns names the columns of a file of tape readings.
func TapeColumns() []string { return []string{distanceColumn, boardColumn, unitsColumn} }

// ReadTape reads tape readings from CSV text and makes a grid from them as
// [FromReadings] does. The first record names the columns distance_ft, board
// and units, in any order; lines that begin with # are skipped. The name is
// the file's, for the grid and for errors.
//
// All faults are returned together, each a [*TapeError], in the order of the text.
func ReadTape(name string, text []byte) (Grid, error) {
	t := input.Table{Needed: TapeColumns()}
	var readings []Reading
	var spoilt []bool // readings with a cell that is not a number
	var rows []input.Row
	t.Read(text, func(r input.Row) {
		distance, board, film := r.Number(distanceColumn, true), r.Number(boardColumn, true), r.Number(unitsColumn, true)
		if math.Abs(board) > math.MaxInt32 || board != math.Trunc(board) && !math.IsNaN(board) {
			cell, _ := r.Cell(boardColumn)
			r.Fault(boardColumn, cell+" is not a board number", "")
			board = math.NaN()
		}
		if math.IsNaN(distance) {
			return
		}
		bad := math.IsNaN(board + film)
		if bad {
			board, film = 0, 0
		}
		readings, spoilt, rows = append(readings, Reading{distance * units.Foot, int(board), film}), append(spoilt, bad), append(rows, r)
	})
	for _, fault := range checkReadings(readings, spoilt) {
		reason := fault.Reason
		if fault.Earlier >= 0 {
			reason += fmt.Sprintf(", on line %d", rows[fault.Earlier].Place(fault.Field).Line)
		}
		if fault.Index >= 0 {
			rows[fault.Index].Fault(fault.Field, reason, "")
		} else if len(t.Faults()) == 0 {
			t.Fault(input.Place{Line: 1, Column: 1}, "", "no readings below the header", "")
		}
	}
	if faults := t.Faults(); len(faults) > 0 {
		return Grid{}, errors.Join(input.Each(faults, func(f input.Fault) error { return &TapeError{name, f} })...)
	}
	g, err := FromReadings(readings)
	if err != nil {
		return Grid{}, err
	}
	g.Name = name
	g.About = fmt.Sprintf("Made from %d tape readings at %d distances.", len(readings), len(g.Distances))
	return g, nil
}
