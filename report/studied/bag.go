package studied

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"lanesim/physics"
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
	Balls, States []string // names of the balls and of the lanes, fresh or worn
	Shots         int      // deliveries of each line
	Choice        bag.Result
	Tried         *Tried // nil if not requested
}

type bagCell struct {
	bag.Cell
	ball, state string
}

func bagColumns(list []bagCell) columns {
	return slices.Concat(
		columns{
			report.Text("ball", "ball", "Name of the ball", func(i int) string { return list[i].ball }),
			report.Text("lane", "lane", "Name of the lane", func(i int) string { return list[i].state }),
		},
		measureColumns(list, "pocket", "Share in the pocket", aim.ByPocketShare),
		measureColumns(list, "good_angle", "Share in the pocket at a good angle", aim.ByGoodShare),
		report.AllVia(releaseColumns(func(i int) physics.Release { return physics.Release{Laydown: list[i].Laydown, Angle: list[i].Angle} }).Pick("laydown", "angle_deg"),
			func(i int) (int, bool) { return i, list[i].Reaches }),
		countColumns("gutter", "gutter", "Share in the gutter", func(i int) studies.Count { return list[i].Lost() }),
		columns{report.Truth("reaches_pocket", "reaches the pocket", "Whether a line reaches the pocket", func(i int) bool { return list[i].Reaches })})
}

func measureColumns(list []bagCell, of, meaning string, m aim.Measure) columns {
	return countColumns(of, of, meaning, func(i int) studies.Count { return list[i].Count(m) })
}

// ballColumns returns the columns of a ball's coverage.
func (w *Bag) ballColumns() columns {
	return slices.Concat(columns{
		report.Text("ball", "ball", "Name of the ball", func(i int) string { return w.Balls[i] }),
		report.Truth("chosen", "chosen", "Whether it is among those chosen", func(i int) bool { return slices.Contains(w.Choice.Chosen, i) }),
		report.Truth("needed", "needed", "Whether it belongs to those that are enough", w.Needed),
	},
		meanColumns("alone", "alone_interval", "alone", "Mean share over the lanes with this ball alone", report.Hundredth, func(i int) studies.Mean { return w.Choice.Alone[i] }),
		meanColumns("adds", "adds_interval", "adds", "What it adds to the choice", report.Hundredth, func(i int) studies.Mean { return w.Choice.Adds[i] }))
}

func (w *Bag) cells() (list []bagCell) {
	for i, row := range w.Choice.Cells {
		for j, c := range row {
			list = append(list, bagCell{c, w.Balls[i], w.States[j]})
		}
	}
	return list
}

// WriteJSON writes the choice as JSON, with the balls in the order of their rank.
func (w *Bag) WriteJSON(to io.Writer) error {
	cells := w.cells()
	shown := bagColumns(cells)
	if w.Choice.By == aim.ByStrikeShare {
		shown = append(shown, measureColumns(cells, "strike", "Share of strikes, assumed", aim.ByStrikeShare)...)
	}
	return report.WriteResult(to, w.Warnings,
		report.ObjectOf("answer", w.Answer(), "bowler", w.Bowler, "by", w.Choice.By, "shots", w.Shots,
			meanObject("coverage", "coverage_interval", w.Choice.Coverage), "balls", report.Each(w.ranking(), w.ballColumns().Members), "cells", listOf(cells, shown), "assumed_sets", w.Tried.object())...)
}

// Rows returns a row for each ball and lane.
func (w *Bag) Rows() report.Rows { return rowsOf(w.cells(), bagColumns(w.cells())) }

// Document returns the choice for people.
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
	rank := report.TableOf(append(named(func(i int) string {
		switch k := slices.Index(w.Choice.Chosen, i); {
		case k < 0:
			return "   " + w.Balls[i]
		case !w.Needed(i):
			return "   " + w.Balls[i] + " (adds nothing)"
		default:
			return fmt.Sprintf("%d. %s", k+1, w.Balls[i])
		}
	}), briefly(w.ballColumns().Pick("alone", "alone_interval", "adds", "adds_interval"))...), slices.Values(w.ranking()))
	doc.Table(rank)
	doc.Add(w.Tried.Words())
	return doc
}

// lostWords lists the balls that end in the gutter in at least one of a hundred deliveries.
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

// Needed reports whether a chosen ball is worth taking: the first of the choice, and those that add
// significantly to it.
func (w *Bag) Needed(i int) bool {
	at := slices.Index(w.Choice.Chosen, i)
	return at == 0 || at > 0 && w.Choice.Adds[i].Low > 0
}

// Answer lists the chosen balls that are enough.
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

// ranking lists the chosen balls, then the others by the coverage that they would add.
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
