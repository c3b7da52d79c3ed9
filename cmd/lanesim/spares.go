package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lanesim/internal/input"
	"lanesim/plots/handouts"
	"lanesim/report/handout"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/plots"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/scenario/runs"
	"lanesim/studies/aim"
	"lanesim/studies/carry"

	"github.com/spf13/cobra"
)

// sparesOptions are the flags of the spares command.
type sparesOptions struct {
	studyFlags
	paper, laydown, leaves string
	shots                  int
}

func (p *program) sparesCommand() *cobra.Command {
	var o sparesOptions
	c := ofFile("spares", func(ctx context.Context, path string) error { return p.spares(ctx, path, o) })
	f := c.Flags()
	o.scenario.pins = true
	o.scenario.fixedLine = true
	o.scenario.add(c)
	f.StringVar(&o.laydown, "laydown", boardsBetween(aim.DefaultLaydown), "`boards` between which the ball is laid down, from the bowler's side (assumed)")
	f.StringVar(&o.leaves, "leaves", "", "the `leaves`, as 10,3-6-10, instead of the usual ones")
	intVar(f, &o.shots, "shots", carry.DefaultSpareDeliveries, "deliveries from which a share is counted")
	o.addSeed(c)
	o.addJobs(c)
	o.addLevel(c, "bowlers'")
	o.output.addJSON(c)
	o.output.addCSV(c, "print the lines as CSV")
	o.output.addPaths(c, studyEndings())
	addPaper(f, &o.paper)
	o.phone.addPhone(c)
	return c
}

func (p *program) spares(ctx context.Context, path string, o sparesOptions) error {
	_, noPaper := paperOf(o.paper)
	window, wrongLaydown := boardWindow("laydown", o.laydown, 1, 39)
	leaves, wrongLeaves := readLeaves(o.leaves)
	s, err := p.readScenario(ctx, path, o.scenario, o.output.check(), noPaper, atLeast(1, "shots", o.shots), wrongLaydown, wrongLeaves)
	if err != nil {
		return err
	}
	return p.findSpares(ctx, s, window, o, func(runs.Player) ([]pins.Leave, error) { return leaves, nil })
}

// aimAtPins runs the aim command for bowlers who aim at pins.
func (p *program) aimAtPins(ctx context.Context, s *scenario.Scenario, laydown physics.Window, o aimOptions) error {
	leaves := make([]pins.Leave, len(s.Bowlers))
	for i, b := range s.Bowlers {
		if leaves[i] = b.AimAtPins; leaves[i] == 0 {
			return input.Wrong("%s does not aim at pins, but other bowlers do: aim finds lines at pins or to the pocket, not both at once", b.Name)
		}
	}
	if o.arrows != boardsBetween(aim.DefaultArrows) || len(o.free) > 0 || o.assumed > 0 || o.by != string(aim.ByGoodShare) {
		return input.Wrong("--arrows, --free, --assumed and --by are for lines to the pocket: these bowlers aim at pins")
	}
	return p.findSpares(ctx, s, laydown, sparesOptions{studyFlags: o.studyFlags, paper: plots.Papers()[0].Name, shots: o.shots},
		func(t runs.Player) ([]pins.Leave, error) { return leaves[t.At.Bowler : t.At.Bowler+1], nil })
}

// readLeaves reads leaves separated by commas.
func readLeaves(text string) (list []pins.Leave, err error) {
	if text == "" {
		return nil, nil
	}
	for part := range strings.SplitSeq(text, ",") {
		l, err := pins.ParseLeave(strings.TrimSpace(part))
		if err != nil {
			return nil, input.Wrong("--leaves: %s", strings.TrimPrefix(err.Error(), "pins: "))
		}
		if slices.Contains(list, l) {
			return nil, input.Wrong("--leaves: %s is given twice", l)
		}
		list = append(list, l)
	}
	return list, nil
}

