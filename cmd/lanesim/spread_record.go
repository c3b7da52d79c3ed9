package main

import (
	"io"

	"lanesim/report"
)

// report is the spread as it is written.
func (w *spreadWork) report() *report.Spread {
	return &report.Spread{Title: w.title, Warnings: w.warnings, Players: namedPlayers(w.players), Study: w.study, Result: w.result}
}

// writeJSON writes the spread, and what became of it at the pins if that was asked for.
func (w *spreadWork) writeJSON(to io.Writer) error {
	if w.carry == nil {
		return w.report().WriteJSON(to)
	}
	return w.report().WriteJSON(to, report.Member{Key: "carry", Value: w.carry.record(w)})
}

func (w *spreadWork) document() report.Document {
	doc := w.report().Document()
	doc.Add(w.carry.document(w))
	return doc
}
