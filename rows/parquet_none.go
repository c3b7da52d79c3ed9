//go:build noparquet

package rows

import (
	"errors"
	"io"
)

// Endings are the endings of the files that rows can be written to.
func Endings() []string { return []string{".csv", ".jsonl"} }

// newParquet returns an error: the program was built without Parquet.
func newParquet(io.Writer, Header) (Sink, error) {
	return nil, errors.New("this program was built without Parquet (tag noparquet)")
}
