package studied

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"lanesim/report"
	"lanesim/studies"
	"lanesim/studies/aim"
	"lanesim/studies/bag"
)

// Bag is a choice of balls that cover lanes.
type Bag struct {
	Title         string
	Warnings      []string
	Bowler        string
	Balls, States []string // names of the balls and of the lanes in their states
	Shots         int      // deliveries of each line
	Choice        bag.Result
	Tried         *Tried // nil if it was not asked for
}

type bagCell struct {
	bag.Cell
	ball, state string
}

// ofReach is a number of a cell that reaches the pocket.
func ofReach(of func(bagCell) float64) func(bagCell) float64 {
	return func(c bagCell) float64 {
		if !c.Reaches {
			return math.NaN()
		}
		return of(c)
	}
}

func measureColumns(key, meaning string, m aim.Measure) report.Columns[bagCell] {
	return shareColumns(key, meaning, func(c bagCell) studies.Count { return c.Count(m) })
}

func shareColumns(key, meaning string, of func(bagCell) studies.Count) report.Columns[bagCell] {
	share := report.Number(key+"_share", "", meaning, report.Ratio, ofReach(func(c bagCell) float64 { return of(c).Share() }))
	return append(report.Columns[bagCell]{share}, report.Interval(key+"_interval", meaning, func(c bagCell) [2]float64 {
		if !c.Reaches {
			return [2]float64{math.NaN(), math.NaN()}
		}
		return [2]float64(ends(studies.WilsonInterval(of(c))))
	})...)
}

func bagColumns() report.Columns[bagCell] {
	return slices.Concat(report.Columns[bagCell]{
		report.Text("ball", "", "Name of the ball", func(c bagCell) string { return c.ball }),
		report.Text("lane", "", "Name of the lane", func(c bagCell) string { return c.state }),
	}, measureColumns("pocket", "Share in the pocket", aim.ByPocketShare), measureColumns("good_angle", "Share in the pocket at a good angle", aim.ByGoodShare), report.Columns[bagCell]{
		report.Number("laydown", "", "Board of the laydown", report.Board, ofReach(func(c bagCell) float64 { return c.Laydown })),
		report.Number("angle_deg", "", "Launch angle", report.Degree, ofReach(func(c bagCell) float64 { return c.Angle })),
	}, shareColumns("gutter", "Share in the gutter", func(c bagCell) studies.Count { return c.Lost() }), report.Columns[bagCell]{
		report.Truth("reaches_pocket", "", "Whether a line reaches the pocket", func(c bagCell) bool { return c.Reaches }),
	})
}

// strikeColumns are those where balls are judged by strikes.
func strikeColumns() report.Columns[bagCell] {
	return measureColumns("strike", "Share of strikes, assumed", aim.ByStrikeShare)
}

func (w *Bag) cells() (list []bagCell) {
	for i, row := range w.Choice.Cells {
		for j, c := range row {
			list = append(list, bagCell{c, w.Balls[i], w.States[j]})
		}
	}
	return list
}

// WriteJSON writes the choice as JSON, balls in the order of their rank.
func (w *Bag) WriteJSON(to io.Writer) error {
	balls := report.Each(w.ranking(), func(i int) report.Object {
		return report.ObjectOf("ball", w.Balls[i], "chosen", slices.Contains(w.Choice.Chosen, i), "needed", w.Needed(i),
			meanObject("alone", w.Choice.Alone[i]), meanObject("adds", w.Choice.Adds[i]))
	})
	cells := report.List{}
	for _, c := range w.cells() {
		o := bagColumns().Members(c)
		if w.Choice.By == aim.ByStrikeShare {
			o = o.With(strikeColumns().Members(c))
		}
		cells = append(cells, o)
	}
	return report.WriteResult(to, w.Warnings,
		report.ObjectOf("answer", w.Answer(), "bowler", w.Bowler, "by", w.Choice.By, "shots", w.Shots,
			meanObject("coverage", w.Choice.Coverage), "balls", balls, "cells", cells, "assumed_sets", w.Tried.object())...)
}

// Rows has a row for each ball and lane.
func (w *Bag) Rows() report.Rows { return report.RowsOf(bagColumns(), slices.Values(w.cells())) }

