package main

import (
	"bytes"
	"slices"

	"lanesim/internal/input"
	"lanesim/plots"
	"lanesim/rows"
)

// handoutEnding is the ending of a handout, a web page to hand on.
const handoutEnding = ".html"

// pictureEndings are the endings of pictures.
func pictureEndings() []string {
	return input.Each(plots.Formats(), func(format string) string { return "." + format })
}

// resultEndings are the endings of results with pictures and data.
func resultEndings() []string { return append(pictureEndings(), ".json", ".csv") }

// drawnEndings are the endings of files that need pictures.
func drawnEndings() []string { return append(pictureEndings(), handoutEnding) }

// studyEndings are the endings of a study with pictures, data and a handout.
func studyEndings() []string { return append(resultEndings(), handoutEnding) }

// deliveryEndings are the endings of a study with many deliveries.
func deliveryEndings() []string {
	return append(studyEndings(), slices.DeleteFunc(rows.Endings(), func(ending string) bool { return ending == ".csv" })...)
}

// handoutFile makes a handout of results.
func (r results) handoutFile(path string) (file, error) {
	page, err := r.handout()
	if err != nil {
		return file{}, err
	}
	if page.Document.Blocks == nil {
		page.Document = r.document()
	}
	var b bytes.Buffer
	err = page.Write(&b)
	return file{Path: path, Content: b.Bytes()}, err
}
