//go:build !noparquet

package rows

import (
	"io"

	"lanesim/report"

	"github.com/parquet-go/parquet-go"
)

// Rows of a row group, which is kept in memory until it is written, and rows that
// are handed to the library at once. Both are fixed so that equal rows give equal
// bytes.
const (
	parquetGroup = 1 << 16
	parquetBatch = 1 << 9
)

// parquetSink writes a Parquet file.
type parquetSink struct {
	header Header
	to     *parquet.GenericWriter[any]
	batch  []parquet.Row
	inRow  int // rows in the present group
}

// orderedGroup is a schema whose columns keep their order.
type orderedGroup struct {
	parquet.Group
	order []string
}

// Fields lists the columns in order.
func (g orderedGroup) Fields() []parquet.Field {
	byName := map[string]parquet.Field{}
	for _, f := range g.Group.Fields() {
		byName[f.Name()] = f
	}
	fields := make([]parquet.Field, len(g.order))
	for i, name := range g.order {
		fields[i] = byName[name]
	}
	return fields
}

// Endings are the endings of the files that rows can be written to.
func Endings() []string { return []string{".csv", ".jsonl", ".parquet"} }

func newParquet(to io.Writer, h Header) (Sink, error) {
	group := orderedGroup{parquet.Group{}, h.Names()}
	for i, c := range h.Columns {
		var node parquet.Node
		switch c.Kind {
		case report.CountKind:
			node = parquet.Leaf(parquet.Int64Type)
		case report.TruthKind:
			node = parquet.Leaf(parquet.BooleanType)
		case report.TextKind:
			node = parquet.Encoded(parquet.String(), &parquet.RLEDictionary)
		default:
			node = parquet.Leaf(parquet.DoubleType)
		}
		if i > 0 { // the row's number is always there
			node = parquet.Optional(node)
		}
		group.Group[c.Name] = parquet.Compressed(node, &parquet.Snappy)
	}
	return &parquetSink{header: h, to: parquet.NewGenericWriter[any](to, parquet.NewSchema("rows", group),
		parquet.MaxRowsPerRowGroup(parquetGroup), parquet.CreatedBy("lanesim", "", ""))}, nil
}

func (s *parquetSink) Row(line []byte) error {
	cells, err := s.header.Cells(line)
	if err != nil {
		return err
	}
	row := make(parquet.Row, len(cells))
	for i, c := range cells {
		level := 1 // of a value in an optional column
		if i == 0 {
			level = 0
		}
		if c.Absent {
			row[i] = parquet.NullValue().Level(0, 0, i)
			continue
		}
		switch s.header.Columns[i].Kind {
		case report.CountKind:
			row[i] = parquet.Int64Value(int64(c.Number))
		case report.TruthKind:
			row[i] = parquet.BooleanValue(c.Truth)
		case report.TextKind:
			row[i] = parquet.ByteArrayValue([]byte(c.Text))
		default:
			row[i] = parquet.DoubleValue(c.Number)
		}
		row[i] = row[i].Level(0, level, i)
	}
	s.batch = append(s.batch, row)
	if len(s.batch) < parquetBatch {
		return nil
	}
	return s.write()
}

func (s *parquetSink) write() error {
	_, err := s.to.WriteRows(s.batch)
	s.inRow += len(s.batch)
	s.batch = s.batch[:0]
	if err == nil && s.inRow >= parquetGroup {
		s.inRow = 0
		err = s.to.Flush()
	}
	return err
}

func (s *parquetSink) Close() error {
	if err := s.write(); err != nil {
		return err
	}
	return s.to.Close()
}
