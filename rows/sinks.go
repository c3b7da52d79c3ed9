package rows

import (
	"bytes"
	"io"

	"lanesim/report"
)

// Sink writes rows, which it takes in order, each as [Header.Line] writes it. What it
// writes is whole when it is closed; the writer that it was made with stays open.
type Sink interface {
	Row(line []byte) error
	Close() error
}

// csvSink writes CSV with a line of names.
type csvSink struct{ to io.Writer }

// NewSink returns a sink for the format of a file's ending: .csv, .jsonl or .parquet. It
// is nil for any other ending.
func NewSink(to io.Writer, h Header, ending string) (Sink, error) {
	switch ending {
	case ".csv":
		_, err := to.Write(lineOf(h.Names()))
		return csvSink{to}, err
	case ".jsonl":
		return newJSON(to, h)
	case ".parquet":
		return newParquet(to, h)
	}
	return nil, nil
}

// Write writes rows in the format of an ending that [NewSink] knows.
func Write(to io.Writer, ending string, r report.Rows) error {
	h := HeaderOf(r.Keys, r.Kinds)
	sink, err := NewSink(to, h, ending)
	if err != nil {
		return err
	}
	err = r.Each(func(cells []report.Cell) error { return sink.Row(h.Line(cells)) })
	if err != nil {
		return err
	}
	return sink.Close()
}

func (s csvSink) Row(line []byte) error {
	_, err := s.to.Write(line)
	return err
}

func (s csvSink) Close() error { return nil }

// jsonSink writes a JSON object on a line for each row.
type jsonSink struct {
	to     io.Writer
	header Header
	keys   [][]byte // quoted, with the punctuation before and after
}

func newJSON(to io.Writer, h Header) (*jsonSink, error) {
	s := &jsonSink{to: to, header: h}
	for i, name := range h.Names() {
		key, err := report.JSON(name)
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

func (s *jsonSink) Row(line []byte) error {
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
		case s.header.Columns[i].Kind == report.TextKind:
			word, err := report.JSON(text)
			if err != nil {
				return err
			}
			b.Write(word)
		default:
			b.WriteString(text) // numbers and truth values are written as in JSON
		}
	}
	b.WriteString("}\n")
	_, err = s.to.Write(b.Bytes())
	return err
}

func (s *jsonSink) Close() error { return nil }
