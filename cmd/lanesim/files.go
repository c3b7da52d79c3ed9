package main

import (
	"context"
	"fmt"
	"slices"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/scenario"
)

// warn prints a warning, but not with --quiet.
func (p *program) warn(text string) {
	if !p.common.quiet {
		fmt.Fprintf(p.err, "%s %s\n", p.errorPaint().As(report.NotableTone, "warning:"), input.Message(text))
	}
}

// warnAll prints warnings.
func (p *program) warnAll(texts []string) {
	for _, text := range texts {
		p.warn(text)
	}
}

// note prints warnings and adds them to those of a result.
func (p *program) note(warnings *[]string, texts ...string) {
	p.warnAll(texts)
	*warnings = append(*warnings, texts...)
}

// cutShort treats an error as an interrupt if the context has ended: it stores it and adds a
// warning that says what is finished. Other errors are returned.
func (p *program) cutShort(ctx context.Context, err error, interrupted *error, warnings *[]string, finished string) error {
	if err == nil || ctx.Err() == nil {
		return err
	}
	*interrupted = err
	p.note(warnings, finished)
	return nil
}

// say prints a line with --verbose.
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

// claimNumbered claims the numbered names of several pictures.
func (p *program) claimNumbered(o outputFlags, pictures int) error {
	var others []string
	for _, path := range o.files() {
		for i := 1; i < pictures && slices.Contains(pictureEndings(), files.Ending(path)); i++ {
			others = append(others, files.Numbered(path, i))
		}
	}
	return p.claim(others...)
}

// claim claims files that will be written.
func (p *program) claim(paths ...string) error {
	return input.AsWrong(p.claims.Write(paths...))
}

// sayAssumptions prints, with --verbose, the scenario's values that are defaults.
func (p *program) sayAssumptions(s *scenario.Scenario) {
	if p.common.verbose {
		for _, text := range s.Defaults() {
			p.say("default: %s", text)
		}
	}
}

// sayWork prints, with --verbose, the work of computing the shots.
func (p *program) sayWork(shots []thrown.Shot) {
	for _, s := range shots {
		for _, line := range thrown.WorkText(s) {
			p.say("%s", line)
		}
	}
}
