package files

import (
	"fmt"
	"io"
	"os"
)

// MostInput is the largest size in bytes of a file that is read.
const MostInput = 64 << 20

// Open reads a file and records it as an input.
func (c *Claims) Open(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	c.Read(path, info)
	return ReadAll(path, f)
}

// ReadAll reads to the end. More than [MostInput] is an error.
func ReadAll(name string, r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, MostInput+1))
	if err == nil && len(data) > MostInput {
		err = fmt.Errorf("%s is larger than %d MiB, the most that is read", name, MostInput>>20)
	}
	return data, err
}
