package main

import (
	"fmt"
	"io"
	"os"
)

// terminal reports whether a stream is shown to a person.
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

// paint puts color into text, or not.
type paint bool

// paintFor decides by flag, environment and stream whether to use color.
// NO_COLOR is a convention of many programs: if set, no color by default.
func (p *program) paintFor(stream io.Writer) paint {
	switch p.common.color {
	case "always":
		return true
	case "never":
		return false
	}
	return paint(p.environment("NO_COLOR") == "" && p.environment("TERM") != "dumb" && terminal(stream))
}

func (p *program) errorPaint() paint { return p.paintFor(p.err) }

// style wraps a text in the codes of ECMA-48, Select Graphic Rendition.
func (c paint) style(code int, text string) string {
	if !c || text == "" {
		return text
	}
	return fmt.Sprintf("\x1b[%dm%s\x1b[0m", code, text)
}

func (c paint) heading(text string) string { return c.style(1, text) }
func (c paint) bad(text string) string     { return c.style(31, text) }
func (c paint) good(text string) string    { return c.style(32, text) }
func (c paint) notable(text string) string { return c.style(33, text) }

// progress shows how much of a long job is done, on a terminal only. The
// function returned is to be called after each step; when all are done it
// wipes the line.
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
