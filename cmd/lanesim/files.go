package main

import (
	"fmt"
	"slices"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/report"
)

// warn prints a warning unless the program is to be quiet.
func (p *program) warn(text string) {
	if !p.common.quiet {
		fmt.Fprintf(p.err, "%s %s\n", p.errorPaint().As(report.NotableTone, "warning:"), input.Message(text))
	}
}

// note prints warnings and keeps them among those of a result.
func (p *program) note(warnings *[]string, texts ...string) {
	for _, text := range texts {
		p.warn(text)
	}
	*warnings = append(*warnings, texts...)
}

// say prints something that only a verbose program prints.
func (p *program) say(format string, values ...any) {
	if p.common.verbose {
		fmt.Fprintln(p.err, input.Message(fmt.Sprintf(format, values...)))
	}
}

// print writes to standard output.
func (p *program) print(content []byte) error { return file{Content: content}.Copy(p.out) }

// file is a file to be written.
type file = files.File

// writeFiles writes files, all of them or none.
func (p *program) writeFiles(list []file) error {
	if err := p.claims.Unclaimed(list); err != nil {
		return input.AsWrong(err)
	}
	written, err := files.WriteAll(list)
	for _, path := range written {
		p.say("wrote %s", path)
	}
	return err
}

// claimNumbered notes the names of several pictures under one name.
func (p *program) claimNumbered(o outputFlags, pictures int) error {
	var others []string
	for _, path := range o.paths {
		if path == files.Standard || !slices.Contains(pictureEndings(), files.Ending(path)) {
			continue
		}
		for i := 1; i < pictures; i++ {
			others = append(others, files.Numbered(path, i))
		}
	}
	return p.claim(others...)
}

// claim notes files that are to be written.
func (p *program) claim(paths ...string) error {
	if err := p.claims.Write(paths...); err != nil {
		return input.AsWrong(err)
	}
	return nil
}
