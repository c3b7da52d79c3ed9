package files

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// Claims are the files that a run reads and those that it will write. No output may be an
// input or another output, whatever names lead to the files.
type Claims struct {
	// Output is standard output. If it is a file, that is an output, too.
	Output io.Writer

	lock            sync.Mutex
	inputs, outputs []spot
}

// spot is where a name leads: to an existing file, or to a name in a folder.
type spot struct {
	name         string
	file, folder fs.FileInfo
	base         string
}

// locate finds where a name leads.
func locate(name string) spot {
	s := spot{name: name}
	target := followed(name)
	if info, err := os.Stat(target); err == nil {
		s.file = info
		return s
	}
	s.base = filepath.Base(target)
	if info, err := os.Stat(filepath.Dir(target)); err == nil {
		s.folder = info
	}
	return s
}

// same reports whether two names lead to one file.
func (s spot) same(o spot) bool {
	switch {
	case s.file != nil && o.file != nil:
		return os.SameFile(s.file, o.file)
	case s.folder != nil && o.folder != nil:
		return os.SameFile(s.folder, o.folder) && s.base == o.base
	}
	return s.name == o.name && s.file == nil && o.file == nil
}

// followed follows links to the name of a file, which need not be there.
func followed(path string) string {
	const mostLinks = 40 // as in Linux; it ends loops
	for range mostLinks {
		target, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(target) {
			folder := filepath.Dir(path)
			if real, err := filepath.EvalSymlinks(folder); err == nil {
				folder = real
			}
			target = filepath.Join(folder, target)
		}
		path = target
	}
	return path
}

// printed returns the file that standard output goes to; ok is false if it is not a file.
func (c *Claims) printed() (spot, bool) {
	f, ok := c.Output.(*os.File)
	if !ok {
		return spot{}, false
	}
	info, err := f.Stat()
	return spot{name: "standard output", file: info}, err == nil && info.Mode().IsRegular()
}

// Write records outputs, which may be [Standard]. The error names a file that would be
// written over an input or over another output.
func (c *Claims) Write(paths ...string) error {
	c.lock.Lock()
	defer c.lock.Unlock()
	for _, path := range paths {
		if path == Standard {
			continue
		}
		s := locate(path)
		for _, other := range c.outputs {
			if s.name == other.name {
				return fmt.Errorf("--out names %s twice", s.name)
			}
			if s.same(other) {
				return fmt.Errorf("%s and %s are the same file: each output needs one of its own", other.name, s.name)
			}
		}
		c.outputs = append(c.outputs, s)
	}
	return c.conflict()
}

// Read records an input that was opened.
func (c *Claims) Read(name string, info fs.FileInfo) {
	c.lock.Lock()
	defer c.lock.Unlock()
	c.inputs = append(c.inputs, spot{name: name, file: info})
}

// Check reports an output that is an input.
func (c *Claims) Check() error {
	c.lock.Lock()
	defer c.lock.Unlock()
	return c.conflict()
}

func (c *Claims) conflict() error {
	standard, printed := c.printed()
	for _, in := range c.inputs {
		for _, out := range c.outputs {
			if in.same(out) {
				return fmt.Errorf("%s would be written over %s, which this run reads", out.name, in.name)
			}
		}
		if printed && in.same(standard) {
			return fmt.Errorf("standard output goes to %s, which this run reads", in.name)
		}
	}
	for _, out := range c.outputs {
		if printed && out.same(standard) {
			return fmt.Errorf("standard output goes to %s, which is also an output", out.name)
		}
	}
	return nil
}

// Unclaimed returns an error if files would be written over an input or over each other.
// It is the last check: commands claim their outputs before they compute anything.
func (c *Claims) Unclaimed(files []File) error {
	c.lock.Lock()
	last := Claims{inputs: c.inputs, Output: c.Output}
	c.lock.Unlock()
	for _, f := range files {
		if err := last.Write(f.Path); err != nil {
			return err
		}
	}
	return nil
}
