package studied

import (
	"fmt"
	"io"
	"slices"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/carry"
)

// Spares has the lines at leaves of players.
type Spares struct {
	Title    string
	Warnings []string
	Assumed  []string // assumed values of the scenario's rack
	Seed     uint64
	Players  []Player
	Lines    [][]SpareLine // of each player
}

// SpareLine is a line at a leave, if one was found.
type SpareLine struct {
	Leave pins.Leave
	Found bool
	Feet  float64 // board under the sliding foot
	carry.SpareResult
}

// spareColumns returns the columns of lines; most are absent if no line was found.
func spareColumns(of func(int) SpareLine) columns {
	found := slices.Concat(
		columns{report.Number("feet_board", "feet", "Board under the sliding foot", report.Board, func(i int) float64 { return of(i).Feet })},
		releaseColumns(func(i int) physics.Release { return of(i).Release }).Pick("laydown", "angle_deg"),
		columns{
			report.Number("arrows_board", "arrows", "Board at the arrows", report.Board, func(i int) float64 { return of(i).Arrows }),
			report.Number("entry_board", "at 60 ft", "Board at the head pin's distance", report.Board, func(i int) float64 { return of(i).Entry.Board }),
			report.Number("entry_angle_deg", "entry angle", "Heading there", report.Degree, func(i int) float64 { return of(i).Entry.Heading }),
			report.Via(report.Interval("window_boards", "window", "Boards from which the leave falls", report.Board, func(i int) (low, high float64) { return of(i).Window.Min, of(i).Window.Max }),
				func(i int) (int, bool) { return i, of(i).Window != (physics.Window{}) }),
		},
		countColumns("converted", "converted", "Share of deliveries that convert", func(i int) studies.Count { return of(i).Converted }),
		columns{report.Count("shots", "deliveries", "Deliveries", func(i int) int { return of(i).Converted.Of })})
	return slices.Concat(columns{report.Text("pins", "leave", "Pins that stand", func(i int) string { return of(i).Leave.String() })},
		report.AllVia(found, func(i int) (int, bool) { return i, of(i).Found }),
		columns{report.Word("stays_most", "stays most", "What stands most often after a miss", func(i int) string { return of(i).stays() }).FlushRight()})
}

// stays returns the most frequent leave after a miss, "" without one.
func (l SpareLine) stays() string {
	if rest := l.MostLeft(); rest != 0 {
		return rest.String()
	}
	return ""
}

// WriteJSON writes the lines as JSON.
func (w *Spares) WriteJSON(to io.Writer) error {
	deliveries := report.Lines{}
	for i, t := range w.Players {
		lines := slices.DeleteFunc(spareColumns(func(k int) SpareLine { return w.Lines[i][k] }), func(c report.Column[int]) bool { return c.Key == "shots" })
		deliveries = append(deliveries, report.ObjectOf(t.object(), "spares", listOf(w.Lines[i], lines)))
	}
	return report.WriteResult(to, w.Warnings, report.ObjectOf("seed", w.Seed, "deliveries", deliveries, "assumed", w.Assumed)...)
}

// Rows returns a row for each line.
func (w *Spares) Rows() report.Rows {
	var players []Player
	for i, t := range w.Players {
		players = append(players, slices.Repeat([]Player{t}, len(w.Lines[i]))...)
	}
	lines := slices.Concat(w.Lines...)
	return rowsOf(lines, playerColumns(func(i int) Player { return players[i] }),
		spareColumns(func(i int) SpareLine { return lines[i] }).Renamed(map[string]string{"window_boards": "window", "converted_interval": "converted"}))
}

// Document returns a table for each player.
func (w *Spares) Document() report.Document {
	doc := report.Document{Title: w.Title}
	for i, lines := range w.Lines {
		t := w.Players[i]
		doc.Head(fmt.Sprintf("%s with %s on %s", t.Bowler, t.Ball, t.Lane))
		shown := spareColumns(func(k int) SpareLine { return lines[k] }).Pick("pins", "feet_board", "laydown", "arrows_board", "angle_deg", "entry_board", "window_boards", "converted_share", "converted_interval", "stays_most")
		g := tableOf(lines, shown)
		for k, l := range lines {
			if !l.Found {
				g.Rows[k+1][7], g.Rows[k+1][9] = report.Share(0), l.Leave.String()
			}
		}
		doc.Table(g)
	}
	doc.SayWrapped("Feet, laydown, arrows and the board at 60 ft are boards from the bowler's side; the feet are assumed to stand as far from the ball as foot_to_ball says. The share of leaves of several pins is assumed, since it rests on restitution and friction of the pins")
	doc.Hint("; --json lists them.")
	return doc
}

// Note returns the sentence under a picture's title.
func (w *Spares) Note() string {
	return "Lines at single pins and at leaves. Shares of leaves of several pins are assumed: they rest on restitution and friction of the pins."
}

// Answer describes the line at each leave; empty if there are more than a few.
func (w *Spares) Answer() []string {
	const few = 3
	var list []string
	for i, lines := range w.Lines {
		for _, l := range lines {
			if len(lines) <= few && l.Found {
				list = append(list, fmt.Sprintf("%s at %s: laydown %s, over board %s at the arrows, converts %s of its deliveries",
					w.Players[i].Name(w.Players), l.Leave, report.Board.Show(l.Release.Laydown), report.Board.Show(l.Arrows), CountText(l.Converted)))
			}
		}
	}
	return list
}
