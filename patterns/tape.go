package patterns

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"lanesim/input"
	"lanesim/units"
)

// TapeError tells of one fault in a file of tape readings.
type TapeError struct {
	// Name is the file's name as given; Line and Column, from 1, are where the
	// fault is, the column in bytes.
	Name         string
	Line, Column int

	// Reason says what is wrong.
	Reason string
}

func (e *TapeError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.Name, e.Line, e.Column, e.Reason)
}

// ReadTape reads tape readings from CSV text and makes a grid from them as
// [FromReadings] does. The first record names the columns distance_ft, board
// and units, in any order; lines that begin with # are skipped. The name is
// the file's, for the grid and for errors.
//
// All faults are found in one go, each a [*TapeError], joined in the order of
// the text.
func ReadTape(name string, text []byte) (Grid, error) {
	t := tape{name: name}
	t.read(text)
	if len(t.readings) > 0 {
		for _, fault := range checkReadings(t.readings, t.spoilt) {
			at := t.places[fault.Index][fault.Field]
			reason := fault.Reason
			if fault.Earlier >= 0 {
				reason += fmt.Sprintf(", on line %d", t.places[fault.Earlier][fault.Field].line)
			}
			t.fault(at, "%s: %s", fault.Field, reason)
		}
	} else if len(t.faults) == 0 {
		t.fault(place{1, 1}, "no readings below the header")
	}
	if t.more > 0 {
		end := bytes.Count(text, []byte("\n")) + 1
		t.faults = append(t.faults, &TapeError{name, end, 1, fmt.Sprintf("there are %d more faults", t.more)})
	}
	if len(t.faults) > 0 {
		slices.SortStableFunc(t.faults, func(a, b *TapeError) int {
			return cmp.Or(a.Line-b.Line, a.Column-b.Column)
		})
		joined := make([]error, len(t.faults))
		for i, fault := range t.faults {
			joined[i] = fault
		}
		return Grid{}, errors.Join(joined...)
	}
	g, err := FromReadings(t.readings)
	if err != nil {
		return Grid{}, err
	}
	g.Name = name
	g.About = fmt.Sprintf("Made from %d tape readings at %d distances.", len(t.readings), len(g.Distances))
	return g, nil
}

type place struct{ line, column int }

// tape is a file of readings while it is read.
type tape struct {
	name   string
	faults []*TapeError
	more   int // faults beyond the most that are kept

	columns map[string]int // index of each column that the header names

	readings []Reading
	spoilt   []bool             // readings with a cell that was no number
	places   []map[string]place // where each reading's cells stand
}

// mostFaults is how many faults are kept: as many as are shown, with the one that
// tells how many more there are.
const mostFaults = input.MostMessages - 1

func (t *tape) fault(at place, format string, values ...any) {
	if len(t.faults) == mostFaults {
		t.more++
		return
	}
	t.faults = append(t.faults, &TapeError{t.name, at.line, at.column, fmt.Sprintf(format, values...)})
}

// read takes the text apart, as far as it can be.
func (t *tape) read(text []byte) {
	// Spreadsheets like to begin with a byte-order mark.
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.FieldsPerRecord = -1 // counted here, with better places
	r.TrimLeadingSpace = true
	r.Comment = '#'
	width := 0
	for {
		record, err := r.Read()
		var broken *csv.ParseError
		switch {
		case err == io.EOF:
			if t.columns == nil && len(t.faults) == 0 {
				t.fault(place{1, 1}, "no header: the first line names the columns %s", columnList())
			}
			return
		case errors.As(err, &broken):
			t.fault(place{broken.Line, broken.Column}, "%v", broken.Err)
			continue
		case err != nil:
			t.fault(place{1, 1}, "%v", err)
			return
		}
		at := func(i int) place {
			line, column := r.FieldPos(i)
			return place{line, column}
		}
		if t.columns == nil {
			width = len(record)
			t.header(record, at)
			continue
		}
		if len(record) != width {
			t.fault(at(0), "the line has %d cells, the header %d", len(record), width)
		}
		t.row(record, at)
	}
}

// TapeColumns names the columns of a file of tape readings.
func TapeColumns() []string { return columns() }

func columns() []string { return []string{distanceColumn, boardColumn, unitsColumn} }

func columnList() string { return strings.Join(columns(), ", ") }

func (t *tape) header(record []string, at func(int) place) {
	t.columns = map[string]int{}
	for i, cell := range record {
		cell = strings.TrimSpace(cell)
		_, twice := t.columns[cell]
		switch {
		case !slices.Contains(columns(), cell):
			t.fault(at(i), "unknown column %q; the columns are %s", cell, columnList())
		case twice:
			t.fault(at(i), "column %s is there twice", cell)
		default:
			t.columns[cell] = i
		}
	}
	for _, column := range columns() {
		if _, there := t.columns[column]; !there {
			t.fault(at(0), "the header has no column %s", column)
		}
	}
}

// row books one reading. Without its distance it is not booked at all; with
// another cell missing or broken it is booked as spoilt.
func (t *tape) row(record []string, at func(int) place) {
	values := map[string]float64{}
	places := map[string]place{}
	for _, column := range columns() {
		i, there := t.columns[column]
		if !there || i >= len(record) {
			continue // told already
		}
		places[column] = at(i)
		cell := strings.TrimSpace(record[i])
		value, err := input.Number(cell)
		switch {
		case cell == "":
			t.fault(at(i), "%s: the cell is empty", column)
		case err != nil:
			t.fault(at(i), "%s: %q %v", column, cell, err)
		case column == boardColumn && !(value == math.Trunc(value) && math.Abs(value) <= math.MaxInt32):
			t.fault(at(i), "%s: %s is not the number of a board", column, cell)
		default:
			values[column] = value
		}
	}
	distance, ok := values[distanceColumn]
	if !ok {
		return
	}
	t.readings = append(t.readings, Reading{
		Distance: distance * units.Foot,
		Board:    int(values[boardColumn]),
		Units:    values[unitsColumn],
	})
	t.spoilt = append(t.spoilt, len(values) < len(columns()))
	t.places = append(t.places, places)
}
