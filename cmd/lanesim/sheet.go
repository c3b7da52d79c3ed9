package main

import (
	"bytes"
	"strings"

	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/report/layouts"

	"github.com/spf13/pflag"
)

// paperOf returns the paper with a name.
func paperOf(name string) (plots.Paper, error) {
	var names []string
	for _, p := range plots.Papers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return plots.Paper{}, input.Wrong("--paper is %q: it can be %s", name, strings.Join(names, ", "))
}

// drillSheet makes the file of the sheet to drill from.
func drillSheet(path string, l layouts.Layout, f layouts.Flare, paper plots.Paper, strips bool) (file, error) {
	sheet := layouts.NewDrillSheet(l, f)
	if !strips {
		sheet.Strips = nil
	}
	return printed(path, func() ([]*plots.Drawing, error) { return plots.SheetPages(sheet, l, paper) })
}

// addPaper adds the flag for the paper of a .pdf.
func addPaper(f *pflag.FlagSet, paper *string) {
	f.StringVar(paper, "paper", plots.Papers()[0].Name, "paper of a .pdf: letter or a4")
}

// printed returns the .pdf of pages.
func printed(path string, draw func() ([]*plots.Drawing, error)) (file, error) {
	pages, err := draw()
	if err != nil {
		return file{}, err
	}
	var b bytes.Buffer
	err = plots.WritePaper(&b, pages)
	return file{Path: path, Content: b.Bytes()}, err
}
