package scenario

import (
	"lanesim/internal/input"
	"lanesim/studies/fit"
)

// ReadTracks reads measured tracks from CSV text: a row for each point, in the
// order in which the ball passed them. The first record names the columns, in
// any order: shot, distance_ft and board, and perhaps time_s, speed_mph, ball
// and bowler. Lines that begin with # are skipped; a time or a speed may be
// empty where it was not measured. The name is the file's, for errors.
//
// All faults are found in one go: the error is [Errors].
func ReadTracks(name string, text []byte, of TracksFor) ([]fit.Track, error) {
	t := tracks{of: of, Table: input.Table{Needed: neededColumns, Optional: optionalColumns}, missing: map[string]bool{}}
	t.Read(text, t.row)
	var made []fit.Track
	if t.Sound() {
		made = t.gather()
		if len(t.rows) == 0 && len(t.Faults()) == 0 {
			t.Fault(input.Place{Line: 1, Column: 1}, "", "no points below the header", "")
		}
	}
	var p problems
	source := p.source(name, string(text))
	for _, f := range t.Faults() {
		p.add(source.byteColumn(f.Line, f.Column), f.Field, f.Reason, f.Hint)
	}
	if err := p.err(); err != nil {
		return nil, err
	}
	return made, nil
}

// tracks is a file of tracks while it is read.
type tracks struct {
	input.Table
	of      TracksFor
	missing map[string]bool // columns of which it was said that they are not there
	rows    []trackRow
}

// trackRow is a row of the file. A number that the row does not have, or that is none, is
// NaN.
type trackRow struct {
	input.Row
	shot, ball, bowler           string
	distance, board, time, speed float64
}

// row keeps one row.
func (t *tracks) row(row input.Row) {
	r := trackRow{
		Row:      row,
		distance: row.Number(distanceColumn, true), board: row.Number(boardColumn, true),
		time: row.Number(timeColumn, false), speed: row.Number(speedColumn, false),
	}
	r.ball, _ = row.Cell(ballColumn)
	r.bowler, _ = row.Cell(bowlerColumn)
	var there bool
	if r.shot, there = row.Cell(shotColumn); there && r.shot == "" {
		row.Fault(shotColumn, "the cell is empty", "")
	}
	t.check(&r)
	if r.shot != "" {
		t.rows = append(t.rows, r)
	}
}
