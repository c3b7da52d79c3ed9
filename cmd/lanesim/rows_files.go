package main

import (
	"bufio"
	"context"
	"errors"
	"os"
	"path/filepath"
	"regexp"

	"lanesim/plots"
	"lanesim/rows"
	"lanesim/sweeps"
)

// sweepRows are rows that are to be written.
type sweepRows struct {
	header rows.Header
	draw   *sweeps.Run // nil if no picture can be asked for
	phone  plots.Size
}

// deliverRows writes rows, which each hands over in order, to files and to
// standard output. The files get their names when all are complete.
func (p *program) deliverRows(ctx context.Context, s sweepRows, files []string, o outputFlags, each func(func([]byte) error) error) (err error) {
	var sinks []rows.Sink
	var pending []*pendingFile
	defer func() {
		if err != nil {
			for _, f := range pending {
				f.abandon()
			}
		}
	}()
	for _, path := range files {
		f, err := createPending(path)
		if err != nil {
			return err
		}
		pending = append(pending, f)
		sink, err := s.sink(f.buffer, ending(path))
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
		sinks = append(sinks, rows.NewTable(out, s.header, p.paintFor(p.out), len(files) == 0))
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
	for _, f := range pending {
		if err := f.complete(); err != nil {
			return err
		}
	}
	for _, f := range pending {
		if err := f.rename(); err != nil {
			return err
		}
		p.say("wrote %s", f.path)
	}
	return out.Flush()
}

// sink makes what writes rows in the format of an ending.
func (s sweepRows) sink(to *bufio.Writer, ending string) (rows.Sink, error) {
	if sink, err := rows.NewSink(to, s.header, ending); sink != nil || err != nil {
		return sink, err
	}
	return s.draw.Picture(to, ending, s.phone), nil
}

// pendingFile is a file under a temporary name beside its own.
type pendingFile struct {
	path, temporary string
	file            *os.File
	buffer          *bufio.Writer
}

// createPending makes one. What is no regular file is written to at once.
func createPending(path string) (*pendingFile, error) {
	target, special, mode := destination(path)
	f := &pendingFile{path: target}
	var err error
	if special {
		f.file, err = os.OpenFile(target, os.O_WRONLY, 0)
	} else if f.temporary, err = writeTemporary(target, file{}, mode); err == nil {
		removeLeftovers(target, f.temporary)
		f.file, err = os.OpenFile(f.temporary, os.O_WRONLY, 0)
	}
	if err != nil {
		return nil, err
	}
	f.buffer = bufio.NewWriterSize(f.file, 1<<16)
	return f, nil
}

// removeLeftovers removes the temporary files of a path but for one: a run that was killed
// outright could not. Long runs lock their partial file, so none is at work on them.
func removeLeftovers(path, but string) {
	folder := filepath.Dir(path)
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	leftover := regexp.MustCompile(`^\.` + regexp.QuoteMeta(filepath.Base(path)) + `\.[0-9a-f]{8}\.tmp$`)
	for _, e := range entries {
		if name := filepath.Join(folder, e.Name()); leftover.MatchString(e.Name()) && name != but {
			os.Remove(name)
		}
	}
}

// complete puts all of it on the disk.
func (f *pendingFile) complete() error {
	err := f.buffer.Flush()
	if f.temporary != "" {
		err = errors.Join(err, f.file.Sync())
	}
	return errors.Join(err, f.file.Close())
}

func (f *pendingFile) rename() error {
	if f.temporary == "" {
		return nil
	}
	return os.Rename(f.temporary, f.path)
}

// abandon leaves nothing behind.
func (f *pendingFile) abandon() {
	f.file.Close()
	if f.temporary != "" {
		os.Remove(f.temporary)
	}
}
