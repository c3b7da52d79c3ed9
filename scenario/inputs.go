package scenario

import (
	"encoding/json"
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/patterns"
	"lanesim/physics"
	"lanesim/studies/compare"
)

// Inputs returns a JSON object that is itself a scenario file, for the one
// delivery, with every default written out: reading it gives the same lane,
// ball and release, bit for bit. The launch angle, in rad, stands in place of
// the bowler's line. Patterns are written out; built-in ones keep their name.
//
// It is an error if the delivery is not of this scenario or if the angle is
// none that a scenario can hold.
func (s *Scenario) Inputs(d Delivery, angle float64) ([]byte, error) {
	return s.InputsFrom(d, math.NaN(), angle)
}

// InputsFrom is [Scenario.Inputs] with another laydown in place of the bowler's, unless
// it is NaN.
func (s *Scenario) InputsFrom(d Delivery, laydown, angle float64) ([]byte, error) {
	if d.Lane < 0 || d.Lane >= len(s.Lanes) || d.Ball < 0 || d.Ball >= len(s.Balls) || d.Bowler < 0 || d.Bowler >= len(s.Bowlers) {
		return nil, fmt.Errorf("scenario: there is no delivery of lane %d, bowler %d, ball %d", d.Lane, d.Bowler, d.Ball)
	}
	n := launchAngle.number
	if !(angle >= n.must(n.least.text) && angle <= n.must(n.most.text)) {
		return nil, fmt.Errorf("scenario: launch angle of %g rad is not within %s and %s", angle, n.least.text, n.most.text)
	}
	bowler := s.Bowlers[d.Bowler]
	if !math.IsNaN(laydown) {
		bowler.Release.Laydown = laydown
	}
	var o object
	if s.Title != "" {
		o = o.with("title", s.Title)
	}
	o = o.
		with("lane", s.laneInputs(d.Lane)).
		with("ball", s.ballInputs(d.Ball, s.Lanes[d.Lane].Friction.Law)).
		with("bowler", bowlerInputs(bowler, angle)).
		with("settings", settingsInputs(s.Settings, s.Visible))
	if given := rackInputs(s.Rack); len(given) > 0 {
		o = o.with("rack", given)
	}
	return marshal(o)
}

// bareNumber writes a number without a unit.
func bareNumber(v float64) json.Number { return json.Number(formatBare(v)) }

// In the units in which the trade speaks.
func inches(v float64) string  { return length.format(v, "in") }
func feet(v float64) string    { return length.format(v, "ft") }
func degrees(v float64) string { return angle.format(v, "deg") }

func (s *Scenario) laneInputs(i int) object {
	l := s.Lanes[i]
	f := object{}.with("law", string(l.Friction.Law))
	switch l.Friction.Law {
	case lane.Constant:
		f = f.with("mu", bareNumber(l.Friction.Mu))
	case lane.Zones:
		zones := []object{}
		for _, z := range l.Friction.Zones {
			var zone object
			if !math.IsInf(z.To, 1) {
				zone = zone.with("to", feet(z.To))
			}
			zones = append(zones, zone.with("mu", bareNumber(z.Mu)))
		}
		f = f.with("zones", zones)
	default:
		f = f.with("film", bareNumber(l.Friction.Film)).with("dry", bareNumber(l.Friction.Dry)).
			with("entrained", bareNumber(l.Friction.Entrained))
	}
	m := l.Measured
	return object{}.
		with("name", l.Name).
		with("oil", s.oils[i].inputs()).
		with("length", feet(l.Length)).
		with("tilt", inches(l.Tilt)).
		with("roughness", length.format(l.Roughness, "um")).
		with("friction", f).
		with("rolling_resistance", bareNumber(l.RollingResistance)).
		withMeasured(laneMeasured, m.Film, m.Dry, m.Entrained, m.Roughness)
}

// inputs writes a lane's oil: a word, or the pattern.
func (o oil) inputs() any {
	if o.word != "" {
		return o.word
	}
	p := object{}
	if o.pattern.Name != "" {
		p = p.with("name", o.pattern.Name)
	}
	if o.pattern.About != "" {
		p = p.with("about", o.pattern.About)
	}
	p = p.with("kind", o.pattern.Kind)
	if g := o.pattern.Grid; g != nil {
		distances, units := []string{}, [][]json.Number{}
		for i, d := range g.Distances {
			distances = append(distances, feet(d))
			row := []json.Number{}
			for _, u := range g.Units[i] {
				row = append(row, bareNumber(u))
			}
			units = append(units, row)
		}
		return p.with("distances", distances).with("units", units)
	}
	c := o.pattern.Crown
	span := func(r patterns.BoardRange) []int { return []int{r.From, r.To} }
	return p.with("length", feet(c.Length)).
		with("volume", volume.format(c.Volume, "mL")).
		with("ratio", bareNumber(c.Ratio)).
		with("plateau", bareNumber(c.Plateau)).
		with("shoulder", bareNumber(c.Shoulder)).
		with("front_to_back", bareNumber(c.FrontToBack)).
		with("fall_off", bareNumber(c.FallOff)).
		with("boards", object{}.with("inside", span(c.Sets.Inside)).with("outside", span(c.Sets.Outside)))
}

