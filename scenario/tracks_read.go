package scenario

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"lanesim/input"
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
	// Spreadsheets like to begin with a byte-order mark.
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	t := tracks{name: name, of: of, lines: strings.Split(string(text), "\n")}
	t.read(text)
	var made []fit.Track
	if t.sound {
		made = t.gather()
		if len(t.rows) == 0 && len(t.faults) == 0 {
			t.fault(trackPlace{1, 1}, "", "no points below the header", "")
		}
	}
	if len(t.faults) == 0 {
		return made, nil
	}
	if t.more > 0 {
		t.faults = append(t.faults, Problem{File: name, Line: len(t.lines), Column: 1, Message: fmt.Sprintf("there are %d more faults", t.more)})
	}
	slices.SortStableFunc(t.faults, func(a, b Problem) int { return cmp.Or(a.Line-b.Line, a.Column-b.Column) })
	return nil, t.faults
}

// tracks is a file of tracks while it is read.
type tracks struct {
	name   string
	of     TracksFor
	lines  []string
	faults Errors
	more   int // faults beyond the most that are kept

	columns map[string]int // index of each column that the header names
	header  trackPlace
	sound   bool // whether the columns that are needed are there
	missing map[string]bool

	rows []trackRow
}

// mostFaults is how many faults are kept: as many as are shown, with the one that
// says how many more there are.
const mostFaults = input.MostMessages - 1

// fault notes a fault at a place, whose column counts bytes.
func (t *tracks) fault(at trackPlace, field, reason, hint string) {
	if len(t.faults) == mostFaults {
		t.more++
		return
	}
	e := Problem{File: t.name, Line: at.line, Column: at.column, Path: field, Message: reason, Hint: hint}
	if n := at.line - 1; n >= 0 && n < len(t.lines) {
		e.Source = strings.TrimRight(t.lines[n], "\r")
		if before := at.column - 1; before <= len(e.Source) {
			e.Column = utf8.RuneCountInString(e.Source[:before]) + 1
		}
	}
	t.faults = append(t.faults, e)
}

// absent notes, once, that the header lacks a column.
func (t *tracks) absent(column, reason string) {
	if !t.missing[column] {
		t.fault(t.header, "", reason, "")
		t.missing[column] = true
	}
}

// read takes the text apart, as far as it can be.
func (t *tracks) read(text []byte) {
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord = -1 // counted here, with better places
	r.TrimLeadingSpace = true
	r.Comment = '#'
	t.missing = map[string]bool{}
	width := 0
	for {
		record, err := r.Read()
		var broken *csv.ParseError
		switch {
		case err == io.EOF:
			if t.columns == nil && len(t.faults) == 0 {
				t.fault(trackPlace{1, 1}, "", "no header: the first line names the columns "+input.List(neededColumns), "")
			}
			return
		case errors.As(err, &broken):
			t.fault(trackPlace{broken.Line, broken.Column}, "", broken.Err.Error(), "")
			continue
		case err != nil:
			t.fault(trackPlace{1, 1}, "", err.Error(), "")
			return
		}
		at := func(i int) trackPlace {
			line, column := r.FieldPos(i)
			return trackPlace{line, column}
		}
		if t.columns == nil {
			width = len(record)
			t.readHeader(record, at)
			continue
		}
		if len(record) != width {
			t.fault(at(0), "", fmt.Sprintf("the line has %d cells, the header %d", len(record), width), "")
		}
		t.row(record, at)
	}
}

func (t *tracks) readHeader(record []string, at func(int) trackPlace) {
	known := slices.Concat(neededColumns, optionalColumns)
	t.columns, t.header = map[string]int{}, at(0)
	for i, cell := range record {
		cell = strings.TrimSpace(cell)
		_, twice := t.columns[cell]
		switch {
		case !slices.Contains(known, cell):
			hint := input.DidYouMean(cell, known)
			if hint == "" {
				hint = "the columns are " + input.List(known)
			}
			t.fault(at(i), "", fmt.Sprintf("unknown column %q", cell), hint)
		case twice:
			t.fault(at(i), cell, "the column is there twice", "")
		default:
			t.columns[cell] = i
		}
	}
	t.sound = true
	for _, column := range neededColumns {
		if _, there := t.columns[column]; !there {
			t.sound = false
			t.absent(column, "the header has no column "+column)
		}
	}
}

// row keeps one row. What is no number is kept as NaN.
func (t *tracks) row(record []string, at func(int) trackPlace) {
	r := trackRow{places: map[string]trackPlace{}}
	cell := func(column string) (text string, there bool) {
		i, there := t.columns[column]
		if !there || i >= len(record) {
			r.short = r.short || there
			return "", false
		}
		r.places[column] = at(i)
		return strings.TrimSpace(record[i]), true
	}
	number := func(column string, needed bool) float64 {
		text, there := cell(column)
		if !there {
			return math.NaN() // reported already
		}
		value, err := input.Number(text)
		reason := ""
		switch {
		case text == "" && !needed:
			return math.NaN()
		case text == "":
			reason = "the cell is empty"
		case err != nil:
			reason = strconv.Quote(text) + " " + err.Error()
		default:
			return value
		}
		t.fault(r.places[column], column, reason, "")
		return math.NaN()
	}
	var there bool
	if r.shot, there = cell(shotColumn); r.shot == "" {
		if there {
			t.fault(r.places[shotColumn], shotColumn, "the cell is empty", "")
		}
		there = false
	}
	r.distance, r.board = number(distanceColumn, true), number(boardColumn, true)
	r.time, r.speed = number(timeColumn, false), number(speedColumn, false)
	r.ball, _ = cell(ballColumn)
	r.bowler, _ = cell(bowlerColumn)
	t.check(&r)
	if there {
		t.rows = append(t.rows, r)
	}
}
