package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"lanesim/internal/files"
	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/report/handout"
	"lanesim/rows"
)

// results makes a command's outputs.
type results struct {
	json     func(io.Writer) error
	rows     func() report.Rows
	table    func(report.Paint) string         // for people
	document func() report.Document            // the table as a document, if it has one
	picture  func() (*plots.Drawing, error)    // nil if there is none
	pages    func() ([]*plots.Drawing, error)  // a .pdf to print, instead of the picture
	draw     func(path string) ([]file, error) // several pictures, instead of one
	handout  func() (handout.Page, error)      // nil if there is none; without its document

	// unfinished is set if the work was interrupted: partial results are then
	// written to files of their own, since the files named may have an older,
	// complete result.
	unfinished bool
}

// data makes the file of an ending for data; for any other ending it has the table.
func (r results) data(path, ending string, c report.Paint) (file, error) {
	switch ending {
	case ".json":
		var b bytes.Buffer
		err := r.json(&b)
		return file{Path: path, Content: b.Bytes()}, err
	case ".csv", ".jsonl", ".parquet": // may be large
		return file{Path: path, Stream: func(to io.Writer) error { return rows.Write(to, ending, r.rows()) }}, nil
	}
	if r.document != nil {
		return file{Path: path, Content: []byte(r.document().Print(c))}, nil
	}
	return file{Path: path, Content: []byte(r.table(c))}, nil
}

// files makes the files of a path.
func (r results) files(path string) ([]file, error) {
	var made file
	var err error
	switch kind := files.Ending(path); {
	case kind == handoutEnding:
		made, err = r.handoutFile(path)
	case kind == ".json", slices.Contains(rows.Endings(), kind):
		made, err = r.data(path, kind, false)
	case kind == ".pdf" && r.pages != nil:
		made, err = printed(path, r.pages)
	case r.picture != nil:
		made, err = picture(path, r.picture)
	default:
		return r.draw(path)
	}
	return []file{made}, err
}

// writeResults makes all files and what is printed, and then writes and prints them.
// Nothing is written if one of them cannot be made or if the context has ended by then.
func (p *program) writeResults(ctx context.Context, o outputFlags, r results) error {
	var all []file
	for _, out := range o.paths {
		if out == files.Standard {
			continue
		}
		if r.unfinished {
			out = files.Beside(out)
		}
		made, err := r.files(out)
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
	standard, err := r.data(files.Standard, kind, p.paintFor(p.out))
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
		names := input.Each(all, func(f file) string { return f.Path })
		fmt.Fprintf(p.err, "lanesim: what is finished is in %s\n", input.Printable(strings.Join(names, " and ")))
	}
	return standard.Copy(p.out)
}

// studyReport is the report of a study.
type studyReport interface {
	WriteJSON(io.Writer) error
	Rows() report.Rows
	Document() report.Document
}

// writeStudy writes the report of a study. If the study was interrupted it writes what is
// finished and returns the error.
func writeStudy[T studyReport](p *program, o studyFlags, w T, interrupted error, draw func(T, plots.Size) (*plots.Drawing, error), page func() (handout.Page, error)) error {
	return cmp.Or(p.writeResults(context.Background(), o.output, results{
		unfinished: interrupted != nil, json: w.WriteJSON, rows: w.Rows, document: w.Document,
		picture: func() (*plots.Drawing, error) { return draw(w, o.phone.size()) }, handout: page,
	}), interrupted)
}
