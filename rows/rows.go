// Package rows keeps rows of results: in journals while they are computed, which show how
// far they are sound, so that a run can be resumed whatever ended it; in parts of a sweep,
// which are merged; and finally as CSV, JSON lines, Parquet or a table.
//
// A row is a line of CSV whose first field is its number. A [Header] says what the fields
// are.
package rows

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lanesim/internal/input"
	"lanesim/report"
)

// Column is a column of rows.
type Column struct {
	Name string      `json:"name"`
	Kind report.Kind `json:"kind"`
}

// Header describes rows: enough to write them in any format.
type Header struct {
	Title   string   `json:"title,omitempty"`
	Columns []Column `json:"columns"`

	// Rows is the number of rows of all shards; Fingerprint identifies the inputs
	// of the run.
	Rows        uint64 `json:"rows"`
	Fingerprint string `json:"fingerprint"`

	// Shard and Of select the rows k ≡ Shard modulo Of.
	Shard uint64 `json:"shard"`
	Of    uint64 `json:"of"`

	// Block is the number of rows written at a time; 0 means the usual number.
	Block int `json:"block,omitempty"`
}

// HeaderOf returns the header of rows in one part whose columns have these names and
// kinds. The caller sets Rows and Fingerprint.
func HeaderOf(names []string, kinds []report.Kind) Header {
	h := Header{Of: 1}
	for i, name := range names {
		h.Columns = append(h.Columns, Column{name, kinds[i]})
	}
	return h
}

// block is the number of rows in a block of a journal.
func (h Header) block() int {
	if h.Block > 0 {
		return h.Block
	}
	return defaultBlock
}

// Count is the number of rows of this shard.
func (h Header) Count() uint64 {
	if h.Shard >= h.Rows {
		return 0
	}
	return (h.Rows-h.Shard-1)/h.Of + 1
}

// Row is the number of the i-th row of this shard, both from 0.
func (h Header) Row(i uint64) uint64 { return h.Shard + i*h.Of }

// parseCell reads a cell as [report.Cell.Exact] prints it.
func parseCell(kind report.Kind, text string) (c report.Cell, err error) {
	switch {
	case text == "":
		c.Absent = true
	case kind == report.TruthKind:
		c.Truth, err = strconv.ParseBool(text)
	case kind == report.TextKind:
		c.Text = text
	default:
		c.Number, err = strconv.ParseFloat(text, 64)
	}
	return c, err
}

// Line writes the cells of a row, with its line end. Texts of a sweep hold no
// line breaks, so a row is a line.
func (h Header) Line(cells []report.Cell) []byte {
	fields := make([]string, len(cells))
	for i, c := range cells {
		fields[i] = c.Exact(h.Columns[i].Kind)
	}
	return lineOf(fields)
}

// lineOf joins the fields of a line.
func lineOf(fields []string) []byte {
	if !slices.ContainsFunc(fields, quoted) {
		return append([]byte(strings.Join(fields, ",")), '\n')
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write(fields) // to memory, which has no error
	w.Flush()
	return b.Bytes()
}

// quoted reports whether a field may need quotes.
func quoted(field string) bool {
	return strings.ContainsAny(field, "\",\r\n\\") || strings.HasPrefix(field, " ") || strings.HasPrefix(field, "\u00a0")
}

// csvFields splits a line into its n fields.
func csvFields(line []byte, n int) ([]string, error) {
	if bytes.IndexByte(line, '"') < 0 {
		fields := strings.Split(strings.TrimSuffix(string(line), "\n"), ",")
		if len(fields) != n {
			return nil, fmt.Errorf("%d fields, not %d", len(fields), n)
		}
		return fields, nil
	}
	r := csv.NewReader(bytes.NewReader(line))
	r.FieldsPerRecord = n
	return r.Read()
}

// Names lists the columns' names.
func (h Header) Names() []string {
	return input.Each(h.Columns, func(c Column) string { return c.Name })
}

// Cells reads the cells of a line. It is an error if their number is not that of the
// columns, or if one is not of its column's kind.
func (h Header) Cells(line []byte) ([]report.Cell, error) {
	fields, err := csvFields(line, len(h.Columns))
	if err != nil {
		return nil, err
	}
	cells := make([]report.Cell, len(fields))
	for i, text := range fields {
		if cells[i], err = parseCell(h.Columns[i].Kind, text); err != nil {
			return nil, fmt.Errorf("column %s: %w", h.Columns[i].Name, err)
		}
	}
	return cells, nil
}
