package scenario

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies/compare"
)

// Inputs returns a JSON object that is itself a scenario file, for the one
// delivery, with every default written out: reading it gives the same lane,
// ball and release, bit for bit. The launch angle, in rad, replaces the bowler's
// line. Patterns are written out; built-in ones keep their name.
//
// It is an error if the scenario has no such delivery or if the angle is outside its
// limits.
func (s *Scenario) Inputs(d Delivery, angle float64) ([]byte, error) {
	return s.InputsFrom(d, math.NaN(), angle)
}

// InputsFrom is [Scenario.Inputs] with the bowler's laydown replaced, unless laydown is
// NaN.
func (s *Scenario) InputsFrom(d Delivery, laydown, angle float64) ([]byte, error) {
	if d.Lane < 0 || d.Lane >= len(s.Lanes) || d.Ball < 0 || d.Ball >= len(s.Balls) || d.Bowler < 0 || d.Bowler >= len(s.Bowlers) {
		return nil, fmt.Errorf("scenario: there is no delivery of lane %d, bowler %d, ball %d", d.Lane, d.Bowler, d.Ball)
	}
	if n := launchAngle.number; !n.holds(angle) {
		return nil, fmt.Errorf("scenario: launch angle of %g rad is not within %s and %s", angle, n.least.text, n.most.text)
	}
	bowler := s.Bowlers[d.Bowler]
	if !math.IsNaN(laydown) {
		bowler.Release.Laydown = laydown
	}
	o := withText(nil, "title", s.Title).With("lane", s.laneInputs(d.Lane), "ball", s.ballInputs(d.Ball, s.Lanes[d.Lane].Friction.Law),
		"bowler", bowlerInputs(bowler, angle), "settings", settingsInputs(s.Settings, s.Visible))
	if given := rackInputs(s.Rack); len(given) > 0 {
		o = o.With("rack", given)
	}
	return report.JSON(o)
}

// withText adds a text unless it is empty.
func withText(o report.Object, key, text string) report.Object {
	if text == "" {
		return o
	}
	return o.With(key, text)
}

func (s *Scenario) laneInputs(i int) report.Object {
	l := s.Lanes[i]
	f := report.ObjectOf("law", string(l.Friction.Law))
	switch l.Friction.Law {
	case lane.Constant:
		f = f.With("mu", bareNumber(l.Friction.Mu))
	case lane.Zones:
		zones := []report.Object{}
		for _, z := range l.Friction.Zones {
			var zone report.Object
			if !math.IsInf(z.To, 1) {
				zone = zone.With("to", feet(z.To))
			}
			zones = append(zones, zone.With("mu", bareNumber(z.Mu)))
		}
		f = f.With("zones", zones)
	default:
		f = mixedNumbers(&l.Friction).write(f, frictionShape)
	}
	surface, rolling := laneNumbers(&l)
	o := surface.write(report.ObjectOf("name", l.Name, "oil", s.oils[i].inputs()), laneShape)
	return withMeasured(rolling.write(o.With("friction", f), laneShape), laneMarks(&l.Measured))
}

// inputs writes a lane's oil: a word, or the pattern.
func (o oil) inputs() any {
	if o.word != "" {
		return o.word
	}
	return o.pattern.inputs()
}

// inputs writes a pattern out.
func (p *Pattern) inputs() report.Object {
	o := withText(withText(nil, "name", p.Name), "about", p.About).With("kind", p.Kind)
	if g := p.Grid; g != nil {
		units := [][]json.Number{}
		for _, row := range g.Units {
			units = append(units, input.Each(row, bareNumber))
		}
		return o.With("distances", input.Each(g.Distances, feet), "units", units)
	}
	c := *p.Crown
	span := func(r patterns.BoardRange) []int { return []int{r.From, r.To} }
	return crownNumbers(&c).write(o, oilShape).With("boards", report.ObjectOf("inside", span(c.Sets.Inside), "outside", span(c.Sets.Outside)))
}

// ballInputs writes a ball. It leaves out a default cover on a lane where covers have no
// effect, since reading it would give a warning.
func (s *Scenario) ballInputs(i int, law lane.Law) report.Object {
	b := s.Balls[i]
	inertia, surface, contact := ballNumbers(&b)
	o := inertia.write(report.ObjectOf("name", b.Name), ballShape)
	if law == lane.Mixed || b.Cover != defaultBall.Cover {
		o = o.With(coverKey, coverInputs(b.Cover, b.Memory))
	}
	o = surface.write(o, ballShape).With("finish_wear", wearNumbers(&b.FinishWear).write(nil, finishWearShape))
	if l := b.Layout; l != nil {
		o = o.With("layout", layoutNumbers(l).write(nil, layoutShape))
	}
	if b.Box != nil {
		o = o.With("box", boxInputs(*b.Box))
	}
	o = o.With("grip", gripInputs(s.Grips[i]))
	if b.Static != nil {
		o = o.With("balance", staticNumbers(b.Static).write(nil, balanceShape))
	} else if b.Offset != [3]float64{} && (b.Box == nil || !b.Box.TopWeight.Given) { // 0 where it is unknown
		o = o.With("balance", report.ObjectOf("offset", input.Each(b.Offset[:], func(v float64) string { return length.format(v, "mm") })))
	}
	return withMeasured(contact.write(o, ballShape).With("film_memory", memoryInputs(b.Memory)), ballMarks(&b.Measured))
}

func memoryInputs(m ball.FilmMemory) any {
	if m.Off {
		return "off"
	}
	o := memoryNumbers(&m).write(nil, memoryShape)
	if m.SoakIn != 0 {
		o = o.With("soak_in", soakInText(m.SoakIn))
	}
	return o
}

func bowlerInputs(b Bowler, angle float64) report.Object {
	o := report.ObjectOf("name", b.Name, "hand", b.Release.Hand.String(), "pap", papNumbers(&b.PAP).write(nil, papShape))
	return bowlerNumbers(&b).write(o, bowlerShape).With("foot_to_ball", bareNumber(b.FootToBall), "angle", degrees(angle))
}

// settingsInputs writes the settings, the pocket by its edges: computed from the middle
// and half the width they would be rounded.
func settingsInputs(s physics.Settings, v compare.Visible) report.Object {
	return report.ObjectOf("tolerance", bareNumber(cmp.Or(s.Tolerance, physics.DefaultTolerance)),
		"pocket", []json.Number{bareNumber(s.Pocket.Min), bareNumber(s.Pocket.Max)},
		"good_angle", []string{degrees(s.GoodAngle.Min), degrees(s.GoodAngle.Max)},
		"hook_turn", degrees(cmp.Or(s.HookTurn, physics.DefaultHookTurn)),
		"visible", visibleNumbers(&v).write(nil, visibleShape))
}
