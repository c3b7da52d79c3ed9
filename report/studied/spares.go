package studied

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/carry"
)

// Spares is the lines at leaves of some players.
type Spares struct {
	Title    string
	Warnings []string
	Assumed  []string // values, as the scenario's rack has them
	Seed     uint64
	Players  []Player
	Lines    [][]SpareLine // of each player
}

// SpareLine is a line at a leave, or none.
type SpareLine struct {
	Leave pins.Leave
	Found bool
	Feet  float64 // board under the sliding foot
	carry.SpareLine
}

// record is a line as it is printed: null where there is none.
func (l SpareLine) record() report.Object {
	o := report.ObjectOf("pins", l.Leave.String())
	if !l.Found {
		for _, key := range []string{"feet_board", "laydown", "angle_deg", "arrows_board", "entry_board", "entry_angle_deg", "window_boards", "converted_share", "converted_interval", "stays_most"} {
			o = append(o, report.Member{Key: key})
		}
		return o
	}
	within := studies.WilsonInterval(l.Converted)
	var window, stays any
	if l.Window != (physics.Window{}) {
		window = []float64{l.Window.Min, l.Window.Max}
	}
	if rest := l.MostLeft(); rest != 0 {
		stays = rest.String()
	}
	return append(o, report.ObjectOf("feet_board", l.Feet, "laydown", l.Release.Laydown, "angle_deg", report.Degree.In(l.Release.Angle),
		"arrows_board", l.Arrows, "entry_board", l.Entry.Board,
		"entry_angle_deg", report.Degree.In(l.Entry.Heading), "window_boards", window,
		"converted_share", l.Converted.Share(), "converted_interval", []float64{within.Low, within.High},
		"stays_most", stays)...)
}

// WriteJSON writes the lines as JSON.
func (w *Spares) WriteJSON(to io.Writer) error {
	deliveries := report.Lines{}
	for i, t := range w.Players {
		var lines report.List
		for _, l := range w.Lines[i] {
			lines = append(lines, l.record())
		}
		deliveries = append(deliveries, report.ObjectOf("bowler", t.Bowler, "ball", t.Ball, "lane", t.Lane, "spares", lines))
	}
	return report.WriteResult(to, w.Warnings, report.ObjectOf("seed", w.Seed, "deliveries", deliveries, "assumed", w.Assumed)...)
}

// WriteCSV writes a row for each line. What does not exist is an empty cell.
func (w *Spares) WriteCSV(to io.Writer) error {
	c := csv.NewWriter(to)
	if err := c.Write([]string{"bowler", "ball", "lane", "pins", "feet_board", "laydown", "angle_deg", "arrows_board", "entry_board", "entry_angle_deg", "window_low", "window_high", "converted_share", "converted_low", "converted_high", "shots", "stays_most"}); err != nil {
		return err
	}
	for i, t := range w.Players {
		for _, l := range w.Lines[i] {
			row := []string{t.Bowler, t.Ball, t.Lane, l.Leave.String()}
			if !l.Found {
				row = append(row, make([]string, 13)...)
			} else {
				within := studies.WilsonInterval(l.Converted)
				low, high := l.Window.Min, l.Window.Max
				if l.Window == (physics.Window{}) {
					low, high = math.NaN(), math.NaN()
				}
				for _, v := range []float64{l.Feet, l.Release.Laydown, report.Degree.In(l.Release.Angle), l.Arrows, l.Entry.Board, report.Degree.In(l.Entry.Heading), low, high, l.Converted.Share(), within.Low, within.High} {
					row = append(row, report.Exact(v))
				}
				stays := ""
				if rest := l.MostLeft(); rest != 0 {
					stays = rest.String()
				}
				row = append(row, strconv.Itoa(l.Converted.Of), stays)
			}
			if err := c.Write(row); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}

// Document has a table for each player.
func (w *Spares) Document() report.Document {
	doc := report.Document{Title: w.Title}
	for i, lines := range w.Lines {
		t := w.Players[i]
		doc.Head(fmt.Sprintf("%s with %s on %s", t.Bowler, t.Ball, t.Lane))
		g := report.Grid{Left: []bool{true}, Rows: [][]string{{"leave", "feet", "laydown", "arrows", "angle, deg", "at 60 ft", "window", "converted", "95 % interval", "stays most"}}}
		for _, l := range lines {
			g.Rows = append(g.Rows, l.row())
		}
		doc.Table(g)
	}
	doc.SayWrapped("Feet, laydown, arrows and the board at 60 ft are boards from the bowler's side; the feet are assumed to stand as far from the ball as foot_to_ball says. The share of leaves of several pins is assumed, since it rests on restitution and friction of the pins")
	doc.Hint("; --json lists them.")
	return doc
}

// row is the line in the table.
func (l SpareLine) row() []string {
	if !l.Found {
		return []string{l.Leave.String(), report.Absent, report.Absent, report.Absent, report.Absent, report.Absent, report.Absent, report.Share(0), report.Absent, l.Leave.String()}
	}
	window := report.Absent
	if l.Window != (physics.Window{}) {
		window = report.Fixed(l.Window.Min, 1) + " to " + report.Fixed(l.Window.Max, 1)
	}
	stays := report.Absent
	if rest := l.MostLeft(); rest != 0 {
		stays = rest.String()
	}
	within := studies.WilsonInterval(l.Converted)
	return []string{l.Leave.String(), report.Fixed(l.Feet, 1), report.Fixed(l.Release.Laydown, 1), report.Fixed(l.Arrows, 1), report.Fixed(report.Degree.In(l.Release.Angle), 2), report.Fixed(l.Entry.Board, 1), window,
		report.Share(l.Converted.Share()), report.Share(within.Low) + " to " + report.Share(within.High), stays}
}

// Answer says which line converts each leave; nothing where there are more than a few.
func (w *Spares) Answer() []string {
	const few = 3
	var list []string
	for i, lines := range w.Lines {
		for _, l := range lines {
			if len(lines) <= few && l.Found {
				list = append(list, fmt.Sprintf("%s at %s: laydown %s, over board %s at the arrows, converts %s of its deliveries",
					w.Players[i].Name(w.Players), l.Leave, report.Board.Show(l.Release.Laydown), report.Board.Show(l.Arrows), report.Share(l.Converted.Share())))
			}
		}
	}
	return list
}
