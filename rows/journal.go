package rows

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"

	"lanesim/report"
)

// Rows of an unfinished run, and the parts of a sweep, are kept in files that are only
// appended to and that show how far they are sound: a line
//
//	lanesim rows 1 {header}
//
// that describes the rows, then blocks of rows as CSV lines, each followed by
//
//	# ROWS CHECKSUM
//
// with the number of rows so far and a checksum (CRC-32C, in hexadecimal
// digits) of all bytes before it except such marks, and last, if all rows are
// there,
//
//	# complete ROWS CHECKSUM
//
// A file that was cut off anywhere is sound up to the last mark.
const journalMagic = "lanesim rows 1 "

// defaultBlock is the usual number of rows in a block: little work to lose, and few
// marks.
const defaultBlock = 256

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Journal is a file of rows that is being written. It is locked until it is closed.
type Journal struct {
	header  Header
	file    *os.File
	sum     uint32 // checksum of the blocks before
	rows    uint64 // in total, with those of the present block
	block   bytes.Buffer
	inBlock int   // rows in the block
	dropped int64 // bytes at the end that were not sound when it was resumed
}

// headerLine prints a header.
func headerLine(h Header) ([]byte, error) {
	text, err := report.JSON(h)
	return append(append([]byte(journalMagic), text...), '\n'), err
}

// Create starts a new file of rows. The error wraps [fs.ErrExist] if it is there already.
func Create(path string, h Header) (*Journal, error) {
	line, err := headerLine(h)
	if err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return nil, err
	}
	j := &Journal{header: h, file: f, sum: crc32.Update(0, castagnoli, line)}
	if err := lock(f); err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if _, err := f.Write(line); err != nil {
		f.Close()
		os.Remove(path)
		return nil, err
	}
	return j, nil
}

// ErrOtherRows says that the rows of a file do not belong to a header.
var ErrOtherRows = errors.New("holds rows of another run: inputs, flags, part or version of the program differ; remove it, or give another name")

// ErrInUse says that another process writes a file.
var ErrInUse = errors.New("is being written by another run")

// Resume continues a file from its last sound mark: what follows that is cut off. The error
// wraps [fs.ErrNotExist], [ErrInUse], [ErrNoHeader], [ErrDamaged] or, if the file does not
// belong to the header, [ErrOtherRows].
func Resume(path string, h Header) (*Journal, error) {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return nil, err
	}
	var j *Journal
	if err = lock(f); err == nil {
		err = stillThere(path, f)
	}
	if err == nil {
		j, err = continueJournal(f, h)
	}
	if err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return j, nil
}

// stillThere returns an error if another run moved or removed the file before this one
// locked it.
func stillThere(path string, f *os.File) error {
	now, err := os.Stat(path)
	if err != nil {
		return err
	}
	info, err := f.Stat()
	if err == nil && !os.SameFile(now, info) {
		err = ErrInUse
	}
	return err
}

// continueJournal finds how far a file is sound and makes it ready to be continued there.
func continueJournal(f *os.File, h Header) (*Journal, error) {
	j := &Journal{header: h, file: f}
	want, err := headerLine(h)
	if err != nil {
		return nil, err
	}
	r := newReader(f)
	switch err := r.open(); {
	case err == nil && !bytes.Equal(r.headerText, want):
		return nil, ErrOtherRows
	case err == nil:
	case errors.Is(err, ErrNoHeader) && r.empty:
		// Cut off before anything was said.
		if err := rewind(f, 0); err != nil {
			return nil, err
		}
		if _, err := f.Write(want); err != nil {
			return nil, err
		}
		j.sum, j.dropped = crc32.Update(0, castagnoli, want), r.began
		return j, nil
	default:
		return nil, err
	}
	// The last block may be short of rows if the run was interrupted: its rows
	// go into the block that is to be.
	end, sum, rows := r.offset, r.sum, uint64(0)
	var last [][]byte
	for {
		before, sumBefore := r.offset, r.sum
		lines, err := r.blockLines()
		if err != nil || r.complete {
			break // what follows is not sound, or nothing follows
		}
		if last = nil; len(lines) < h.block() {
			end, sum = before, sumBefore
			last = lines
			if _, err = r.blockLines(); err == nil && !r.complete {
				return nil, ErrDamaged // a block that is short is the last
			}
			break
		}
		rows += uint64(len(lines))
		end, sum = r.offset, r.sum
	}
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	j.dropped = info.Size() - r.offset
	if err := rewind(f, end); err != nil {
		return nil, err
	}
	j.sum, j.rows = sum, rows
	for _, line := range last {
		if err := j.Row(line); err != nil {
			return nil, err
		}
	}
	return j, nil
}

// rewind cuts a file off at an offset and moves there.
func rewind(f *os.File, at int64) error {
	if err := f.Truncate(at); err != nil {
		return err
	}
	_, err := f.Seek(at, io.SeekStart)
	return err
}

// Row appends a row as [Header.Line] writes it. Blocks go to the file when they are full.
func (j *Journal) Row(line []byte) error {
	j.block.Write(line)
	j.rows++
	if j.inBlock++; j.inBlock < j.header.block() {
		return nil
	}
	return j.mark("")
}

// mark ends the present block with a mark, after a word.
func (j *Journal) mark(word string) error {
	j.sum = crc32.Update(j.sum, castagnoli, j.block.Bytes())
	fmt.Fprintf(&j.block, "# %s%d %08x\n", word, j.rows, j.sum)
	_, err := j.file.Write(j.block.Bytes())
	j.block.Reset()
	j.inBlock = 0
	return err
}

// Header describes the rows.
func (j *Journal) Header() Header { return j.header }

// Rows is the number of rows so far.
func (j *Journal) Rows() uint64 { return j.rows }

// Dropped is the number of damaged bytes cut off the end when the file was resumed.
func (j *Journal) Dropped() int64 { return j.dropped }

// Release closes a file that is finished, and keeps it.
func (j *Journal) Release() error { return j.file.Close() }

// Close writes the rows of the last block, which may be short, and closes the file, to be
// resumed.
func (j *Journal) Close() error {
	var err error
	if j.inBlock > 0 {
		err = j.mark("")
	}
	return errors.Join(err, j.file.Sync(), j.file.Close())
}

// Finish marks a file that has all its rows as complete. It stays open and locked.
func (j *Journal) Finish() error {
	if j.inBlock > 0 {
		if err := j.mark(""); err != nil {
			return err
		}
	}
	return errors.Join(j.mark(completeWord), j.file.Sync())
}

// Each calls take with each row of the blocks written so far. It ends at the first error.
func (j *Journal) Each(take func(line []byte) error) error {
	info, err := j.file.Stat()
	if err != nil {
		return err
	}
	r := newReader(io.NewSectionReader(j.file, 0, info.Size()))
	if err := r.open(); err != nil {
		return err
	}
	for r.offset < info.Size() {
		lines, err := r.blockLines()
		if err != nil {
			return err
		}
		for _, line := range lines {
			if err := take(line); err != nil {
				return err
			}
		}
	}
	return nil
}

// PutAway calls a function that moves or removes the file, before another process can
// lock it, and closes it.
func (j *Journal) PutAway(do func() error) error {
	if do() == nil {
		return j.file.Close()
	}
	// Some systems neither move nor remove an open file.
	return errors.Join(j.file.Close(), do())
}
