package files

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
)

// Pending is a file being written under a temporary name in its folder.
type Pending struct {
	// Path is its final name. Write to Buffer.
	Path   string
	Buffer *bufio.Writer

	temporary string // "" if the file itself is written to
	file      *os.File
}

// Create makes a pending file and removes temporary files that killed runs left. A file
// that is not regular is written directly.
func Create(path string) (*Pending, error) {
	f, err := open(path)
	if err == nil && f.temporary != "" {
		removeLeftovers(f.Path, f.temporary)
	}
	return f, err
}

// open makes a pending file.
func open(path string) (*Pending, error) {
	target, special, mode := Destination(path)
	f := &Pending{Path: target}
	var err error
	if special {
		f.file, err = os.OpenFile(target, os.O_WRONLY, 0)
	}
	for f.file == nil && err == nil {
		f.temporary = filepath.Join(filepath.Dir(target), fmt.Sprintf(".%s.%08x.tmp", filepath.Base(target), rand.Uint32()))
		f.file, err = os.OpenFile(f.temporary, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		switch {
		case errors.Is(err, fs.ErrExist):
			f.file, err = nil, nil // try another name
		case err != nil:
			err = fmt.Errorf("%s cannot be written: %w", target, errors.Unwrap(err))
		}
	}
	f.Buffer = bufio.NewWriterSize(f.file, bufferSize)
	return f, err
}

// removeLeftovers removes the temporary files of a path except one: a run that was killed
// could not remove them. Long runs lock their partial file, so no run is using them.
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

// Finish writes files to the disk and renames them when all are complete. It returns the
// names. After an error it removes the files that are not renamed yet.
func Finish(list []*Pending) (written []string, err error) {
	defer func() {
		if err != nil {
			Abandon(list)
		}
	}()
	for _, f := range list {
		err := f.Buffer.Flush()
		if f.temporary != "" {
			err = errors.Join(err, f.file.Sync())
		}
		if err = errors.Join(err, f.file.Close()); err != nil {
			return nil, err
		}
	}
	for _, f := range list {
		if f.temporary == "" {
			continue
		}
		if err := os.Rename(f.temporary, f.Path); err != nil {
			return written, err
		}
		written = append(written, f.Path)
	}
	return written, nil
}

// Abandon closes files and removes those that are not renamed yet.
func Abandon(list []*Pending) {
	for _, f := range list {
		f.file.Close()
		if f.temporary != "" {
			os.Remove(f.temporary)
		}
	}
}
