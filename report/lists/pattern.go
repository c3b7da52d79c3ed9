package lists

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/report"
)

// Pattern is an oil pattern with its numbers.
type Pattern struct {
	Name               string // name in scenarios, or name of the file
	Title, About, Kind string
	Smooth             float64 // boards to either side of the smoothing; 0 for none
	Read               bool    // the film was measured rather than built
	Measures           patterns.Measures
}

// Cautions returns cautions about the numbers.
func (p Pattern) Cautions() []string {
	if p.Read {
		return []string{ReadingCaution}
	}
	return []string{}
}

func ratioObject(r patterns.Ratio) report.Object {
	return report.ObjectOf("right", r.Right, "left", r.Left, "both", r.Both)
}

func (p Pattern) object() report.Object {
	m := p.Measures
	thirds := make([]float64, len(m.Thirds))
	for i, v := range m.Thirds {
		thirds[i] = report.Millilitre.In(v)
	}
	boards := func(r patterns.BoardRange) []int { return []int{r.From, r.To} }
	return report.ObjectOf(
		"name", p.Name, "title", p.Title, "about", p.About, "kind", p.Kind, "smooth_boards", p.Smooth,
		"length_ft", plainFeet(m.Length), "volume_mL", report.Millilitre.In(m.Volume), "volume_thirds_mL", thirds, "mean_units", m.MeanUnits,
		"boards", report.ObjectOf("inside", boards(m.Sets.Inside), "outside", boards(m.Sets.Outside)),
		"ratio", ratioObject(m.Ratio), "left_share", m.LeftShare, "asymmetry", m.Asymmetry, "exit_board", m.ExitBoard, "units", m.Units,
		"sections", report.Each(m.Sections, func(s patterns.Section) report.Object {
			return report.ObjectOf("distance_ft", plainFeet(s.Distance), "ratio", ratioObject(s.Ratio), "units", s.Units)
		}),
		"description", DescribePattern(m), "cautions", p.Cautions(),
	)
}

// WritePattern writes one pattern, and WritePatterns several, as JSON.
func WritePattern(to io.Writer, p Pattern) error { return report.WriteJSON(to, p.object()) }

// WritePatterns is described at WritePattern.
func WritePatterns(to io.Writer, list []Pattern) error {
	return report.WriteJSON(to, report.Each(list, Pattern.object))
}

// plainFeet converts m to ft so that a length made from 22 ft gives exactly 22, where the quotient may be off
// in its last digit.
func plainFeet(m float64) float64 {
	v := report.Foot.In(m)
	const roundings = 0x1p-52 * 1.5 // of a product and a quotient, half a last place each, and of a reading
	if plain := report.Plain(v); math.Abs(plain-v) <= roundings*math.Abs(v) {
		return plain
	}
	return v
}

type tapeReading struct {
	distance, units float64 // m, oil units
	board           int
}

// Rows returns the film by board as tape readings, up to the end of the oil.
func (p Pattern) Rows() report.Rows {
	var list []tapeReading
	for i, s := range p.Measures.Sections {
		if i < len(p.Measures.Sections)-1 && s.Distance >= p.Measures.Length {
			continue
		}
		for j, u := range s.Units {
			list = append(list, tapeReading{s.Distance, u, j + 1})
		}
	}
	keys := patterns.TapeColumns()
	return report.RowsOf(report.Columns[tapeReading]{
		report.Number(keys[0], "", "Distance from the foul line", report.Ratio, func(r tapeReading) float64 { return plainFeet(r.distance) }),
		report.Count(keys[1], "", "Board from the right", func(r tapeReading) int { return r.board }),
		report.Number(keys[2], "", "Film", report.Ratio, func(r tapeReading) float64 { return r.units }),
	}, slices.Values(list))
}

// PatternList lists the patterns with short descriptions.
func PatternList(list []Pattern, c report.Paint) string {
	g := report.Grid{Left: []bool{true, false, false, false, true}, Rows: [][]string{{"name", "length, ft", "volume, mL", "ratio", "about"}}}
	for _, p := range list {
		m := p.Measures
		g.Rows = append(g.Rows, []string{p.Name, report.Foot.Show(m.Length), report.Millilitre.Show(m.Volume), report.Fixed(m.Ratio.Both, 1), p.About})
	}
	g.Tone = report.HeadingFirst
	return g.Print(c)
}

// Table formats a pattern's numbers for people.
func (p Pattern) Table(c report.Paint) string {
	m := p.Measures
	var b strings.Builder
	if p.Title != "" {
		b.WriteString(c.Heading(p.Title) + "\n")
	}
	if p.About != "" {
		b.WriteString(p.About + "\n")
	}
	b.WriteString("\n" + DescribePattern(m) + "\n")
	if p.Smooth > 0 {
		fmt.Fprintf(&b, "Smoothed across the lane by a tent of %s boards to either side.\n", report.Fixed(p.Smooth, 1))
	}
	for _, caution := range p.Cautions() {
		b.WriteString(caution + "\n")
	}
	b.WriteString("\n")
	milli := report.Millilitre.Digits(2)
	b.WriteString(report.Grid{Left: []bool{true}, Rows: [][]string{
		{"length, ft", report.Foot.Show(m.Length)},
		{"volume, mL", milli.Show(m.Volume)},
		{"first third of the oil, mL", milli.Show(m.Thirds[0])},
		{"middle third, mL", milli.Show(m.Thirds[1])},
		{"last third, mL", milli.Show(m.Thirds[2])},
		{"mean film, units", report.Fixed(m.MeanUnits, 1)},
		{"share of oil left of centre", report.Share(m.LeftShare)},
		{"asymmetry", report.Ratio.Show(m.Asymmetry)},
		{"board at the exit, a guess", report.Board.Show(m.ExitBoard)},
	}}.String() + "\n")

	in, out := m.Sets.Inside, m.Sets.Outside
	ratios := report.Grid{Left: []bool{true}, Rows: [][]string{{fmt.Sprintf("ratio, boards %d–%d over %d–%d", in.From, in.To, out.From, out.To), "right side", "left side", "both"}}}
	ratio := func(name string, r patterns.Ratio) {
		ratios.Rows = append(ratios.Rows, []string{name, report.Fixed(r.Right, 2), report.Fixed(r.Left, 2), report.Fixed(r.Both, 2)})
	}
	var boards []int // boards shown
	for board := 5; board < lane.Boards; board += 5 {
		boards = append(boards, board)
	}
	readings := report.Grid{Left: []bool{true}}
	report.AddRow(&readings, "units on board", boards, strconv.Itoa)
	film := func(name string, units []float64) {
		report.AddRow(&readings, name, boards, func(board int) string { return report.Fixed(units[board-1], 1) })
	}
	for _, s := range m.Sections {
		name := "at " + report.Short(plainFeet(s.Distance)) + " ft"
		ratio(name, s.Ratio)
		film(name, s.Units)
	}
	ratio("overall", m.Ratio)
	film("mean", m.Units)
	b.WriteString(ratios.String() + "\n" + readings.String())
	return b.String()
}
