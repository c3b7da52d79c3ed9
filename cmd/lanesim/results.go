package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"strings"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/report/handout"
	"lanesim/rows"
)

// results makes what a command reports of its work.
type results struct {
	json     func(io.Writer) error
	rows     func() report.Rows
	table    func(report.Paint) string         // for people
	document func() report.Document            // the same, where it can be shown in other ways
	picture  func() (*plots.Drawing, error)    // nil if there is none
	pages    func() ([]*plots.Drawing, error)  // a .pdf to print, in place of the picture
	draw     func(path string) ([]file, error) // the same of several pictures
	handout  func() (handout.Page, error)      // nil if there is none; without its document

	// unfinished says that the work was interrupted: what there is of it goes
	// beside the files that were asked for, which may hold an older, complete
	// result.
	unfinished bool
}

// of makes the data of an ending; of any other, the table.
func (r results) of(path, ending string, c report.Paint) (file, error) {
	switch ending {
	case ".json":
		var b bytes.Buffer
		err := r.json(&b)
		return file{Path: path, Content: b.Bytes()}, err
	case ".csv", ".jsonl", ".parquet": // of which there may be much
		return file{Path: path, Stream: func(to io.Writer) error { return rows.Write(to, ending, r.rows()) }}, nil
	}
	if r.document != nil {
		return file{Path: path, Content: []byte(r.document().Print(c))}, nil
	}
	return file{Path: path, Content: []byte(r.table(c))}, nil
}

// writeResults makes the files that are asked for and what is printed, and then
// writes and prints them. Nothing is written if something cannot be made or if the
// context has ended by then.
func (p *program) writeResults(ctx context.Context, o outputFlags, r results) error {
	var all []file
	for _, out := range o.paths {
		if out == files.Standard {
			continue
		}
		if r.unfinished {
			out = files.Beside(out)
		}
		var made []file
		var err error
		switch kind := files.Ending(out); kind {
		case ".json", ".csv", ".jsonl", ".parquet":
			made = make([]file, 1)
			made[0], err = r.of(out, kind, false)
		case handoutEnding:
			made = make([]file, 1)
			made[0], err = r.handoutFile(out)
		default:
			if kind == ".pdf" && r.pages != nil {
				made, err = printed(out, r.pages)
			} else if r.picture != nil {
				made, err = picture(out, r.picture)
			} else {
				made, err = r.draw(out)
			}
		}
		if err != nil {
			return err
		}
		all = append(all, made...)
	}
	kind := ""
	switch {
	case o.json:
		kind = ".json"
	case o.csv:
		kind = ".csv"
	}
	standard, err := r.of(files.Standard, kind, p.paintFor(p.out))
	if err == nil {
		err = ctx.Err()
	}
	if err == nil {
		err = p.writeFiles(all)
	}
	if err != nil {
		return err
	}
	if r.unfinished && len(all) > 0 {
		names := make([]string, len(all))
		for i, f := range all {
			names[i] = f.Path
		}
		fmt.Fprintf(p.err, "lanesim: what is finished is in %s\n", input.Printable(strings.Join(names, " and ")))
	}
	return standard.Copy(p.out)
}

// studyReport is what a study reports.
type studyReport interface {
	WriteJSON(io.Writer) error
	Rows() report.Rows
	Document() report.Document
}

// writeStudy writes what a study reports, also of one that was interrupted, whose error it
// returns.
func writeStudy[T studyReport](p *program, o studyFlags, w T, interrupted error, draw func(T, plots.Size) (*plots.Drawing, error), page func() (handout.Page, error)) error {
	return cmp.Or(p.writeResults(context.Background(), o.output, results{
		unfinished: interrupted != nil, json: w.WriteJSON, rows: w.Rows, document: w.Document,
		picture: func() (*plots.Drawing, error) { return draw(w, o.phone.size()) }, handout: page,
	}), interrupted)
}
