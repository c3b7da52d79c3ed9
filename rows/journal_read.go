package rows

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strconv"
	"strings"
)

const completeWord = "complete "

// reader reads a file of rows.
type reader struct {
	header     Header
	headerText []byte
	empty      bool  // the file is cut off within its header
	began      int64 // length of what there is of the header
	complete   bool  // the last mark was read

	r      *bufio.Reader
	offset int64 // after the last mark
	sum    uint32
	rows   uint64
}

// journalBuffer is the size of the buffer of a reader: many parts are read at
// the same time.
const journalBuffer = 1 << 14

func newReader(f io.Reader) *reader {
	return &reader{r: bufio.NewReaderSize(f, journalBuffer)}
}

// What is wrong with a file of rows that is read.
var (
	// ErrNoHeader says that a file does not begin as one of rows does.
	ErrNoHeader = errors.New("is not a file of rows")

	// ErrDamaged says that a block of rows differs from its checksum, or that rows are
	// missing or too many.
	ErrDamaged = errors.New("is damaged")

	// ErrCutOff says that a file ends before its last block, as after a run that was
	// ended; the rows before are whole.
	ErrCutOff = errors.New("is cut off")
)

// open reads the header.
func (r *reader) open() error {
	line, err := r.r.ReadBytes('\n')
	if err != nil {
		r.began = int64(len(line))
		r.empty = strings.HasPrefix(journalMagic, string(line)) || bytes.HasPrefix(line, []byte(journalMagic))
		return ErrNoHeader
	}
	text, ok := bytes.CutPrefix(line, []byte(journalMagic))
	if !ok || json.Unmarshal(text, &r.header) != nil || len(r.header.Columns) == 0 || r.header.Block < 0 || r.header.Of == 0 || r.header.Shard >= r.header.Of {
		return ErrNoHeader
	}
	r.headerText = line
	r.offset, r.sum = int64(len(line)), crc32.Update(0, castagnoli, line)
	return nil
}

// blockLines reads the lines of the next block and verifies its checksum. After the
// last block it returns none and sets complete. The error is [ErrDamaged], [ErrCutOff]
// or one of reading.
func (r *reader) blockLines() ([][]byte, error) {
	var lines [][]byte
	size, sum := int64(0), r.sum
	for {
		line, err := r.r.ReadBytes('\n')
		size += int64(len(line))
		switch {
		case errors.Is(err, io.EOF):
			return nil, ErrCutOff
		case err != nil:
			return nil, err
		case line[0] != '#':
			if len(lines) == r.header.block() {
				return nil, ErrDamaged
			}
			sum = crc32.Update(sum, castagnoli, line)
			lines = append(lines, line)
			continue
		}
		text, complete := strings.CutPrefix(strings.TrimPrefix(string(line), "# "), completeWord)
		rows := r.rows + uint64(len(lines))
		if text != fmt.Sprintf("%d %08x\n", rows, sum) || complete != (len(lines) == 0) {
			return nil, ErrDamaged
		}
		if complete && rows != r.header.Count() {
			return nil, ErrDamaged
		}
		for i, line := range lines {
			number, _, _ := bytes.Cut(line, []byte{','})
			if k, err := strconv.ParseUint(string(number), 10, 64); err != nil || k != r.header.Row(r.rows+uint64(i)) {
				return nil, ErrDamaged
			}
		}
		r.offset, r.sum, r.rows, r.complete = r.offset+size, sum, rows, complete
		return lines, nil
	}
}

// end checks that the file is complete and that nothing follows.
func (r *reader) end() error {
	if _, more := r.r.ReadByte(); !r.complete || !errors.Is(more, io.EOF) {
		return ErrDamaged
	}
	return nil
}
