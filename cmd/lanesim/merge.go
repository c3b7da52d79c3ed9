package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// mergeOptions are the flags of the merge command.
type mergeOptions struct{ output outputFlags }

func (p *program) mergeCommand() *cobra.Command {
	var o mergeOptions
	c := &cobra.Command{
		Use:     "merge FOLDER",
		GroupID: groupRun,
		Short:   "Join the parts of a sweep that was computed with --shard",
		Long: `Merge joins the parts of a sweep that lanesim sweep --shard left in a folder, in
the order of the rows: the result is, byte for byte, that of the same sweep in
one go. It reads the parts alone, not the sweep's file.

A part that is missing, that is there twice, that belongs to another sweep or
that is damaged is named, and nothing is written.`,
		Example: `  lanesim sweep examples/sweep-layout.yaml --shard 0/2 -o parts
  lanesim sweep examples/sweep-layout.yaml --shard 1/2 -o parts
  lanesim merge parts -o layout.csv -o layout.parquet
  lanesim merge parts --json`,
		Args: func(c *cobra.Command, arguments []string) error {
			if len(arguments) != 1 {
				return wrongInput("%s needs one folder; %d were given", c.Name(), len(arguments))
			}
			return nil
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.merge(c.Context(), arguments[0], o)
		},
	}
	c.Flags().SortFlags = false
	o.output.addJSON(c)
	c.Flags().Lookup("json").Usage = "print rows as JSON, an object on a line"
	o.output.addCSV(c, "print rows as CSV")
	o.output.addPaths(c, rowEndings())
	return c
}

// part is a part of a sweep that is being read.
type part struct {
	path   string
	file   *os.File
	reader *journalReader
	lines  [][]byte // of its present block
}

// merge runs the merge command.
func (p *program) merge(ctx context.Context, folder string, o mergeOptions) error {
	if err := o.output.check(rowEndings()); err != nil {
		return err
	}
	parts, err := openParts(folder)
	defer func() {
		for _, q := range parts {
			q.file.Close()
		}
	}()
	if err != nil {
		return inputError{err}
	}
	if o.output.csv || o.output.json {
		// What is printed cannot be taken back.
		for _, q := range parts {
			if err := checkPart(q.path, q.reader.header); err != nil {
				return inputError{fmt.Errorf("%s %w", q.path, err)}
			}
		}
	}
	whole := parts[0].reader.header
	whole.Shard, whole.Of = 0, 1
	files := slices.DeleteFunc(slices.Clone(o.output.paths), func(path string) bool { return path == standardStream })
	return p.deliverRows(ctx, sweepRows{header: whole}, files, o.output, func(take func([]byte) error) error {
		for k := range whole.Rows {
			line, err := parts[k%uint64(len(parts))].next()
			if err != nil {
				return inputError{err}
			}
			if err := take(line); err != nil {
				return err
			}
		}
		// What is behind the last row has not been looked at yet.
		for _, q := range parts {
			if err := q.end(); err != nil {
				return inputError{err}
			}
		}
		return nil
	})
}

// openParts opens the parts in a folder, in their order. All that is wrong with
// them is told together.
func openParts(folder string) ([]*part, error) {
	paths, err := filepath.Glob(filepath.Join(escapeGlob(folder), "*.rows"))
	if err != nil {
		return nil, err
	}
	if len(paths) == 0 {
		if _, err := os.ReadDir(folder); err != nil {
			return nil, err
		}
		return nil, fmt.Errorf("there is no part of a sweep in %s", folder)
	}
	var parts []*part
	var wrong []error
	for _, path := range paths {
		q := &part{path: path}
		if q.file, err = openPart(path); err != nil {
			return parts, err
		}
		parts = append(parts, q)
		q.reader = newJournalReader(q.file)
		if err := q.reader.open(); err != nil {
			wrong = append(wrong, fmt.Errorf("%s %w", path, err))
		}
	}
	if len(wrong) == 0 {
		wrong = checkParts(folder, parts)
	}
	slices.SortFunc(parts, func(a, b *part) int { return int(a.reader.header.Shard) - int(b.reader.header.Shard) })
	return parts, errors.Join(wrong...)
}

// escapeGlob keeps the letters of a folder's name from standing for others.
func escapeGlob(name string) string {
	if filepath.Separator == '\\' {
		return name // where a backslash cannot escape
	}
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(name)
}

// checkParts holds the headers of parts against each other.
func checkParts(folder string, parts []*part) []error {
	first := parts[0]
	of := first.reader.header.Of
	by := map[uint64]*part{}
	var wrong []error
	for _, q := range parts {
		h := q.reader.header
		same := h
		same.Shard = first.reader.header.Shard
		a, errA := headerLine(same)
		b, errB := headerLine(first.reader.header)
		switch other := by[h.Shard]; {
		case errA != nil || errB != nil:
			wrong = append(wrong, errors.Join(errA, errB))
		case h.Of != of:
			wrong = append(wrong, fmt.Errorf("%s is one of %d parts, %s one of %d", q.path, h.Of, first.path, of))
		case string(a) != string(b):
			wrong = append(wrong, fmt.Errorf("%s is of another sweep than %s", q.path, first.path))
		case other != nil:
			wrong = append(wrong, fmt.Errorf("%s is part %d once more, which %s is already", q.path, h.Shard, other.path))
		default:
			by[h.Shard] = q
		}
	}
	for i := range of {
		if by[i] != nil {
			continue
		}
		name := filepath.Join(folder, partName(i, of))
		if _, err := os.Stat(name + partialEnding); err == nil {
			wrong = append(wrong, fmt.Errorf("%s is not complete: %s is there; run its job again with --resume", name, filepath.Base(name)+partialEnding))
		} else {
			wrong = append(wrong, fmt.Errorf("%s is missing", name))
		}
		if len(wrong) > mostMissing {
			return append(wrong, errors.New("there may be more"))
		}
	}
	return wrong
}

// mostMissing is how many problems of parts are told.
const mostMissing = 20

// next returns the next row of a part.
func (q *part) next() ([]byte, error) {
	if len(q.lines) == 0 {
		lines, err := q.reader.blockLines()
		if err == nil && q.reader.complete {
			err = errCutOff
		}
		if err != nil {
			return nil, fmt.Errorf("%s %w", q.path, err)
		}
		q.lines = lines
	}
	line := q.lines[0]
	q.lines = q.lines[1:]
	return line, nil
}

// end checks that a part has no more rows and says so.
func (q *part) end() error {
	if len(q.lines) > 0 {
		return fmt.Errorf("%s %w", q.path, errDamaged)
	}
	_, err := q.reader.blockLines()
	if err == nil && !q.reader.complete {
		err = errDamaged
	}
	if err == nil {
		if _, more := q.reader.r.ReadByte(); !errors.Is(more, io.EOF) {
			err = errDamaged
		}
	}
	if err != nil {
		return fmt.Errorf("%s %w", q.path, err)
	}
	return nil
}
