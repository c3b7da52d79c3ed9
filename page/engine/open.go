package engine

import (
	"context"
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"lanesim/examples"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/terms"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// standard is the standard state to start from. Links leave out what equals it, so it never
// changes for one mark of links.
//
//go:embed standard.yaml
var standard string

// started are the examples offered to start from, besides the standard state.
var started = []string{"compare-flare.yaml", "compare-flat.yaml", "compare-forty-games.yaml", "first-shot.yaml", "low-flare.yaml",
	"left-hander.yaml", "two-handed.yaml", "layout-strong.yaml", "spread-two-balls.yaml", "wear-two-layouts.yaml"}

// pick chooses among several lanes, bowlers and balls of a file.
type pick struct {
	Lane   int        `json:"lane"`
	Bowler int        `json:"bowler"`
	Balls  [sides]int `json:"balls"`
}

// hello answers with the inputs, the examples and the state to start from.
func (e *Engine) hello(ctx context.Context, r request, _ Progress) (answer, error) {
	offered := report.List{report.ObjectOf("name", "standard", "title", "Two layouts, thrown alike",
		"question", "What does the distance from pin to PAP change?", "base", standard)}
	all := examples.Few()
	for _, name := range started {
		i := slices.IndexFunc(all, func(x examples.Example) bool { return x.Name == name })
		opened, err := e.open(ctx, name, string(all[i].Content), nil, nil)
		if err != nil {
			return answer{}, err
		}
		offered = append(offered, report.ObjectOf("name", strings.TrimSuffix(name, ".yaml"), "title", opened.title,
			"question", all[i].Question, "base", opened.base))
	}
	start := state{Base: standard, Aim: "same"}
	if r.Start != "" {
		o, err := e.open(ctx, "file", r.Start, nil, nil)
		if err != nil {
			return answer{}, err
		}
		start.Base = o.base
	}
	return answer{is: "ready", members: report.ObjectOf(
		"version", fmt.Sprintf("model %d", report.Model),
		"inputs", inputObjects(),
		"examples", offered,
		"bowlers", bowlers(),
		"levels", levels(),
		"state", start.object(), "start", r.Start,
	)}, nil
}

func (s state) object() report.Object {
	sets := report.Object{}
	for _, one := range s.Sets {
		path, text, _ := strings.Cut(one, "=")
		sets = append(sets, report.ObjectOf(path, text)...)
	}
	return report.ObjectOf("base", s.Base, "sets", sets, "aim", s.Aim)
}

// bowlers returns the built-in bowlers, as sets.
func bowlers() report.List {
	return report.Each(scenario.BuiltinBowlers(), func(b scenario.BuiltinBowler) report.Object {
		sets := report.Object{}
		for line := range strings.Lines(string(scenario.BowlerYAML(b.Bowler))) {
			key, text, _ := strings.Cut(strings.TrimSpace(line), ": ")
			switch key {
			case "pap", "speed", "rev_rate", "axis_rotation", "axis_tilt", "laydown":
				sets = append(sets, report.ObjectOf("bowler."+key, strings.TrimSpace(text))...)
			}
		}
		about := b.About
		if !b.Published {
			about += " (assumed)"
		}
		return report.ObjectOf("name", b.Word, "about", about, "sets", sets)
	})
}

// levels returns the skill levels with their deviations.
func levels() report.List {
	var list report.List
	for _, name := range scenario.SkillLevels() {
		level, _ := scenario.SkillLevel(name)
		about := fmt.Sprintf("%s boards at the laydown, %s°, %s mph, %s rpm (assumed)", report.Short(level.Laydown), report.Degree.Finer().Show(level.Angle),
			report.MPH.Finer().Show(level.Speed), report.RPM.Show(level.RevRate))
		list = append(list, report.ObjectOf("name", name, "about", about))
	}
	return list
}

// opened is a file with the lane, the bowler and the two balls taken from it.
type opened struct {
	base, title           string
	lanes, bowlers, balls []string // names
	picked                pick
	cautions              []string
}

// open reads a file and takes a lane, a bowler and two balls from it. A line that is found by
// a breakpoint or moved is found once and then fixed. Parts that the file lacks come from
// another document, if there is one.
func (e *Engine) open(ctx context.Context, name, text string, p *pick, others *scenario.Document) (o opened, err error) {
	d, err := scenario.Open(name, []byte(text), nil)
	if err != nil {
		return o, err
	}
	if others != nil && d.HasParts() {
		d = d.Filled(others)
	}
	s, err := d.Read(nil)
	if err != nil {
		return o, err
	}
	if p == nil {
		p = &pick{Balls: [sides]int{0, min(1, len(s.Balls)-1)}}
	}
	d, err = d.Only(p.Lane, p.Bowler, p.Balls[:]...)
	if err != nil {
		return o, err
	}
	taken, err := d.Read(nil)
	if err != nil {
		return o, err
	}
	if bowler := taken.Bowlers[0]; d.HasLine("line") || d.HasLine("move") || bowler.AimAtPins != 0 {
		release, err := foundLine(ctx, taken)
		if err != nil {
			return o, err
		}
		d = d.WithLine(release.Laydown, release.Angle)
		o.cautions = append(o.cautions, fmt.Sprintf("The line of the file is thrown from board %s over board %s at the arrows, and stays there when other inputs change.",
			report.Board.Show(release.Laydown), report.Board.Show(studies.BoardAtArrows(release))))
	}
	base, err := d.YAML(nil)
	if err != nil {
		return o, err
	}
	o.base, o.title, o.picked = string(base), s.Title, *p
	for _, l := range s.Lanes {
		o.lanes = append(o.lanes, l.Name)
	}
	for _, b := range s.Bowlers {
		o.bowlers = append(o.bowlers, b.Name)
	}
	for _, b := range s.Balls {
		o.balls = append(o.balls, b.Name)
	}
	return o, nil
}

// foundLine returns the release of the first ball on a line that must be found.
func foundLine(ctx context.Context, s *scenario.Scenario) (physics.Release, error) {
	deliveries, err := s.Deliveries()
	if err != nil {
		return physics.Release{}, err
	}
	bowler, setup := s.Bowlers[0], s.Setup(deliveries[0]).Setup
	release := bowler.Release
	switch {
	case bowler.AimAtPins != 0:
		return release, fmt.Errorf("the bowler aims at pins, which the page cannot do: give an angle, a target, a line or  aim: pocket")
	case bowler.AimAtPocket:
		found, err := aim.Pocket{Setup: setup, Settings: s.Settings}.Run(ctx)
		if err != nil {
			return release, err
		}
		release.Angle = found.Angle()
		return bowler.Found(release)
	case bowler.Breakpoint != nil:
		release, err = aim.BreakpointLine{Setup: setup, Settings: s.Settings, Arrows: bowler.Breakpoint.Arrows, Breakpoint: bowler.Breakpoint.Board}.Run(ctx)
		if err != nil {
			return release, err
		}
		return bowler.Found(release)
	}
	return release, nil
}

// openFile answers with the state of a file. A pattern, or a file with only balls, bowlers or
// lanes, is completed from the previous state.
func (e *Engine) openFile(ctx context.Context, r request, _ Progress) (answer, error) {
	name := r.Name
	if name == "" {
		name = "file"
	}
	o, made, err := opened{}, state{Aim: "same"}, error(nil)
	var before *scenario.Document
	if r.State.Base != "" {
		if before, err = e.parse(r.State.Base); err == nil {
			before, err = before.Alone(r.State.Sets)
		}
		if err != nil {
			return answer{}, err
		}
	}
	if before != nil && scenario.IsPattern(name, []byte(r.Text)) {
		made.Aim = r.State.Aim
		o, err = patternOpened(before, name, r.Text)
	} else {
		o, err = e.open(ctx, name, r.Text, r.Pick, before)
	}
	if err != nil {
		return answer{}, err
	}
	made.Base = o.base
	s, err := e.read(made)
	if err != nil {
		return answer{}, err
	}
	angle := s.bowler().Release.Angle
	values, err := s.values([sides]float64{angle, angle})
	if err != nil {
		return answer{}, err
	}
	return answer{is: "opened", members: report.ObjectOf(
		"state", made.object(), "values", values, "title", o.title,
		"names", report.ObjectOf("lanes", o.lanes, "bowlers", o.bowlers, "balls", o.balls),
		"picked", report.ObjectOf("lane", o.picked.Lane, "bowler", o.picked.Bowler, "balls", o.picked.Balls[:]),
		"cautions", append(texts(s.Warnings), o.cautions...),
	)}, nil
}

// patternOpened returns a document with the pattern of a file on its lane.
func patternOpened(before *scenario.Document, name, text string) (o opened, err error) {
	d, err := before.WithPattern(name, []byte(text))
	if err != nil {
		return o, err
	}
	s, err := d.Read(nil)
	if err != nil {
		return o, err
	}
	base, err := d.YAML(nil)
	return opened{base: string(base), title: s.Title, lanes: []string{s.Lanes[0].Name}, bowlers: []string{s.Bowlers[0].Name},
		balls: []string{s.Balls[sideA].Name, s.Balls[sideB].Name}, picked: pick{Balls: [sides]int{sideA, sideB}}}, err
}

// file answers with the scenario as a file.
func (e *Engine) file(_ context.Context, s *setup, _ request, _ Progress) (answer, error) {
	text, err := s.document.YAML(s.Sets)
	if err != nil {
		return answer{}, err
	}
	return answer{is: "file", members: report.ObjectOf("text", string(text), "name", "two-shots.yaml")}, nil
}

// terms answers with all terms.
func (e *Engine) terms(context.Context, request, Progress) (answer, error) {
	topics := report.Each(terms.Topics(), func(t terms.Topic) report.Object {
		return report.ObjectOf("name", t.Name, "terms", report.Each(t.Terms, func(t terms.Term) report.Object {
			return report.ObjectOf("term", t.Name, "also", t.Also, "unit", t.Unit, "meaning", t.Text, "from", t.From)
		}))
	})
	return answer{is: "terms", members: report.ObjectOf("topics", topics)}, nil
}
