package main

import (
	"bytes"
	"fmt"
	"strings"

	"lanesim/plots"
	"lanesim/report"
)

// paperOf returns the paper of a name.
func paperOf(name string) (plots.Paper, error) {
	var names []string
	for _, p := range plots.Papers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return plots.Paper{}, inputError{fmt.Errorf("--paper %q: it is one of %s", name, strings.Join(names, ", "))}
}

// drillSheet is the sheet that a ball is drilled from.
func drillSheet(path string, l report.Layout, f report.Flare, figure plots.BallFigure, o layoutOptions) (file, error) {
	paper, err := paperOf(o.paper)
	if err != nil {
		return file{}, err
	}
	sheet := report.NewDrillSheet(l, f)
	if !o.strips {
		sheet.Strips = nil
	}
	pages, err := plots.SheetPages(sheet, figure, paper)
	if err != nil {
		return file{}, err
	}
	var b bytes.Buffer
	err = plots.WritePaper(&b, sheet.Title, pages)
	return file{Path: path, Content: b.Bytes()}, err
}
