package studied

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

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
	carry.SpareResult
}

// spareNumbers are a line's numbers, of which there are none where none was found.
var spareNumbers = report.AllVia(report.Columns[SpareLine]{
	report.Number("feet_board", "feet", "Board under the sliding foot", report.Board, func(l SpareLine) float64 { return l.Feet }),
	report.Number("laydown", "laydown", "Board of the laydown", report.Board, func(l SpareLine) float64 { return l.Release.Laydown }),
	report.Number("angle_deg", "angle", "Launch angle", report.LaunchDegree, func(l SpareLine) float64 { return l.Release.Angle }),
	report.Number("arrows_board", "arrows", "Board at the arrows", report.Board, func(l SpareLine) float64 { return l.Arrows }),
	report.Number("entry_board", "at 60 ft", "Board at the head pin's distance", report.Board, func(l SpareLine) float64 { return l.Entry.Board }),
	report.Number("entry_angle_deg", "entry angle", "Heading there", report.Degree, func(l SpareLine) float64 { return l.Entry.Heading }),
}, func(l SpareLine) (SpareLine, bool) { return l, l.Found })

// window are the ends of the window in boards, NaN without one.
func (l SpareLine) window() (low, high float64) {
	if l.Window == (physics.Window{}) {
		return math.NaN(), math.NaN()
	}
	return l.Window.Min, l.Window.Max
}

// stays is what stands most often after a miss, "" if nothing ever does.
func (l SpareLine) stays() string {
	if rest := l.MostLeft(); rest != 0 {
		return rest.String()
	}
	return ""
}

// record is a line as it is printed: null where there is none.
func (l SpareLine) record() report.Object {
	var window, within, stays any
	if l.Window != (physics.Window{}) {
		window = []float64{l.Window.Min, l.Window.Max}
	}
	if l.Found {
		within = ends(studies.WilsonInterval(l.Converted))
	}
	if rest := l.stays(); rest != "" {
		stays = rest
	}
	return report.ObjectOf("pins", l.Leave.String(), spareNumbers.Members(l), "window_boards", window,
		"converted_share", l.Converted.Share(), "converted_interval", within, "stays_most", stays)
}

// WriteJSON writes the lines as JSON.
func (w *Spares) WriteJSON(to io.Writer) error {
	deliveries := report.Lines{}
	for i, t := range w.Players {
		deliveries = append(deliveries, report.ObjectOf(t.object(), "spares", report.Each(w.Lines[i], SpareLine.record)))
	}
	return report.WriteResult(to, w.Warnings, report.ObjectOf("seed", w.Seed, "deliveries", deliveries, "assumed", w.Assumed)...)
}

type playerSpare struct {
	player Player
	SpareLine
}

func spareColumns() report.Columns[playerSpare] {
	list := append(playerColumns(func(s playerSpare) Player { return s.player }),
		report.Text("pins", "", "Pins that stand", func(s playerSpare) string { return s.Leave.String() }))
	list = append(list, report.AllVia(spareNumbers, func(s playerSpare) (SpareLine, bool) { return s.SpareLine, true })...)
	return append(list,
		report.Number("window_low", "", "Low end of the boards from which the leave falls", report.Board, func(s playerSpare) float64 { low, _ := s.window(); return low }),
		report.Number("window_high", "", "High end of them", report.Board, func(s playerSpare) float64 { _, high := s.window(); return high }),
		report.Number("converted_share", "", "Share of deliveries that convert", report.Ratio, func(s playerSpare) float64 { return s.Converted.Share() }),
		report.Number("converted_low", "", "Low end of its interval", report.Ratio, func(s playerSpare) float64 { return studies.WilsonInterval(s.Converted).Low }),
		report.Number("converted_high", "", "High end of its interval", report.Ratio, func(s playerSpare) float64 { return studies.WilsonInterval(s.Converted).High }),
		report.Via(report.Count("shots", "", "Deliveries", func(s playerSpare) int { return s.Converted.Of }), func(s playerSpare) (playerSpare, bool) { return s, s.Found }),
		report.Word("stays_most", "", "What stands most often after a miss", func(s playerSpare) string { return s.stays() }))
}

// Rows has a row for each line.
func (w *Spares) Rows() report.Rows {
	var list []playerSpare
	for i, t := range w.Players {
		for _, l := range w.Lines[i] {
			list = append(list, playerSpare{t, l})
		}
	}
	return report.RowsOf(spareColumns(), slices.Values(list))
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

func (l SpareLine) row() []string {
	row := []string{l.Leave.String()}
	for _, c := range spareNumbers.Pick("feet_board", "laydown", "arrows_board", "angle_deg", "entry_board") {
		row = append(row, c.Show(l))
	}
	if !l.Found {
		return append(row, report.Absent, report.Share(0), report.Absent, l.Leave.String())
	}
	window := report.Absent
	if low, high := l.window(); !math.IsNaN(low) {
		window = report.Board.Show(low) + " to " + report.Board.Show(high)
	}
	return append(row, window, report.Share(l.Converted.Share()), Between(studies.WilsonInterval(l.Converted)), cmp.Or(l.stays(), report.Absent))
}

// Answer says which line converts each leave; nothing where there are more than a few.
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
