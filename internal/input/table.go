package input

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// Place is a position in a text: line and column from 1, the column in bytes.
type Place struct{ Line, Column int }

// Fault is an error at a place of a text.
type Fault struct {
	Place
	Field  string // the column of the table; may be empty
	Reason string
	Hint   string // how to correct it; may be empty
}

// Table is a table in CSV while it is read. The first record names the columns, in any
// order; lines that begin with # are skipped.
type Table struct {
	Needed, Optional []string // names of the columns

	Header Place // of the first record

	width int            // of the header, in cells
	at    map[string]int // the index of each column that the header names

	end    Place
	faults []Fault
	more   int // faults beyond the most that are kept
}

// Row is a record below the header.
type Row struct {
	table  *Table
	cells  []string
	places []Place
}

// Read calls row for each record below the header, as far as the text can be parsed.
// [Table.Faults] has its errors.
func (t *Table) Read(text []byte, row func(Row)) {
	t.end = Place{bytes.Count(text, []byte("\n")) + 1, 1}
	// Some spreadsheets write a byte-order mark.
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.FieldsPerRecord = -1 // counted below, to report the place
	r.TrimLeadingSpace = true
	r.Comment = '#'
	for {
		cells, err := r.Read()
		var broken *csv.ParseError
		switch {
		case err == io.EOF:
			if t.at == nil && len(t.faults) == 0 {
				t.Fault(Place{1, 1}, "", "no header: the first line names the columns "+List(t.Needed), "")
			}
			return
		case errors.As(err, &broken):
			t.Fault(Place{broken.Line, broken.Column}, "", broken.Err.Error(), "")
			continue
		case err != nil:
			t.Fault(Place{1, 1}, "", err.Error(), "")
			return
		}
		places := make([]Place, len(cells))
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
			places[i].Line, places[i].Column = r.FieldPos(i)
		}
		if t.at == nil {
			t.header(cells, places)
			continue
		}
		if len(cells) != t.width {
			t.Fault(places[0], "", fmt.Sprintf("the line has %d cells, the header %d", len(cells), t.width), "")
		}
		row(Row{t, cells, places})
	}
}

func (t *Table) header(cells []string, places []Place) {
	t.Header, t.width, t.at = places[0], len(cells), map[string]int{}
	known := slices.Concat(t.Needed, t.Optional)
	for i, name := range cells {
		switch {
		case !slices.Contains(known, name):
			t.Fault(places[i], "", fmt.Sprintf("unknown column %q", name), cmp.Or(DidYouMean(name, known), "the columns are "+List(known)))
		case t.Has(name):
			t.Fault(places[i], name, "the column is there twice", "")
		default:
			t.at[name] = i
		}
	}
	for _, name := range t.Needed {
		if !t.Has(name) {
			t.Fault(t.Header, "", "the header has no column "+name, "")
		}
	}
}

// Has reports whether the header names a column.
func (t *Table) Has(column string) bool {
	_, has := t.at[column]
	return has
}

// Sound reports whether the header names all needed columns.
func (t *Table) Sound() bool {
	return !slices.ContainsFunc(t.Needed, func(column string) bool { return !t.Has(column) })
}

// Fault records an error at a place.
func (t *Table) Fault(at Place, field, reason, hint string) {
	if len(t.faults) == MostMessages-1 { // the last message is the number of the others
		t.more++
		return
	}
	t.faults = append(t.faults, Fault{at, field, reason, hint})
}

// Faults lists the errors in the order of the text.
func (t *Table) Faults() []Fault {
	list := slices.Clone(t.faults)
	if t.more > 0 {
		list = append(list, Fault{Place: t.end, Reason: fmt.Sprintf("there are %d more faults", t.more)})
	}
	sort.SliceStable(list, func(i, j int) bool {
		a, b := list[i], list[j]
		return cmp.Or(a.Line-b.Line, a.Column-b.Column) < 0
	})
	return list
}

// Short reports whether the row has fewer cells than the header, which is a fault.
func (r Row) Short() bool { return len(r.cells) < r.table.width }

// Cell returns the text in a column; there is false if the header or the row lacks it.
func (r Row) Cell(column string) (text string, there bool) {
	if i, has := r.table.at[column]; has && i < len(r.cells) {
		return r.cells[i], true
	}
	return "", false
}

// Place returns the place of the cell in a column, or of the row if it has none.
func (r Row) Place(column string) Place {
	if _, there := r.Cell(column); there {
		return r.places[r.table.at[column]]
	}
	return r.places[0]
}

// Fault records an error of a cell.
func (r Row) Fault(column, reason, hint string) {
	r.table.Fault(r.Place(column), column, reason, hint)
}

// Number reads the number in a column, NaN if there is none. It records a fault if the
// cell is not a number, or if it is empty and needed.
func (r Row) Number(column string, needed bool) float64 {
	text, there := r.Cell(column)
	value, err := Number(text)
	switch {
	case !there || text == "" && !needed:
	case text == "":
		r.Fault(column, "the cell is empty", "")
	case err != nil:
		r.Fault(column, strconv.Quote(text)+" "+err.Error(), "")
	default:
		return value
	}
	return math.NaN()
}
