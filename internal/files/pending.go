package files

import (
	"bufio"
	"errors"
	"os"
	"path/filepath"
	"regexp"
)

// Pending is a file under a temporary name beside its own.
type Pending struct {
	// Path is where it will lie, Buffer what is written to.
	Path   string
	Buffer *bufio.Writer

	temporary string // "" if the file itself is written to
	file      *os.File
}

// Create makes one. What is no regular file is written to at once.
func Create(path string) (*Pending, error) {
	target, special, mode := Destination(path)
	f := &Pending{Path: target}
	var err error
	if special {
		f.file, err = os.OpenFile(target, os.O_WRONLY, 0)
	} else if f.temporary, err = writeTemporary(target, File{}, mode); err == nil {
		removeLeftovers(target, f.temporary)
		f.file, err = os.OpenFile(f.temporary, os.O_WRONLY, 0)
	}
	if err != nil {
		return nil, err
	}
	f.Buffer = bufio.NewWriterSize(f.file, 1<<16)
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

// Complete puts all of it on the disk.
func (f *Pending) Complete() error {
	err := f.Buffer.Flush()
	if f.temporary != "" {
		err = errors.Join(err, f.file.Sync())
	}
	return errors.Join(err, f.file.Close())
}

// Rename gives it its name.
func (f *Pending) Rename() error {
	if f.temporary == "" {
		return nil
	}
	return os.Rename(f.temporary, f.Path)
}

// Abandon leaves nothing behind.
func (f *Pending) Abandon() {
	f.file.Close()
	if f.temporary != "" {
		os.Remove(f.temporary)
	}
}
