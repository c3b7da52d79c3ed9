package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lanesim/scenario"
)

// Kinds of columns of rows, by their names in headers.
const (
	countKind  = "count"
	numberKind = "number"
	truthKind  = "truth"
	textKind   = "text"
)

// rowColumn is a column of rows.
type rowColumn struct {
	Name string `json:"name"`
	Kind string `json:"kind"`
}

// rowsHeader tells what rows are: enough to write them in any format.
type rowsHeader struct {
	Title   string      `json:"title,omitempty"`
	Columns []rowColumn `json:"columns"`

	// Rows is the number of rows of the whole; Fingerprint identifies what
	// they follow from.
	Rows        uint64 `json:"rows"`
	Fingerprint string `json:"fingerprint"`

	// Shard and Of tell which of the rows there are: k ≡ Shard modulo Of.
	Shard uint64 `json:"shard"`
	Of    uint64 `json:"of"`

	// Block is how many rows are written at a time; 0 means journalBlock.
	Block int `json:"block,omitempty"`
}

// block is the number of rows in a block of a journal.
func (h rowsHeader) block() int {
	if h.Block > 0 {
		return h.Block
	}
	return journalBlock
}

// count is how many rows there are of this shard.
func (h rowsHeader) count() uint64 {
	if h.Shard >= h.Rows {
		return 0
	}
	return (h.Rows-h.Shard-1)/h.Of + 1
}

// row is the number of the i-th row of this shard.
func (h rowsHeader) row(i uint64) uint64 { return h.Shard + i*h.Of }

// kindOf names the kind of a column of a sweep.
func kindOf(k scenario.CellKind) string {
	return [...]string{scenario.NumberCell: numberKind, scenario.CountCell: countKind, scenario.TruthCell: truthKind, scenario.TextCell: textKind}[k]
}

// cellText prints a cell as CSV has it: what does not exist is empty.
func cellText(kind string, c scenario.Cell) string {
	switch {
	case c.Absent:
		return ""
	case kind == truthKind:
		return strconv.FormatBool(c.Truth)
	case kind == textKind:
		return c.Text
	}
	text, _ := number(c.Number).MarshalJSON() // of a finite number, which has no error
	return string(text)
}

// parseCell reads a cell as cellText prints it.
func parseCell(kind, text string) (c scenario.Cell, err error) {
	switch {
	case text == "":
		c.Absent = true
	case kind == truthKind:
		c.Truth, err = strconv.ParseBool(text)
	case kind == textKind:
		c.Text = text
	default:
		c.Number, err = strconv.ParseFloat(text, 64)
	}
	return c, err
}

// csvLine joins the fields of a row, with its line end. Texts of a sweep hold no
// line breaks, so a row is a line.
func csvLine(fields []string) []byte {
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

// csvFields takes a line apart.
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

// names lists the columns' names.
func (h rowsHeader) names() []string {
	names := make([]string, len(h.Columns))
	for i, c := range h.Columns {
		names[i] = c.Name
	}
	return names
}

// cells reads the cells of a line.
func (h rowsHeader) cells(line []byte) ([]scenario.Cell, error) {
	fields, err := csvFields(line, len(h.Columns))
	if err != nil {
		return nil, err
	}
	cells := make([]scenario.Cell, len(fields))
	for i, text := range fields {
		if cells[i], err = parseCell(h.Columns[i].Kind, text); err != nil {
			return nil, fmt.Errorf("column %s: %w", h.Columns[i].Name, err)
		}
	}
	return cells, nil
}

// rowSink takes rows in order. A line is a row as csvLine makes it.
type rowSink interface {
	row(line []byte) error
	close() error
}

// csvSink writes CSV with a line of names.
type csvSink struct{ to lineWriter }

// lineWriter takes text.
type lineWriter interface{ Write([]byte) (int, error) }

func newCSVSink(to lineWriter, h rowsHeader) (csvSink, error) {
	_, err := to.Write(csvLine(h.names()))
	return csvSink{to}, err
}

func (s csvSink) row(line []byte) error {
	_, err := s.to.Write(line)
	return err
}

func (s csvSink) close() error { return nil }

// jsonSink writes a JSON object on a line for each row.
type jsonSink struct {
	to     lineWriter
	header rowsHeader
	keys   [][]byte // with quotes and what stands before and after
}

func newJSONSink(to lineWriter, h rowsHeader) (*jsonSink, error) {
	s := &jsonSink{to: to, header: h}
	for i, name := range h.names() {
		key, err := encodeJSON(name)
		if err != nil {
			return nil, err
		}
		before := ","
		if i == 0 {
			before = "{"
		}
		s.keys = append(s.keys, append(append([]byte(before), key...), ':'))
	}
	return s, nil
}

func (s *jsonSink) row(line []byte) error {
	fields, err := csvFields(line, len(s.keys))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	for i, text := range fields {
		b.Write(s.keys[i])
		switch {
		case text == "":
			b.WriteString("null")
		case s.header.Columns[i].Kind == textKind:
			word, err := encodeJSON(text)
			if err != nil {
				return err
			}
			b.Write(word)
		default:
			b.WriteString(text) // numbers and truths are printed as JSON has them
		}
	}
	b.WriteString("}\n")
	_, err = s.to.Write(b.Bytes())
	return err
}

func (s *jsonSink) close() error { return nil }
