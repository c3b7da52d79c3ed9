// Package files writes files whole or not at all: each under a temporary name beside its
// own, which it gets when all are complete on the disk. [Claims] keeps what a run writes
// off what it reads, however the files are named, and off its other outputs.
package files

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
)

// Standard stands for standard input or output in place of a file's name.
const Standard = "-"

// Ending returns a file name's ending with its dot, in small letters.
func Ending(path string) string { return strings.ToLower(filepath.Ext(path)) }

// File is a file to be written.
type File struct {
	Path    string
	Content []byte
	Stream  func(io.Writer) error // in place of the content where there is much of it
}

// Copy writes what the file holds.
func (f File) Copy(to io.Writer) error {
	if f.Stream == nil {
		_, err := to.Write(f.Content)
		return err
	}
	b := bufio.NewWriterSize(to, 1<<16)
	return errors.Join(f.Stream(b), b.Flush())
}

// WriteAll writes files, each first under a temporary name in the same
// folder. A file gets its own name when all of them are complete on the disk; a
// failure before that leaves none of them. It returns where they were written.
func WriteAll(files []File) (written []string, err error) {
	type pending struct{ temporary, path string }
	var waiting []pending
	fail := func(err error) ([]string, error) {
		for _, w := range waiting {
			os.Remove(w.temporary)
		}
		return written, err
	}
	for _, f := range files {
		path, special, mode := Destination(f.Path)
		if special {
			if err := writeSpecial(path, f); err != nil {
				return fail(err)
			}
			continue
		}
		temporary, err := writeTemporary(path, f, mode)
		if err != nil {
			return fail(err)
		}
		waiting = append(waiting, pending{temporary, path})
	}
	for i, w := range waiting {
		if err := os.Rename(w.temporary, w.path); err != nil {
			waiting = waiting[i:]
			return fail(err)
		}
		written = append(written, w.path)
	}
	return written, nil
}

// Destination follows links to where a file lies and returns the mode it is to
// have: that of the file it replaces. What is no regular file, such as a
// device, is special and cannot be replaced.
func Destination(path string) (target string, special bool, mode fs.FileMode) {
	path = followed(path)
	const usual = 0o666
	info, err := os.Stat(path)
	if err != nil {
		return path, false, usual
	}
	return path, !info.Mode().IsRegular(), info.Mode().Perm()
}

// writeSpecial writes to what is no regular file.
func writeSpecial(path string, what File) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(what.Copy(f), f.Close())
}

// writeTemporary writes a file under a new name beside path and returns the name.
func writeTemporary(path string, what File, mode fs.FileMode) (name string, err error) {
	var f *os.File
	for {
		name = filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.%08x.tmp", filepath.Base(path), rand.Uint32()))
		f, err = os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if err == nil {
			break
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", fmt.Errorf("%s cannot be written: %w", path, errors.Unwrap(err))
		}
	}
	err = errors.Join(what.Copy(f), f.Sync(), f.Close())
	if err != nil {
		os.Remove(name)
		return "", err
	}
	return name, nil
}

// Writable finds out before anything is computed what would keep a file from
// being written after it.
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
