package main

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"lanesim/rows"
)

// claims are the files that a run reads and those that it is to write. No output
// may be an input or another output, however the files are named.
type claims struct {
	lock            sync.Mutex
	inputs, outputs []spot
	standard        io.Writer // standard output
}

// spot is where a name leads: to a file that is there, or to a name in a folder.
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
	const mostLinks = 40 // as systems have it; a circle ends, too
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

// printed is where standard output goes, if that is a file.
func (c *claims) printed() (spot, bool) {
	f, ok := c.standard.(*os.File)
	if !ok {
		return spot{}, false
	}
	info, err := f.Stat()
	return spot{name: "standard output", file: info}, err == nil && info.Mode().IsRegular()
}

// write notes outputs, which may be "-".
func (c *claims) write(paths ...string) error {
	c.lock.Lock()
	defer c.lock.Unlock()
	for _, path := range paths {
		if path == standardStream {
			continue
		}
		s := locate(path)
		for _, other := range c.outputs {
			if s.name == other.name {
				return wrongInput("--out names %s twice", s.name)
			}
			if s.same(other) {
				return wrongInput("%s and %s are the same file: each output needs one of its own", other.name, s.name)
			}
		}
		c.outputs = append(c.outputs, s)
	}
	return c.conflict()
}

// read notes an input that was opened.
func (c *claims) read(name string, info fs.FileInfo) {
	c.lock.Lock()
	defer c.lock.Unlock()
	c.inputs = append(c.inputs, spot{name: name, file: info})
}

// check reports an output that is an input.
func (c *claims) check() error {
	c.lock.Lock()
	defer c.lock.Unlock()
	return c.conflict()
}

func (c *claims) conflict() error {
	standard, printed := c.printed()
	for _, in := range c.inputs {
		for _, out := range c.outputs {
			if in.same(out) {
				return wrongInput("%s would be written over %s, which this run reads", out.name, in.name)
			}
		}
		if printed && in.same(standard) {
			return wrongInput("standard output goes to %s, which this run reads", in.name)
		}
	}
	for _, out := range c.outputs {
		if printed && out.same(standard) {
			return wrongInput("standard output goes to %s, which is an output, too", out.name)
		}
	}
	return nil
}

// unclaimed reports files that are about to be written over an input or over each
// other, though no command should let it come to that.
func (c *claims) unclaimed(files []file) error {
	c.lock.Lock()
	last := claims{inputs: c.inputs, standard: c.standard}
	c.lock.Unlock()
	for _, f := range files {
		if err := last.write(f.path); err != nil {
			return err
		}
	}
	return nil
}

// claimNumbered notes the names of several pictures under one name.
func (p *program) claimNumbered(o outputFlags, pictures int) error {
	var others []string
	for _, path := range o.paths {
		if path == standardStream || !slices.Contains(pictureEndings(), ending(path)) {
			continue
		}
		for i := 1; i < pictures; i++ {
			others = append(others, numbered(path, i))
		}
	}
	return p.claims.write(others...)
}

// beside is a name that is free, for what is finished of a file when the run is
// interrupted: shots.json becomes shots.partial.json or shots.partial-2.json.
func beside(path string) string {
	end := filepath.Ext(path)
	first := path[:len(path)-len(end)] + rows.PartialEnding + end
	for i := 0; ; i++ {
		name := numbered(first, i)
		if _, err := os.Lstat(name); err != nil {
			return name
		}
	}
}
