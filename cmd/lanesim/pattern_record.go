package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/report"
	"lanesim/scenario"
)

// ratioRecord is a ratio of oil inside to outside as it is printed.
type ratioRecord struct {
	Right number `json:"right"`
	Left  number `json:"left"`
	Both  number `json:"both"`
}

// boardsRecord names the boards that the ratios compare, from and to.
type boardsRecord struct {
	Inside  [2]int `json:"inside"`
	Outside [2]int `json:"outside"`
}

// patternRecord is a pattern with its numbers as it is printed.
type patternRecord struct {
	Name        string       `json:"name"` // by which a scenario calls it, or that of the file
	Title       string       `json:"title"`
	About       string       `json:"about"`
	Kind        string       `json:"kind"`
	Smooth      number       `json:"smooth_boards"` // 0 is as it was
	Length      number       `json:"length_ft"`
	Volume      number       `json:"volume_mL"`
	Thirds      [3]number    `json:"volume_thirds_mL"` // of the oiled length
	MeanUnits   number       `json:"mean_units"`
	Boards      boardsRecord `json:"boards"`
	Ratio       ratioRecord  `json:"ratio"`
	LeftShare   number       `json:"left_share"`
	Asymmetry   number       `json:"asymmetry"`
	ExitBoard   number       `json:"exit_board"`
	Units       []number     `json:"units"` // by board from the right
	Sections    []section    `json:"sections"`
	Description string       `json:"description"`
	Cautions    []string     `json:"cautions"`
}

type section struct {
	Distance number      `json:"distance_ft"`
	Ratio    ratioRecord `json:"ratio"`
	Units    []number    `json:"units"`
}

func numbers(list []float64) []number {
	made := make([]number, len(list))
	for i, v := range list {
		made[i] = number(v)
	}
	return made
}

func recordRatio(r patterns.Ratio) ratioRecord {
	return ratioRecord{number(r.Right), number(r.Left), number(r.Both)}
}

func recordPattern(name string, p scenario.Pattern, m patterns.Measures) patternRecord {
	r := patternRecord{
		Name: name, Title: p.Name, About: p.About, Kind: p.Kind,
		Length: number(plainFeet(m.Length)), Volume: number(millilitres(m.Volume)),
		MeanUnits: number(m.MeanUnits), Ratio: recordRatio(m.Ratio),
		Boards:    boardsRecord{[2]int{m.Sets.Inside.From, m.Sets.Inside.To}, [2]int{m.Sets.Outside.From, m.Sets.Outside.To}},
		LeftShare: number(m.LeftShare), Asymmetry: number(m.Asymmetry), ExitBoard: number(m.ExitBoard),
		Units: numbers(m.Units), Description: patterns.Describe(m), Cautions: []string{},
	}
	for i, v := range m.Thirds {
		r.Thirds[i] = number(millilitres(v))
	}
	for _, s := range m.Sections {
		r.Sections = append(r.Sections, section{number(plainFeet(s.Distance)), recordRatio(s.Ratio), numbers(s.Units)})
	}
	if p.Grid != nil && p.Word == "" {
		r.Cautions = append(r.Cautions, patterns.ReadingCaution)
	}
	return r
}

// plainFeet converts m to ft and gives 22 for what was made from 22 ft, where
// the quotient would be off in its last place.
func plainFeet(m float64) float64 {
	v := feet(m)
	const (
		digits    = 12            // of the 15 to 17 that a float64 has
		roundings = 0x1p-52 * 1.5 // of a product and a quotient, half a last place each, and of a reading
	)
	plain, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err == nil && math.Abs(plain-v) <= roundings*math.Abs(v) {
		return plain
	}
	return v
}

// boardsText writes a run of boards as flags take it.
func boardsText(r patterns.BoardRange) string { return fmt.Sprintf("%d-%d", r.From, r.To) }

// encodeFilm prints the film by board as tape readings, without what lies at
// or beyond the end of the oil but the end itself.
func encodeFilm(m patterns.Measures) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write(patterns.TapeColumns()); err != nil {
		return nil, err
	}
	exact := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	for i, s := range m.Sections {
		if i < len(m.Sections)-1 && s.Distance >= m.Length {
			continue
		}
		for j, u := range s.Units {
			if err := w.Write([]string{exact(plainFeet(s.Distance)), strconv.Itoa(j + 1), exact(u)}); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// patternTable prints a pattern's numbers for people.
func patternTable(r patternRecord, c report.Paint) string {
	var b strings.Builder
	if r.Title != "" {
		b.WriteString(c.Heading(r.Title) + "\n")
	}
	if r.About != "" {
		b.WriteString(r.About + "\n")
	}
	b.WriteString("\n" + r.Description + "\n")
	if r.Smooth > 0 {
		fmt.Fprintf(&b, "Smoothed across the lane by a tent of %s boards to either side.\n", report.Figure(float64(r.Smooth)))
	}
	for _, caution := range r.Cautions {
		b.WriteString(caution + "\n")
	}
	b.WriteString("\n")
	show := func(n number) string { return report.Figure(float64(n)) }
	measures := report.Grid{Left: []bool{true}}
	for _, row := range []struct {
		name  string
		value number
	}{
		{"length, ft", r.Length},
		{"volume, mL", r.Volume},
		{"first third of the oil, mL", r.Thirds[0]},
		{"middle third, mL", r.Thirds[1]},
		{"last third, mL", r.Thirds[2]},
		{"mean film, units", r.MeanUnits},
		{"share of oil left of centre", r.LeftShare},
		{"asymmetry", r.Asymmetry},
		{"board at the exit, a guess", r.ExitBoard},
	} {
		measures.Rows = append(measures.Rows, []string{row.name, show(row.value)})
	}
	b.WriteString(measures.String() + "\n")

	ratios := report.Grid{Left: []bool{true}, Rows: [][]string{{
		fmt.Sprintf("ratio, boards %d–%d over %d–%d", r.Boards.Inside[0], r.Boards.Inside[1], r.Boards.Outside[0], r.Boards.Outside[1]),
		"right side", "left side", "both"}}}
	ratio := func(name string, r ratioRecord) {
		ratios.Rows = append(ratios.Rows, []string{name, show(r.Right), show(r.Left), show(r.Both)})
	}
	for _, s := range r.Sections {
		ratio("at "+show(s.Distance)+" ft", s.Ratio)
	}
	ratio("overall", r.Ratio)
	b.WriteString(ratios.String() + "\n")

	const every = 5 // boards between those shown
	readings := report.Grid{Rows: [][]string{{"units on board"}}, Left: []bool{true}}
	for board := every; board < lane.Boards; board += every {
		readings.Rows[0] = append(readings.Rows[0], strconv.Itoa(board))
	}
	film := func(name string, units []number) {
		row := []string{name}
		for board := every; board < lane.Boards; board += every {
			row = append(row, show(units[board-1]))
		}
		readings.Rows = append(readings.Rows, row)
	}
	for _, s := range r.Sections {
		film("at "+show(s.Distance)+" ft", s.Units)
	}
	film("mean", r.Units)
	b.WriteString(readings.String())
	return b.String()
}