// findSpares finds the lines at each player's leaves, by default the usual ones, and reports
// them.
func (p *program) findSpares(ctx context.Context, s *scenario.Scenario, window physics.Window, o sparesOptions, leavesOf func(runs.Player) ([]pins.Leave, error)) error {
	if n := len(s.Lanes) * len(s.Balls) * len(s.Bowlers); o.output.wants(pictureEndings()...) && n > plots.MaxSpareSheets {
		return input.Wrong("%d bowlers, balls and lanes are too many for a picture, which shows up to %d", n, plots.MaxSpareSheets)
	}
	w := studied.Spares{Title: s.Heading(), Warnings: slices.Clone(s.Warnings), Assumed: s.RackValues(), Seed: o.seed}
	// The search finds the lines at pins itself.
	aims := make([]pins.Leave, len(s.Bowlers))
	for i := range s.Bowlers {
		aims[i], s.Bowlers[i].AimAtPins = s.Bowlers[i].AimAtPins, 0
	}
	players, err := p.players(ctx, s, o.studyFlags, &w.Warnings)
	if err != nil {
		return err
	}
	var interrupted error
	warned := s.UsualRack()
	for i, t := range players {
		leaves, err := leavesOf(t)
		if err == nil && leaves == nil {
			if !warned {
				p.note(&w.Warnings, studied.FromTable("which leaves are commonest comes"))
				warned = true
			}
			leaves, err = carry.Deliveries{Setup: t.Setup, Seed: o.seed, Settings: s.Settings, Work: o.work(nil)}.UsualLeaves(ctx, aims[t.At.Bowler] != 0)
		}
		if err != nil {
			return err
		}
		lines, err := spareLines(ctx, carry.Spares{Setup: t.Setup, Laydowns: carry.LaydownsIn(window), Deliveries: o.shots, Seed: o.seed, Deck: s.Rack, Settings: s.Settings, Work: o.work(nil)},
			leaves, p.progressOf("ball", i, len(players), "leave"))
		for k := range lines {
			lines[k].Feet = lines[k].Release.Laydown + s.Bowlers[t.At.Bowler].FootToBall
		}
		if len(lines) > 0 {
			w.Players, w.Lines = append(w.Players, t.Player), append(w.Lines, lines)
		}
		if err == nil {
			continue
		}
		if ctx.Err() == nil || len(w.Lines) == 0 {
			return err
		}
		interrupted = err
		p.note(&w.Warnings, fmt.Sprintf("interrupted: %d of %d balls are reported, the last of them with %d of %d leaves", len(w.Lines), len(players), len(w.Lines[len(w.Lines)-1]), len(leaves)))
		break
	}
	return cmp.Or(p.writeResults(context.Background(), o.output, results{
		unfinished: interrupted != nil,
		json:       w.WriteJSON, rows: w.Rows,
		document: w.Document,
		handout:  func() (handout.Page, error) { return handouts.Spares(&w, s, players[:len(w.Players)]) },
		picture:  func() (*plots.Drawing, error) { return plots.DrawSpares(&w, o.phone.size()) },
		pages: func() ([]*plots.Drawing, error) {
			paper, err := paperOf(o.paper)
			if err != nil {
				return nil, err
			}
			return plots.SparePages(&w, paper)
		},
	}), interrupted)
}

// spareLines finds the lines at leaves. After an error it returns those finished, too.
func spareLines(ctx context.Context, q carry.Spares, leaves []pins.Leave, step func(done, total int)) ([]studied.SpareLine, error) {
	defer step(len(leaves), len(leaves))
	var list []studied.SpareLine
	if err := q.Prepare(ctx); err != nil {
		return nil, err
	}
	for i, l := range leaves {
		step(i, len(leaves))
		line, err := q.Find(ctx, l)
		if err == nil {
			err = q.FindWindow(ctx, &line)
		}
		none := (*carry.NoSpareError)(nil)
		if err != nil && !errors.As(err, &none) {
			return list, err
		}
		list = append(list, studied.SpareLine{Leave: l, Found: none == nil, SpareResult: line})
	}
	return list, nil
}
