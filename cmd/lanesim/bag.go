package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"lanesim/scenario"
	"lanesim/studies"

	"github.com/spf13/cobra"
)

// bagOptions are the flags of the bag command.
type bagOptions struct {
	scenario                    scenarioFlags
	output                      outputFlags
	size, shots, farthest, worn int
	seed                        uint64
	level                       string
	resume                      bool
}

func (p *program) bagCommand() *cobra.Command {
	var o bagOptions
	c := &cobra.Command{
		Use:     "bag FILE",
		GroupID: groupRun,
		Short:   "Choose the few balls that cover several lanes best",
		Long: `Bag throws every ball of the scenario, one for each layout and surface that is
thought of, on every lane, and with --worn also on each lane as it is after so
many deliveries of the bowler with the balls in turn. Each ball on each lane
is aimed from the laydowns about the bowler's own and has the line with the
largest pocket share, from the same random deliveries for all.

It chooses the --size balls that cover the lanes best: the mean over the lanes
of the largest share in the choice. It ranks them by what each adds: the one
first that covers most alone, then each that adds most to those before; the
last column tells what a ball adds to the rest of the choice or, if it was not
chosen, to the choice.

With -o, finished cells are kept in a file of that name with .partial added
until all are done; after an interruption --resume goes on from there.`,
		Example: `  lanesim bag examples/bag-three-of-five.yaml --shots 40 --farthest 3
  lanesim bag examples/bag-three-of-five.yaml --size 2 --shots 20 --farthest 2 --worn 30 --json`,
		Args: oneFile,
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.bag(c.Context(), arguments[0], o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	o.scenario.add(c)
	intVar(f, &o.size, "size", 3, "balls to choose")
	intVar(f, &o.worn, "worn", 0, "also the lanes as they are after so many deliveries")
	intVar(f, &o.farthest, "farthest", 6, "boards that the laydown may move either way")
	intVar(f, &o.shots, "shots", 200, "deliveries of each line")
	seedVar(f, &o.seed, "seed", 1, "seed of the random numbers")
	f.StringVar(&o.level, "level", "", "skill `level` in place of the bowler's repeatability (assumed)")
	complete(c, "level", scenario.SkillLevels()...)
	f.BoolVar(&o.resume, "resume", false, "go on from what an interrupted run with the same -o has kept")
	o.output.addJSON(c)
	o.output.addCSV(c, "print the table of shares as CSV")
	o.output.addPaths(c, []string{".json", ".csv"})
	return c
}

// bagWork is the command's work.
type bagWork struct {
	title    string
	warnings []string
	bowler   string
	balls    []string
	states   []string
	study    studies.Bag
	choice   studies.BagChoice
}

// bag runs the bag command.
func (p *program) bag(ctx context.Context, path string, o bagOptions) error {
	if err := o.output.check([]string{".json", ".csv"}); err != nil {
		return err
	}
	files := slices.DeleteFunc(slices.Clone(o.output.paths), func(path string) bool { return path == standardStream })
	switch {
	case o.shots < 1:
		return wrongInput("--shots is %d, less than 1", o.shots)
	case o.farthest < 1:
		return wrongInput("--farthest is %d, less than 1", o.farthest)
	case o.worn < 0:
		return wrongInput("--worn is %d, less than 0", o.worn)
	case o.resume && len(files) == 0:
		return wrongInput("--resume needs the -o of the run that was interrupted")
	}
	s, err := p.readScenario(ctx, path, o.scenario)
	if err != nil {
		return err
	}
	if len(s.Bowlers) != 1 {
		return wrongInput("there are %d bowlers: a bag is one bowler's", len(s.Bowlers))
	}
	if o.size < 1 || o.size > len(s.Balls) {
		return wrongInput("--size is %d: there are %d balls to choose from", o.size, len(s.Balls))
	}
	p.tellAssumptions(s)
	// Lines are looked for anew on every lane.
	s.Bowlers[0].AimAtPocket = false
	players, assumed, err := p.players(ctx, s, o.level)
	if err != nil {
		return err
	}
	for _, text := range assumed {
		p.warn(text)
	}
	w := bagWork{title: title(s), warnings: append(slices.Clone(s.Warnings), assumed...), bowler: s.Bowlers[0].Name}
	w.study = studies.Bag{
		Release: players[0].setup.Release, Repeatability: players[0].setup.Repeatability,
		Size: o.size, Farthest: o.farthest, Shots: o.shots, Seed: o.seed, Settings: s.Settings, Progress: p.progress("ball and lane"),
	}
	for _, t := range players[:len(s.Balls)] {
		w.balls = append(w.balls, t.ball)
		w.study.Balls = append(w.study.Balls, t.setup.Ball)
	}
	for _, l := range s.Lanes {
		w.states = append(w.states, l.Name)
		w.study.Lanes = append(w.study.Lanes, l)
		if o.worn > 0 {
			if l.Oil == nil {
				return wrongInput("%s is dry: there is nothing to wear", l.Name)
			}
			worn := l
			if worn.Oil, err = p.wornOil(ctx, w.study, o); err != nil {
				return err
			}
			w.states = append(w.states, fmt.Sprintf("%s after %d", l.Name, o.worn))
			w.study.Lanes = append(w.study.Lanes, worn)
		}
	}
	if err := p.fillBag(ctx, &w, files, o); err != nil {
		return err
	}
	return p.writeBag(&w, o)
}

// fillBag computes the cells and keeps them as they are finished.
func (p *program) fillBag(ctx context.Context, w *bagWork, files []string, o bagOptions) error {
	if len(files) == 0 {
		var err error
		w.choice, err = w.study.Run(ctx)
		return err
	}
	partial := files[0] + partialEnding
	key, err := w.fingerprint(o)
	if err != nil {
		return err
	}
	w.study.Known = map[int]studies.BagCell{}
	if o.resume {
		if w.study.Known, err = readCells(partial, key); err != nil {
			return err
		}
	}
	keep, err := os.Create(partial)
	if err != nil {
		return inputError{err}
	}
	defer keep.Close()
	var failed error
	note := func(index int, c studies.BagCell) {
		text, err := json.Marshal(cellLine{index, c})
		if err == nil {
			_, err = keep.Write(append(text, '\n'))
		}
		failed = errors.Join(failed, err)
	}
	if _, err := keep.WriteString(key + "\n"); err != nil {
		return err
	}
	for index, c := range w.study.Known {
		note(index, c)
	}
	w.study.Cell = note
	if w.choice, err = w.study.Run(ctx); err == nil {
		err = failed
	}
	if err != nil {
		if ctx.Err() != nil {
			p.warn(fmt.Sprintf("interrupted: what is finished is in %s; --resume goes on from there", partial))
		}
		return err
	}
	return os.Remove(partial)
}

// cellLine is a finished cell as it is kept.
type cellLine struct {
	Index int
	Cell  studies.BagCell
}

// fingerprint tells one bag from another.
func (w *bagWork) fingerprint(o bagOptions) (string, error) {
	text, err := json.Marshal(struct {
		Model                 int
		Balls, States         []string
		Study                 any
		Shots, Farthest, Worn int
		Seed                  uint64
	}{model, w.balls, w.states, fmt.Sprintf("%+v %+v %+v %+v", w.study.Balls, w.study.Release, w.study.Repeatability, w.study.Settings),
		o.shots, o.farthest, o.worn, o.seed})
	if err != nil {
		return "", err
	}
	h := sha256.New()
	h.Write(text)
	for _, l := range w.study.Lanes {
		fmt.Fprintf(h, "%v %v %v %+v", l.Length, l.Tilt, l.Roughness, l.Friction)
		if l.Oil != nil {
			fmt.Fprint(h, l.Oil.Distances, l.Oil.Film)
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// readCells reads what an interrupted run has kept; a line that it did not finish
// is left out.
func readCells(path, key string) (map[int]studies.BagCell, error) {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return map[int]studies.BagCell{}, nil
	}
	if err != nil {
		return nil, inputError{err}
	}
	lines := bufio.NewScanner(bytes.NewReader(data))
	if !lines.Scan() || lines.Text() != key {
		return nil, wrongInput("%s belongs to another bag: its balls, lanes or flags differ", path)
	}
	known := map[int]studies.BagCell{}
	for lines.Scan() {
		var l cellLine
		if json.Unmarshal(lines.Bytes(), &l) == nil {
			known[l.Index] = l.Cell
		}
	}
	return known, nil
}

// writeBag writes and prints what was asked for.
func (p *program) writeBag(w *bagWork, o bagOptions) error {
	return p.writeResults(context.Background(), o.output, results{
		json: w.encode, csv: w.encodeCSV,
		table: func() string { return w.table(p.paintFor(p.out)) },
	})
}

// table tells the choice to people.
func (w *bagWork) table(color paint) string {
	var b strings.Builder
	if w.title != "" {
		b.WriteString(color.heading(w.title) + "\n\n")
	}
	fmt.Fprintf(&b, "%s of %s, from each ball's best line\n\n", color.heading("pocket share"), w.bowler)
	shares := table{left: []bool{true}, rows: [][]string{append([]string{""}, w.states...)}}
	for i, name := range w.balls {
		row := []string{name}
		for _, c := range w.choice.Cells[i] {
			if !c.Reaches {
				row = append(row, absent)
				continue
			}
			row = append(row, fmt.Sprintf("%s from %s", percent(c.PocketShare), figure(c.Laydown)))
		}
		shares.rows = append(shares.rows, row)
	}
	b.WriteString(shares.String())
	fmt.Fprintf(&b, "\n%s: the best of each lane covers %s on average\n\n", color.heading("the choice"), percent(w.choice.Coverage))
	rank := table{left: []bool{true}, rows: [][]string{{"", "alone", "adds"}}}
	for k, i := range w.ranking() {
		name := fmt.Sprintf("%d. %s", k+1, w.balls[i])
		if k >= len(w.choice.Chosen) {
			name = "   " + w.balls[i]
		}
		rank.rows = append(rank.rows, []string{name, percent(w.choice.Alone[i]), fmt.Sprintf("%.1f%%", 100*w.choice.Adds[i])})
	}
	b.WriteString(rank.String())
	return b.String()
}

// ranking lists the chosen balls, then the others by what they would add.
func (w *bagWork) ranking() []int {
	list := slices.Clone(w.choice.Chosen)
	var others []int
	for i := range w.balls {
		if !slices.Contains(list, i) {
			others = append(others, i)
		}
	}
	slices.SortStableFunc(others, func(i, j int) int {
		switch a, b := w.choice.Adds[i], w.choice.Adds[j]; {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	return append(list, others...)
}