// ballInputs writes a ball, with its cover unless that is the usual one on a lane
// where covers have no effect, which would be warned about.
func (s *Scenario) ballInputs(i int, law lane.Law) object {
	b := s.Balls[i]
	o := object{}.
		with("name", b.Name).
		with("weight", weight.format(b.Weight, "lb")).
		with("diameter", inches(b.Diameter)).
		with("rg", inches(b.RG)).
		with("differential", inches(b.Differential)).
		with("intermediate_differential", inches(b.IntermediateDifferential))
	if law == lane.Mixed || b.Cover != defaultBall.Cover {
		o = o.with(coverKey, coverInputs(b.Cover, b.Memory))
	}
	o = o.with("roughness", length.format(b.Roughness, "uin")).
		with("games_since_finish", bareNumber(b.GamesSinceFinish)).
		with("finish_wear", object{}.
			with("toward", length.format(b.FinishWear.Toward, "uin")).
			with("games", bareNumber(b.FinishWear.Games)))
	if b.Layout != nil {
		o = o.with("layout", object{}.
			with("drilling_angle", degrees(b.Layout.DrillingAngle)).
			with("pin_to_pap", inches(b.Layout.PinToPAP)).
			with("val_angle", degrees(b.Layout.VALAngle)))
	}
	balance := object{}
	if b.Box != nil {
		o = o.with("box", boxInputs(*b.Box))
	}
	if b.Static != nil {
		balance = balance.with("side", weight.format(b.Static.Side, "oz")).
			with("finger_thumb", weight.format(b.Static.FingerThumb, "oz")).
			with("top", weight.format(b.Static.Top, "oz"))
	} else if b.Offset != [3]float64{} && (b.Box == nil || b.Box.TopWeight == nil) { // 0 where it is unknown
		var offset []string
		for _, v := range b.Offset {
			offset = append(offset, length.format(v, "mm"))
		}
		balance = balance.with("offset", offset)
	}
	m := b.Measured
	o = o.with("grip", gripInputs(s.Grips[i]))
	if len(balance) > 0 {
		o = o.with("balance", balance)
	}
	return o.
		with("contact_radius", length.format(b.ContactRadius, "mm")).
		with("film_memory", memoryInputs(b.Memory)).
		withMeasured(ballMeasured, m.PickUp, m.GiveBack, m.ContactWidth, m.ContactRadius)
}

func memoryInputs(m ball.FilmMemory) any {
	if m.Off {
		return "off"
	}
	o := object{}.
		with("pick_up", bareNumber(m.PickUp)).
		with("give_back", bareNumber(m.GiveBack)).
		with("contact_width", length.format(m.ContactWidth, "mm"))
	if m.SoakIn != 0 {
		o = o.with("soak_in", soakInText(m.SoakIn))
	}
	return o
}

func bowlerInputs(b Bowler, angle float64) object {
	r := b.Release
	return object{}.
		with("name", b.Name).
		with("hand", r.Hand.String()).
		with("pap", object{}.with("over", inches(b.PAP.Over)).with("up", inches(b.PAP.Up))).
		with("speed", speed.format(r.Speed, "mph")).
		with("rev_rate", rate.format(r.RevRate, "rpm")).
		with("axis_rotation", degrees(r.AxisRotation)).
		with("axis_tilt", degrees(r.AxisTilt)).
		with("phase", degrees(r.Phase)).
		with("laydown", bareNumber(r.Laydown)).
		with("laydown_distance", feet(r.LaydownDistance)).
		with("foot_to_ball", bareNumber(b.FootToBall)).
		with("angle", degrees(angle))
}

// settingsInputs writes the settings, the pocket by its edges: from the middle
// and half the width they would come out rounded.
func settingsInputs(s physics.Settings, v compare.Visible) object {
	tolerance := s.Tolerance
	if tolerance == 0 {
		tolerance = physics.DefaultTolerance
	}
	turn := s.HookTurn
	if turn == 0 {
		turn = physics.DefaultHookTurn
	}
	pocket := []json.Number{bareNumber(s.Pocket.Min), bareNumber(s.Pocket.Max)}
	return object{}.
		with("tolerance", bareNumber(tolerance)).
		with("pocket", pocket).
		with("good_angle", []string{degrees(s.GoodAngle.Min), degrees(s.GoodAngle.Max)}).
		with("hook_turn", degrees(turn)).
		with("visible", object{}.with("boards", bareNumber(v.Boards)).with("friction_read", feet(v.FrictionRead)))
}
