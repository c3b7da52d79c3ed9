package main

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

	"lanesim/input"
)

// standardStream stands for standard input or output in place of a file's name.
const standardStream = "-"

// ending returns a file name's ending with its dot, in small letters.
func ending(path string) string { return strings.ToLower(filepath.Ext(path)) }

// warn prints a warning unless the program is to be quiet.
func (p *program) warn(text string) {
	if !p.common.quiet {
		fmt.Fprintf(p.err, "%s %s\n", p.errorPaint().Notable("warning:"), input.Message(text))
	}
}

// say prints something that only a verbose program tells.
func (p *program) say(format string, values ...any) {
	if p.common.verbose {
		fmt.Fprintln(p.err, input.Message(fmt.Sprintf(format, values...)))
	}
}

// file is a file to be written.
type file struct {
	path    string
	content []byte
	stream  func(io.Writer) error // in place of the content where there is much of it
}

// writeTo writes what the file holds.
func (f file) writeTo(to io.Writer) error {
	if f.stream == nil {
		_, err := to.Write(f.content)
		return err
	}
	b := bufio.NewWriterSize(to, 1<<16)
	return errors.Join(f.stream(b), b.Flush())
}

// writeFiles writes files, each first under a temporary name in the same
// folder. A file gets its own name when all of them are complete on the disk; a
// failure before that leaves none of them.
func (p *program) writeFiles(files []file) error {
	if err := p.claims.unclaimed(files); err != nil {
		return err
	}
	type pending struct{ temporary, path string }
	var waiting []pending
	fail := func(err error) error {
		for _, w := range waiting {
			os.Remove(w.temporary)
		}
		return err
	}
	for _, f := range files {
		path, special, mode := destination(f.path)
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
		p.say("wrote %s", w.path)
	}
	return nil
}

// destination follows links to where a file lies and returns the mode it is to
// have: that of the file it replaces. What is no regular file, such as a
// device, is special and cannot be replaced.
func destination(path string) (target string, special bool, mode fs.FileMode) {
	path = followed(path)
	const usual = 0o666
	info, err := os.Stat(path)
	if err != nil {
		return path, false, usual
	}
	return path, !info.Mode().IsRegular(), info.Mode().Perm()
}

// writeSpecial writes to what is no regular file.
func writeSpecial(path string, what file) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(what.writeTo(f), f.Close())
}

// writeTemporary writes a file under a new name beside path and returns the name.
func writeTemporary(path string, what file, mode fs.FileMode) (name string, err error) {
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
	err = errors.Join(what.writeTo(f), f.Sync(), f.Close())
	if err != nil {
		os.Remove(name)
		return "", err
	}
	return name, nil
}

// print writes to standard output.
func (p *program) print(content []byte) error { return file{content: content}.writeTo(p.out) }
