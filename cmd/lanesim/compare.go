package main

import (
	"context"
	"slices"

	"lanesim/scenario"
	"lanesim/studies"

	"github.com/spf13/cobra"
)

// compareOptions are the flags of the compare command.
type compareOptions struct {
	scenario scenarioFlags
	output   outputFlags
	aim      string
	phone    pictureFlags
}

// What --aim can be.
const (
	aimSame = "same"
	aimEach = "each"
)

func (p *program) compareCommand() *cobra.Command {
	var o compareOptions
	c := &cobra.Command{
		Use:     "compare FILE [FILE...]",
		GroupID: groupRun,
		Short:   "Tell by how much shots differ, where, and why",
		Long: `Compare throws every bowler × ball on every lane of the scenarios and tells what
changes from one shot, a, to another, b: always b − a. Pairs are the shots of
one bowler that share the ball or the lane, by their names; if there are none,
all shots with each other.

Shots that are compared and put down on one board take one line: where a
scenario says to aim at the pocket, the first finds the angle and the others
take it. With --aim each, every shot finds its own. The settings are those of
the first file.

A difference is shared out in two ways, each adding up to it. By mechanism, each
shot is computed in full, then without oil on the track, then also with inertia
equal in all directions, m k² with its RG k about the spin axis at release:

  oil_on_track    what vanishes when the cover remembers no oil
  axis_migration  what vanishes when the inertia is made equal as well
  rg_about_axis   what of the rest the RG k of the two balls makes: layouts,
                  drilling and RGs swapped, in the mean of both directions
  other           what is left: cover, surface, release, line, oil; 0 if only
                  the layouts differ

By input, each group in which the shots differ is swapped in every order, and
its share is its mean effect (Shapley value):

  layout           pin and PSA, and the grip that is drilled
  mass_properties  weight, size, RGs, balance
  cover            friction of the cover and its soak-in time
  surface          roughness, film memory, contact radius
  release          hand, PAP, speed, rev rate, axis rotation and tilt, phase
  line             laydown and launch angle
  lane             oil, friction, tilt

What does not exist for one of the shots, as for one in the gutter, is null.

A picture shows, for each bowler, up to four shots over the oil, the boards
between them, and what their tracks do: how far each turn's track lies from the
last one's, against the width of the contact, and the film that they bring. With
--csv the boards between them are printed at every half foot.`,
		Example: `  lanesim compare examples/compare-flare.yaml
  lanesim compare examples/compare-flare.yaml -o compare.png --aim each
  lanesim compare examples/compare-flat.yaml --json
  lanesim compare examples/compare-one-number.yaml --csv
  lanesim compare examples/first-shot.yaml examples/left-hander.yaml`,
		Args: func(c *cobra.Command, arguments []string) error {
			if len(arguments) == 0 {
				return wrongInput("%s needs a file, or - for standard input", c.Name())
			}
			return nil
		},
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.compare(c.Context(), arguments, o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	o.scenario.add(c)
	f.StringVar(&o.aim, "aim", aimSame, "who `aims`: same (one line for all from one board) or each (at the pocket)")
	complete(c, "aim", aimSame, aimEach)
	o.output.addJSON(c)
	o.output.addCSV(c, "print the boards between the paths as CSV")
	o.output.addPaths(c, throwEndings())
	o.phone.addPhone(c)
	return c
}

// comparison is the command's work: shots with their names, and what became of
// them.
type comparison struct {
	title    string
	warnings []string
	shots    []thrown
	files    []string // of the shots
	scenario []*scenario.Scenario
	list     []studies.Delivery
	result   studies.Compared
}

// compare runs the compare command.
func (p *program) compare(ctx context.Context, paths []string, o compareOptions) error {
	if err := o.output.check(throwEndings()); err != nil {
		return err
	}
	if err := oneOf("aim", o.aim, []string{aimSame, aimEach}); err != nil {
		return err
	}
	if len(slices.DeleteFunc(slices.Clone(paths), func(path string) bool { return path != standardStream })) > 1 {
		return wrongInput("standard input can be read only once")
	}
	var c comparison
	for _, path := range paths {
		s, err := p.readScenario(ctx, path, o.scenario)
		if err != nil {
			return err
		}
		p.tellAssumptions(s)
		if err := c.include(path, s); err != nil {
			return err
		}
	}
	if len(c.list) < 2 {
		return wrongInput("there is one shot; a comparison needs two: give several balls, bowlers or lanes, or another file")
	}
	if err := p.aimAll(ctx, &c, o.aim); err != nil {
		return err
	}
	study := studies.Comparison{Deliveries: c.list, Pairs: c.pairs(), Settings: c.scenario[0].Settings, Progress: p.progress("shot")}
	var err error
	if c.result, err = study.Run(ctx); err != nil {
		return err
	}
	for i := range c.shots {
		t := &c.shots[i]
		t.shot, t.release = c.result.Shots[i].Shot, c.list[i].Release
		if t.inputs, err = c.scenario[i].Inputs(t.Delivery, t.release.Angle); err != nil {
			return err
		}
	}
	p.tellWork(c.shots)
	return p.writeComparison(ctx, c, o)
}

// include takes in the deliveries of a scenario.
func (c *comparison) include(path string, s *scenario.Scenario) error {
	deliveries, err := s.Deliveries()
	if err != nil {
		return inputError{err}
	}
	if c.title == "" {
		c.title = title(s)
	}
	c.warnings = append(c.warnings, s.Warnings...)
	for _, d := range deliveries {
		bowler := s.Bowlers[d.Bowler]
		c.shots = append(c.shots, thrown{Delivery: d, lane: s.Lanes[d.Lane].Name, ball: s.Balls[d.Ball].Name, bowler: bowler.Name})
		c.files, c.scenario = append(c.files, path), append(c.scenario, s)
		c.list = append(c.list, studies.Delivery{
			Lane: s.Lanes[d.Lane], Ball: s.Balls[d.Ball], Grip: s.Grips[d.Ball], PAP: bowler.PAP, Release: bowler.Release,
		})
	}
	return nil
}

// ofOneBowler reports whether two shots are of one bowler and share the ball or
// the lane.
func (c *comparison) ofOneBowler(i, j int) bool {
	a, b := c.shots[i], c.shots[j]
	return a.bowler == b.bowler && (a.ball == b.ball || a.lane == b.lane)
}

// pairs lists the shots to be compared.
func (c *comparison) pairs() [][2]int {
	var some, all [][2]int
	for i := range c.shots {
		for j := i + 1; j < len(c.shots); j++ {
			all = append(all, [2]int{i, j})
			if c.ofOneBowler(i, j) {
				some = append(some, [2]int{i, j})
			}
		}
	}
	if some != nil {
		return some
	}
	return all
}

// blocks lists the shots that belong together: those of each bowler or, where
// bowlers are compared with each other, all.
func (c *comparison) blocks() [][]int {
	if p := c.pairs(); !c.ofOneBowler(p[0][0], p[0][1]) {
		every := make([]int, len(c.shots))
		for i := range every {
			every[i] = i
		}
		return [][]int{every}
	}
	var names []string
	byName := map[string][]int{}
	for i, t := range c.shots {
		if byName[t.bowler] == nil {
			names = append(names, t.bowler)
		}
		byName[t.bowler] = append(byName[t.bowler], i)
	}
	var blocks [][]int
	for _, n := range names {
		blocks = append(blocks, byName[n])
	}
	return blocks
}

// aims reports whether a shot's scenario leaves its launch angle to be found.
func (c *comparison) aims(i int) bool {
	return c.scenario[i].Bowlers[c.shots[i].Bowler].AimAtPocket
}

// aimAll finds the launch angles that are to be found.
func (p *program) aimAll(ctx context.Context, c *comparison, aim string) error {
	finds := map[int][]int{} // the shots that take the angle which a shot finds
	var finders []int
	for _, block := range c.blocks() {
		type start struct{ laydown, distance float64 }
		first := map[start]int{}
		for _, i := range block {
			from := start{c.list[i].Release.Laydown, c.list[i].Release.LaydownDistance}
			if finder, known := first[from]; known && aim == aimSame {
				if c.aims(i) {
					finds[finder] = append(finds[finder], i)
				}
				continue
			}
			if aim == aimEach || c.aims(i) {
				first[from] = i
				finders, finds[i] = append(finders, i), []int{i}
			}
		}
	}
	if len(finders) == 0 {
		return nil
	}
	list := make([]studies.Delivery, len(finders))
	for k, i := range finders {
		list[k] = c.list[i]
	}
	releases, err := studies.AimEach(ctx, list, c.scenario[0].Settings, 0, p.progress("aim"))
	if err != nil {
		return err
	}
	for k, i := range finders {
		for _, j := range finds[i] {
			c.list[j].Release.Angle = releases[k].Angle
		}
	}
	return nil
}

// writeComparison writes and prints what was asked for.
func (p *program) writeComparison(ctx context.Context, c comparison, o compareOptions) error {
	return p.writeResults(ctx, o.output, results{
		json: c.encode, csv: c.encodeCSV,
		table: func() string { return c.table(p.paintFor(p.out)) },
		draw:  func(path string) ([]file, error) { return c.draw(path, o.phone.size()) },
	})
}
