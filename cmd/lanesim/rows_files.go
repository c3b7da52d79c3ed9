package main

import (
	"bufio"
	"context"
	"errors"

	"lanesim/internal/files"
	"lanesim/plots"
	"lanesim/plots/sweeps"
	"lanesim/rows"
)

// sweepRows describes rows to write.
type sweepRows struct {
	header rows.Header
	draw   *sweeps.Sweep // nil if no picture can be drawn
	phone  plots.Size
}

// deliverRows writes the rows of each, in order, to files and to standard output. The
// files get their names when all are complete.
func (p *program) deliverRows(ctx context.Context, s sweepRows, paths []string, o outputFlags, each func(func([]byte) error) error) (err error) {
	var sinks []rows.Sink
	var pending []*files.Pending
	defer func() {
		if err != nil {
			files.Abandon(pending)
		}
	}()
	for _, path := range paths {
		f, err := files.Create(path)
		if err != nil {
			return err
		}
		pending = append(pending, f)
		sink, err := s.sink(f.Buffer, files.Ending(path))
		if err != nil {
			return err
		}
		sinks = append(sinks, sink)
	}
	out := bufio.NewWriter(p.out)
	switch {
	case o.csv, o.json:
		kind := ".csv"
		if o.json {
			kind = ".jsonl"
		}
		sink, err := s.sink(out, kind)
		if err != nil {
			return err
		}
		sinks = append(sinks, sink)
	default:
		sinks = append(sinks, rows.NewTable(out, s.header, p.paintFor(p.out), len(paths) == 0))
	}
	err = each(func(line []byte) error {
		for _, sink := range sinks {
			if err := sink.Row(line); err != nil {
				return err
			}
		}
		return ctx.Err()
	})
	if err != nil {
		if errors.Is(err, context.Canceled) && (o.csv || o.json) {
			err = errors.Join(err, out.Flush()) // the rows that are finished
		}
		return err
	}
	for _, sink := range sinks {
		if err := sink.Close(); err != nil {
			return err
		}
	}
	written, err := files.Finish(pending)
	for _, path := range written {
		p.say("wrote %s", path)
	}
	if err != nil {
		return err
	}
	return out.Flush()
}

// sink returns the sink for the format of an ending.
func (s sweepRows) sink(to *bufio.Writer, ending string) (rows.Sink, error) {
	if sink, err := rows.NewSink(to, s.header, ending); sink != nil || err != nil {
		return sink, err
	}
	return s.draw.Picture(to, ending, s.phone), nil
}
