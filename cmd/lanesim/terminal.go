package main

import (
	"fmt"
	"io"
	"os"

	"lanesim/report"
)

// terminal reports whether a stream is a terminal.
func terminal(stream any) bool {
	f, ok := stream.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(info, null)
}

// paintFor decides by flag, environment and stream whether to use color. By the common
// convention NO_COLOR turns color off unless a flag turns it on.
func (p *program) paintFor(stream io.Writer) report.Paint {
	switch p.common.color {
	case "always":
		return true
	case "never":
		return false
	}
	return report.Paint(p.environment("NO_COLOR") == "" && p.environment("TERM") != "dumb" && terminal(stream))
}

func (p *program) errorPaint() report.Paint { return p.paintFor(p.err) }

// progress shows on a terminal how much of a long job is done. Call the function
// returned after each step; when all are done it clears the line.
func (p *program) progress(what string) func(done, total int) {
	if p.common.quiet || !terminal(p.err) {
		return func(int, int) {}
	}
	return func(done, total int) {
		if done < total {
			fmt.Fprintf(p.err, "\r%s %d of %d", what, done, total)
			return
		}
		fmt.Fprint(p.err, "\r\x1b[K")
	}
}

// progressOf is progress for the i-th of several jobs.
func (p *program) progressOf(job string, i, jobs int, what string) func(done, total int) {
	if jobs > 1 {
		what = fmt.Sprintf("%s %d of %d, %s", job, i+1, jobs, what)
	}
	return p.progress(what)
}
