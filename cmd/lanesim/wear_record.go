package main

import "lanesim/report"

// report is the session as it is written.
func (w *wornSession) report() *report.Wear {
	return &report.Wear{
		Title: w.title, Warnings: w.warnings, Players: namedPlayers(w.players), Study: w.study, Result: w.result, Moves: w.moves, Tried: w.tried,
	}
}
