// Package files writes files whole or not at all: each under a temporary name in the same
// folder; all get their own names when all are complete on the disk. [Claims] prevents a
// run from writing over its inputs or over another output, whatever names lead to them.
package files

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Standard stands for standard input or output in place of a file's name.
const Standard = "-"

// Ending returns a file name's ending with its dot, in lower case.
func Ending(path string) string { return strings.ToLower(filepath.Ext(path)) }

// File is a file to be written.
type File struct {
	Path    string
	Content []byte
	Stream  func(io.Writer) error // writes the content if it is large
}

const bufferSize = 1 << 16

// Copy writes the file's content.
func (f File) Copy(to io.Writer) error {
	if f.Stream == nil {
		_, err := to.Write(f.Content)
		return err
	}
	b := bufio.NewWriterSize(to, bufferSize)
	return errors.Join(f.Stream(b), b.Flush())
}

// WriteAll writes files, each first under a temporary name in the same
// folder. A file gets its own name when all of them are complete on the disk; a
// failure before that leaves none of them. It returns where they were written.
func WriteAll(files []File) (written []string, err error) {
	var list []*Pending
	for _, f := range files {
		p, err := open(f.Path)
		if err != nil {
			Abandon(list)
			return nil, err
		}
		list = append(list, p)
		if err := f.Copy(p.Buffer); err != nil {
			Abandon(list)
			return nil, err
		}
	}
	return Finish(list)
}

// Destination follows links to where a file will be written and returns its mode, that of
// the file it replaces. A file that is not regular, such as a device, is special and
// cannot be replaced.
func Destination(path string) (target string, special bool, mode fs.FileMode) {
	path = followed(path)
	const usual = 0o666
	info, err := os.Stat(path)
	if err != nil {
		return path, false, usual
	}
	return path, !info.Mode().IsRegular(), info.Mode().Perm()
}

// Writable returns an error if a file cannot be written, so that a run fails before it
// computes anything.
func Writable(path string) error {
	target, special, _ := Destination(path)
	if info, err := os.Stat(target); special && err == nil && info.IsDir() {
		return fmt.Errorf("%s cannot be written: it is a folder", path)
	}
	if _, err := os.Stat(filepath.Dir(target)); err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, err)
	}
	return nil
}
