package rows

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lanesim/internal/files"
)

// PartName is the name of a complete part.
func PartName(shard, of uint64) string { return fmt.Sprintf("part-%05d-of-%05d.rows", shard, of) }

// part is a part of a sweep that is being read.
type part struct {
	path   string
	file   *os.File
	reader *reader
	lines  [][]byte // of its present block
}

// Parts are the parts of a sweep that are being read, in their order.
type Parts []*part

// OpenParts opens the parts in a folder. All that is wrong with them is reported
// together: those that are missing, incomplete, there twice or of another sweep.
func OpenParts(folder string) (Parts, error) {
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
	var parts Parts
	var wrong []error
	for _, path := range paths {
		q := &part{path: path}
		if q.file, err = openPart(path); err != nil {
			parts.Close()
			return nil, err
		}
		parts = append(parts, q)
		q.reader = newReader(q.file)
		if err := q.reader.open(); err != nil {
			wrong = append(wrong, fmt.Errorf("%s %w", path, err))
		}
	}
	if len(wrong) == 0 {
		wrong = checkParts(folder, parts)
	}
	slices.SortFunc(parts, func(a, b *part) int { return int(a.reader.header.Shard) - int(b.reader.header.Shard) })
	if wrong != nil {
		parts.Close()
		return nil, errors.Join(wrong...)
	}
	return parts, nil
}

// escapeGlob escapes the characters of a folder's name that are wildcards.
func escapeGlob(name string) string {
	if filepath.Separator == '\\' {
		return name // where a backslash cannot escape
	}
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(name)
}

// checkParts compares the headers of parts.
func checkParts(folder string, parts Parts) []error {
	first := parts[0]
	of := first.reader.header.Of
	byShard := map[uint64]*part{}
	var wrong []error
	for _, q := range parts {
		h := q.reader.header
		same := h
		same.Shard = first.reader.header.Shard
		a, errA := headerLine(same)
		b, errB := headerLine(first.reader.header)
		switch other := byShard[h.Shard]; {
		case errA != nil || errB != nil:
			wrong = append(wrong, errors.Join(errA, errB))
		case h.Of != of:
			wrong = append(wrong, fmt.Errorf("%s is one of %d parts, %s one of %d", q.path, h.Of, first.path, of))
		case string(a) != string(b):
			wrong = append(wrong, fmt.Errorf("%s belongs to another sweep than %s", q.path, first.path))
		case other != nil:
			wrong = append(wrong, fmt.Errorf("%s and %[3]s are both part %[2]d", q.path, h.Shard, other.path))
		default:
			byShard[h.Shard] = q
		}
	}
	for i := range of {
		if byShard[i] != nil {
			continue
		}
		name := filepath.Join(folder, PartName(i, of))
		if _, err := os.Stat(name + files.PartialEnding); err == nil {
			wrong = append(wrong, fmt.Errorf("%s is not complete: %s is there; run its job again with --resume", name, filepath.Base(name)+files.PartialEnding))
		} else {
			wrong = append(wrong, fmt.Errorf("%s is missing", name))
		}
		if len(wrong) > mostMissing {
			return append(wrong, errors.New("there may be more"))
		}
	}
	return wrong
}

// mostMissing is the number of problems of parts that are listed.
const mostMissing = 20

// Header describes the rows of all parts together.
func (p Parts) Header() Header {
	whole := p[0].reader.header
	whole.Shard, whole.Of = 0, 1
	return whole
}

// Check reads all parts through. It is an error if one is not sound.
func (p Parts) Check() error {
	for _, q := range p {
		if err := CheckPart(q.path, q.reader.header); err != nil {
			return fmt.Errorf("%s %w", q.path, err)
		}
	}
	return nil
}

// Each hands over all rows in order. An error of the parts is a [PartError].
func (p Parts) Each(take func(line []byte) error) error {
	for k := range p.Header().Rows {
		line, err := p[k%uint64(len(p))].next()
		if err != nil {
			return PartError{err}
		}
		if err := take(line); err != nil {
			return err
		}
	}
	// What follows the last row is still unread.
	for _, q := range p {
		if err := q.end(); err != nil {
			return PartError{err}
		}
	}
	return nil
}

// PartError is an error of a part, not of the function that takes its rows.
type PartError struct{ error }

// Unwrap returns the cause.
func (e PartError) Unwrap() error { return e.error }

// Close closes the files.
func (p Parts) Close() {
	for _, q := range p {
		q.file.Close()
	}
}

// next returns the next row of a part.
func (q *part) next() ([]byte, error) {
	if len(q.lines) == 0 {
		lines, err := q.reader.blockLines()
		if err == nil && q.reader.complete {
			err = ErrCutOff
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

// end returns an error unless the part has no more rows and is complete.
func (q *part) end() error {
	if len(q.lines) > 0 {
		return fmt.Errorf("%s %w", q.path, ErrDamaged)
	}
	_, err := q.reader.blockLines()
	if err == nil {
		err = q.reader.end()
	}
	if err != nil {
		return fmt.Errorf("%s %w", q.path, err)
	}
	return nil
}

// openPart opens a part for reading. Waiting for a pipe could not be interrupted.
func openPart(path string) (*os.File, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a regular file", path)
	}
	return os.Open(path)
}

// CheckPart verifies that a part is complete and belongs to the header. The error is
// [ErrNoHeader], [ErrOtherRows], [ErrDamaged], [ErrCutOff] or one of reading.
func CheckPart(path string, h Header) error {
	f, err := openPart(path)
	if err != nil {
		return err
	}
	defer f.Close()
	want, err := headerLine(h)
	if err != nil {
		return err
	}
	r := newReader(f)
	if err := r.open(); err != nil {
		return err
	}
	if string(r.headerText) != string(want) {
		return ErrOtherRows
	}
	for !r.complete {
		if _, err := r.blockLines(); err != nil {
			return err
		}
	}
	return r.end()
}
