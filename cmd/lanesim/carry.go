package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"lanesim/physics"
	"lanesim/pins"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/carry"

	"github.com/spf13/cobra"
)

// carryOptions are the flags of the carry command.
type carryOptions struct {
	scenario scenarioFlags
	output   outputFlags
	phone    pictureFlags
	racks    int
	seed     uint64
	scatter  bool
	level    string
	leave    string
	weights  string
	mapped   bool
}

func (p *program) carryCommand() *cobra.Command {
	var o carryOptions
	c := &cobra.Command{
		Use:     "carry FILE",
		GroupID: groupRun,
		Short:   "Let every shot hit racks of pins: strikes, leaves, what takes what",
		Long: `Carry lets every shot of a scenario, every bowler × ball on every lane, hit many
racks of ten pins. No two racks are alike: pins differ in place, weight and
bounce. It tells the share of strikes with its 95 % interval (Wilson's score
interval), the commonest leaves, how often a split stands, by how much the ball
is deflected and on which board it leaves the deck, and what is the first to
touch each pin.

Restitution and friction of the pins, and how far they scatter, are assumed: no
measured values are published. So are all shares; the result lists the values,
which the scenario's rack changes. The place of the pocket and the order of
contacts are robust against them; by how much one shot strikes more often than
another is not.

One exact shot is no bowler: a quarter of a board may make an 8-10 of a strike.
With --scatter each rack gets a delivery of its own, drawn from the bowler's
repeatability. --map gives the share of strikes over board and angle at the
pins, blurred by the bowler's scatter, from a stored table of racks.

Pins that stand may be a leave: --leave 3-6-10, or aim: {pins: 3-6-10} in the
scenario; then strikes are conversions. Pins are numbered the same for both
hands: 7 is the left corner. Entry boards are those of the ball's middle on its
line at the head pin's distance, 60 ft, half a foot past where it touches.

With --ball-weights each ball is thrown in several weights, at the same racks.
A picture shows the rack with the commonest outcome of each shot from above, or
the map. With --csv every leave is a row; strikes are the leave "none".`,
		Example: `  lanesim carry examples/carry-light-and-flush.yaml --racks 200
  lanesim carry examples/first-shot.yaml --racks 200 -o deck.png
  lanesim carry examples/first-shot.yaml --racks 200 --scatter --level tournament --json
  lanesim carry examples/first-shot.yaml --racks 100 --map -o map.png
  lanesim carry examples/first-shot.yaml --racks 200 --ball-weights "12 lb,14 lb,16 lb" --csv
  lanesim carry examples/spare-ten-pin.yaml --scatter --racks 300`,
		Args: oneFile,
		RunE: func(c *cobra.Command, arguments []string) error {
			return p.carry(c.Context(), arguments[0], o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	o.scenario.spares = true
	o.scenario.add(c)
	intVar(f, &o.racks, "racks", carry.DefaultRacks, "racks that each shot hits")
	seedVar(f, &o.seed, "seed", 1, "seed of the random numbers")
	f.BoolVar(&o.scatter, "scatter", false, "draw a delivery of the bowler's own for each rack")
	f.StringVar(&o.level, "level", "", "skill `level` in place of the bowlers' repeatability (assumed)")
	complete(c, "level", scenario.SkillLevels()...)
	f.StringVar(&o.leave, "leave", "", "the `pins` that stand, as 3-6-10; a full rack without")
	f.StringVar(&o.weights, "ball-weights", "", "throw each ball in these `weights`, as \"14 lb,15 lb,16 lb\"")
	f.BoolVar(&o.mapped, "map", false, "give the share of strikes over board and angle")
	o.output.addJSON(c)
	o.output.addCSV(c, "print the leaves as CSV")
	o.output.addPaths(c, throwEndings())
	o.phone.addPhone(c)
	return c
}

// carryWork is the command's work.
type carryWork struct {
	title    string
	warnings []string
	assumed  []string // values, as the scenario's rack has them
	players  []player
	standing []pins.Leave // of each player
	studies  []carry.Study
	results  []carry.Result
	maps     []carry.Map
	scatter  bool
}

// carry runs the carry command.
func (p *program) carry(ctx context.Context, path string, o carryOptions) error {
	if err := o.output.check(throwEndings()); err != nil {
		return err
	}
	if o.racks < 1 {
		return wrongInput("--racks is %d, less than 1", o.racks)
	}
	leave := pins.Leave(0)
	if o.leave != "" {
		var err error
		if leave, err = pins.ParseLeave(o.leave); err != nil {
			return wrongInput("--leave: %s", strings.TrimPrefix(err.Error(), "pins: "))
		}
	}
	var sets []string
	if o.weights != "" {
		for weight := range strings.SplitSeq(o.weights, ",") {
			sets = append(sets, "ball.weight="+strings.TrimSpace(weight))
		}
	}
	list, err := p.readScenarios(ctx, path, o.scenario, sets)
	if err != nil {
		return err
	}
	s := list[0]
	p.tellAssumptions(s)
	w := carryWork{title: title(s), warnings: slices.Clone(s.Warnings), assumed: s.RackValues(), scatter: o.scatter}
	tell := func(text string) {
		p.warn(text)
		w.warnings = append(w.warnings, text)
	}
	for i, s := range list {
		players, assumed, err := p.players(ctx, s, o.level)
		if err != nil {
			return err
		}
		if i == 0 && (o.scatter || o.mapped) {
			for _, text := range assumed {
				tell(text)
			}
		}
		for _, t := range players {
			if len(sets) > 0 {
				t.ball += ", " + strings.TrimPrefix(sets[i], "ball.weight=")
			}
			w.players = append(w.players, t)
			standing := leave
			if standing == 0 {
				standing = s.Bowlers[t.Bowler].AimAtPins
			}
			w.standing = append(w.standing, standing)
		}
	}
	if n := len(w.players); o.output.wants(pictureEndings()...) && n > plots.MaxDecks {
		return wrongInput("%d bowlers, balls and lanes are too many for a picture, which takes %d", n, plots.MaxDecks)
	}
	if o.mapped && !s.UsualRack() {
		tell("the map comes from a stored table, made with the usual values of the pins, not with the scenario's")
	}
	interrupted := w.run(ctx, p, s, o, tell)
	if interrupted != nil && ctx.Err() == nil || len(w.results) == 0 {
		return interrupted
	}
	if err := p.writeCarry(&w, o, interrupted != nil); err != nil {
		return err
	}
	return interrupted
}

// run rolls all racks. What is finished is kept if it fails.
func (w *carryWork) run(ctx context.Context, p *program, s *scenario.Scenario, o carryOptions, tell func(string)) error {
	for i, t := range w.players {
		what := "rack"
		if n := len(w.players); n > 1 {
			what = fmt.Sprintf("shot %d of %d, rack", i+1, n)
		}
		study := carry.Study{
			Setups: []studies.Setup{t.setup}, Standing: w.standing[i], Racks: o.racks, Seed: o.seed, Scatter: o.scatter,
			Deck: s.Rack, Settings: s.Settings, Progress: p.progress(what),
		}
		results, err := study.Run(ctx)
		w.results = append(w.results, results...)
		w.studies = append(w.studies, study)
		if err == nil && o.mapped {
			var m carry.Map
			if m, err = carry.MapOf(ctx, t.setup, s.Settings, o.seed, 0); err == nil {
				w.maps = append(w.maps, m)
			}
		}
		if err != nil {
			if ctx.Err() == nil {
				return fmt.Errorf("%s with %s on %s: %w", t.bowler, t.ball, t.lane, err)
			}
			if len(w.results) > 0 {
				tell(fmt.Sprintf("interrupted: %d of %d shots are told, the last of them with %s", len(w.results), len(w.players),
					report.Counting(w.results[len(w.results)-1].Tally.Racks, "rack")))
			}
			return err
		}
	}
	return nil
}

// writeCarry writes and prints what was asked for, of interrupted work as well.
func (p *program) writeCarry(w *carryWork, o carryOptions, unfinished bool) error {
	return p.writeResults(context.Background(), o.output, results{
		unfinished: unfinished,
		json:       w.encode, csv: w.encodeCSV,
		document: w.document,
		draw:     func(path string) ([]file, error) { return w.draw(path, o.phone.size()) },
	})
}

// draw draws the racks with the commonest outcomes, or the maps.
func (w *carryWork) draw(path string, size plots.Size) ([]file, error) {
	var d *plots.Drawing
	var err error
	if len(w.maps) > 0 {
		f := plots.StrikeMapFigure{Title: w.title, Size: size,
			Note: "Strikes over the board and the angle at which the ball enters, blurred by the bowler's own scatter, with the ball's weight and its speed at the pins. Absolute shares are assumed; where strikes are common is robust."}
		for i, m := range w.maps {
			r := w.results[i]
			one := plots.StrikeMap{Boards: m.Boards, Share: m.Strikes, Board: r.Entry.Board, Angle: report.Degree.In(r.Entry.Heading),
				Words: "the line", Pocket: physics.DefaultPocket}
			if pocket := w.studies[i].Settings.Pocket; pocket != (physics.Window{}) {
				one.Pocket = pocket
			}
			for _, a := range m.Angles {
				one.Degrees = append(one.Degrees, report.Degree.In(a))
			}
			if len(w.players) > 1 {
				one.Name = w.players[i].name(w.players)
			}
			f.Maps = append(f.Maps, one)
		}
		d, err = plots.StrikeMaps(f)
	} else {
		f := plots.DeckFigure{Title: w.title, Size: size,
			Note: "One rack of each shot, of those with its commonest outcome. Which outcome is commonest, and how common, rests on assumed values."}
		for i, r := range w.results {
			study := w.studies[i]
			one, err := study.Again(r, r.Typical)
			if err != nil {
				return nil, err
			}
			standing := study.Standing
			if standing == 0 {
				standing = pins.All
			}
			panel := plots.DeckPanel{Standing: standing, Result: one, Radius: w.players[i].setup.Ball.Radius,
				Caption: fmt.Sprintf("enters on board %s at %s° (%s), %s: %s of %s", report.Figure(r.Entry.Board), report.Fixed(report.Degree.In(r.Entry.Heading), 2), r.Hit,
					w.outcome(i, one.Standing), report.Share(r.Tally.ShareOf(r.Tally.Leaves[one.Standing]).Share), report.Counting(r.Tally.Racks, "rack"))}
			if len(w.players) > 1 {
				panel.Name = w.players[i].name(w.players)
			}
			f.Panels = append(f.Panels, panel)
		}
		d, err = plots.Decks(f)
	}
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}

// outcome says what stands.
func (w *carryWork) outcome(i int, l pins.Leave) string {
	switch {
	case l == 0 && w.fullRack(i):
		return "a strike"
	case l == 0:
		return "converted"
	}
	return "leaves " + l.String()
}