// Document reports the choice for people.
func (w *Bag) Document() report.Document {
	doc := report.Document{Title: w.Title}
	doc.SayWrapped(w.Answer())
	share := "pocket share"
	if w.Choice.By != aim.ByPocketShare {
		share = ByWords(w.Choice.By)
	}
	doc.HeadOf("", share, fmt.Sprintf(" of %s, from each ball's best line, and its 95 %% interval", w.Bowler))
	shares := report.Grid{Left: []bool{true}, Rows: [][]string{append([]string{""}, w.States...)}}
	for i, name := range w.Balls {
		report.AddRow(&shares, name, w.Choice.Cells[i], func(c bag.Cell) string {
			if !c.Reaches {
				return report.Absent
			}
			return CountText(c.Count(w.Choice.By)) + " from " + report.Board.Show(c.Laydown)
		})
	}
	doc.Table(shares)
	if w.Choice.By == aim.ByStrikeShare {
		doc.SayWrapped(TableWords("Strikes"))
	}
	doc.SayWrapped(w.lostWords())
	doc.HeadOf("", "the choice", ": the best of each lane covers "+ShareText(w.Choice.Coverage)+" on average")
	rank := report.Grid{Left: []bool{true}, Rows: [][]string{{"", "alone", "95 %", "adds", "95 %"}}}
	for k, i := range w.ranking() {
		name := fmt.Sprintf("%d. %s", k+1, w.Balls[i])
		switch {
		case k >= len(w.Choice.Chosen):
			name = "   " + w.Balls[i]
		case !w.Needed(i):
			name = "   " + w.Balls[i] + " (adds nothing)"
		}
		alone, adds := w.Choice.Alone[i], w.Choice.Adds[i]
		rank.Rows = append(rank.Rows, []string{name, report.Share(alone.Value), Between(alone.Interval), report.Share(adds.Value), Between(adds.Interval)})
	}
	doc.Table(rank)
	doc.Add(w.Tried.Words())
	return doc
}

// lostWords say which balls end in the gutter, where it is one of a hundred or more
// deliveries.
func (w *Bag) lostWords() string {
	var said []string
	for _, c := range w.cells() {
		if lost := c.Lost(); lost.Of > 0 && lost.Share() >= leastLost {
			said = append(said, fmt.Sprintf("%s on %s %s", c.ball, c.state, CountText(lost)))
		}
	}
	if len(said) == 0 {
		return ""
	}
	return "Deliveries that end in the gutter, and count as misses: " + strings.Join(said, ", ") + "."
}

// Needed reports whether a ball belongs to those that are enough: the first of the
// choice, and those that add more to it than chance explains.
func (w *Bag) Needed(i int) bool {
	at := slices.Index(w.Choice.Chosen, i)
	return at == 0 || at > 0 && w.Choice.Adds[i].Low > 0
}

// Answer says which of the chosen balls are enough.
func (w *Bag) Answer() string {
	var needed, idle []string
	for _, i := range w.Choice.Chosen {
		if w.Needed(i) {
			needed = append(needed, w.Balls[i])
		} else {
			idle = append(idle, w.Balls[i])
		}
	}
	switch {
	case len(needed) == 0:
		return "No ball covers any of the lanes."
	case len(idle) == 0 && len(needed) == 1:
		return fmt.Sprintf("%s alone covers most.", needed[0])
	case len(idle) == 0:
		return fmt.Sprintf("All %d balls of the choice add to it: %s.", len(needed), strings.Join(needed, ", "))
	case len(needed) == 1:
		return fmt.Sprintf("One ball is enough: %s covers %s alone; %s would add nothing beyond chance.", needed[0], ShareText(w.Choice.Alone[w.Choice.Chosen[0]]), strings.Join(idle, ", "))
	}
	return fmt.Sprintf("%d balls are enough: %s; %s would add nothing beyond chance.", len(needed), strings.Join(needed, ", "), strings.Join(idle, ", "))
}

// ranking lists the chosen balls, then the others by what they would add.
func (w *Bag) ranking() []int {
	list := slices.Clone(w.Choice.Chosen)
	for i := range w.Balls {
		if !slices.Contains(w.Choice.Chosen, i) {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list[len(w.Choice.Chosen):], func(i, j int) int { return cmp.Compare(w.Choice.Adds[j].Value, w.Choice.Adds[i].Value) })
	return list
}
