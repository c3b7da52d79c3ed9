package scenario

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/ball/rules"
	"lanesim/report"
)

// The numbers of a grip and its parts with their keys.
func gripNumbers(g *ball.Grip) quantities {
	return quantities{{"bridge", &g.Bridge}, {"shell_density", &g.ShellDensity}}
}

func spanNumbers(g *ball.Grip) quantities {
	return quantities{{"middle", &g.MiddleSpan}, {"ring", &g.RingSpan}}
}

func holeNumbers(h *ball.Hole) quantities {
	return quantities{{"diameter", &h.Diameter}, {"depth", &h.Depth}, {"forward", &h.Forward}, {"lateral", &h.Lateral}}
}

func insertNumbers(i *ball.Insert) quantities {
	return quantities{{"inner", &i.Inner}, {"length", &i.Length}, {"density", &i.Density}}
}

// grip resolves a grip.
func (r *reader) grip(v *value) ball.Grip {
	switch {
	case !v.sound():
		return ball.Grip{}
	case v.form == nil:
		g, err := ball.NewGrip(ball.GripKind(v.word))
		if err != nil {
			panic("scenario: " + err.Error()) // the words are the names that there are
		}
		return g
	}
	g := ball.Grip{Kind: ball.CustomGrip, Middle: hole(v.field("middle")), Ring: hole(v.field("ring")), Thumb: hole(v.field("thumb"))}
	gripNumbers(&g).read(v)
	span := v.field("span")
	if v.has("fitted_span") {
		span = v.field("fitted_span")
	}
	if g.MiddleSpan, g.RingSpan = span.number, span.number; span.form != nil {
		spanNumbers(&g).read(span)
	}
	if v.has("fitted_span") && g.Thumb != nil {
		middle, ring := g.Fitted()
		g.MiddleSpan, g.RingSpan = g.MiddleSpan-(middle-g.MiddleSpan), g.RingSpan-(ring-g.RingSpan)
		if g.MiddleSpan <= 0 || g.RingSpan <= 0 {
			r.fail(span, "leaves no cut span: the inserts are thicker than the fitted span", "")
		}
	}
	return g
}

// hole resolves a hole, nil for none.
func hole(v *value) *ball.Hole {
	if v.form == nil {
		return nil
	}
	h := &ball.Hole{Oval: v.field("oval").text, Bevel: v.field("bevel").text}
	holeNumbers(h).read(v)
	if v.has("reverse") {
		h.Forward = -v.field("reverse").number
	}
	if i := v.field("insert"); i.form != nil {
		h.Insert = &ball.Insert{Outer: i.field("outer").number}
		insertNumbers(h.Insert).read(i)
	}
	return h
}

// lateralSides resolves lateral pitches to the left or right, which depend on the hand. It
// returns false if the bowlers' hands differ.
func (r *reader) lateralSides(v *value, g ball.Grip, bowlers []Bowler) bool {
	if v.form == nil {
		return true
	}
	sound := true
	for name, h := range map[string]*ball.Hole{"middle": g.Middle, "ring": g.Ring, "thumb": g.Thumb} {
		for key, sign := range map[string]float64{"left": -1, "right": 1} {
			if h == nil || !v.field(name).has(key) {
				continue
			}
			if slices.ContainsFunc(bowlers, func(b Bowler) bool { return b.Release.Hand != bowlers[0].Release.Hand }) {
				r.fail(v.field(name).field(key), "is a different pitch for each hand, and the scenario has bowlers of both hands", "write `lateral`: it is toward the side of the PAP")
				sound = false
			}
			if h.Lateral = sign * v.field(name).field(key).number; bowlers[0].Release.Hand == ball.Left {
				h.Lateral = -h.Lateral
			}
		}
	}
	return sound
}

// drills drills the balls for every bowler. It reports grips that cannot be drilled, and
// warns about values outside the limits listed, unless their field has a warning already.
func (r *reader) drills(s *Scenario, balls []*value) {
	if r.err() != nil {
		return // values may be bad
	}
	for i, v := range balls {
		if !r.lateralSides(v.field("grip"), s.Grips[i], s.Bowlers) {
			continue
		}
		reported := map[string]bool{}
		for _, b := range s.Bowlers {
			drilled, drilling, err := s.Balls[i].Drill(b.PAP, b.Release.Hand, s.Grips[i])
			if err != nil {
				r.undrillable(v, err)
				break
			}
			if offset := drilled.OffsetLength(); offset > ball.MostOffset && v.has("balance") {
				r.complain(v, v.field("balance"), fmt.Sprintf("puts the mass centre %s from the middle of the ball; %s is the most allowed", shown(offset), shown(ball.MostOffset)))
				break
			}
			if err := drilled.Validate(); err != nil {
				r.complain(v, v, strings.ReplaceAll(err.Error(), "ball: ", "the drilled ball's "))
				break
			}
			for _, verdict := range rules.Check(s.Balls[i], drilling) {
				if verdict.Verdict == rules.Within || verdict.Verdict == rules.Unknown || reported[verdict.Name] || r.warnedAbout(v, verdict.Name) {
					continue
				}
				reported[verdict.Name] = true
				size := strings.TrimSpace(fmt.Sprintf("%.4g %s", verdict.Value, verdict.Unit))
				r.remark(v, "%s of %s is outside the limits listed (%s).", strings.ReplaceAll(verdict.Name, "_", " "), size, verdict.Limit)
			}
		}
	}
}

// warnedAbout reports whether reading a field of the file already warns about the limit.
// The circumference is covered by the diameter.
func (r *reader) warnedAbout(v *value, limit string) bool {
	switch limit {
	case "circumference":
		return true
	case "roughness": // may follow from a finish or wear
		return v.has("roughness") && !v.has("finish") && v.field("games_since_finish").number == 0
	case "static_side", "static_finger_thumb", "static_top":
		return v.field("balance").has(strings.TrimPrefix(limit, "static_"))
	}
	return slices.Contains(v.form.keys(), limit)
}

// undrillable reports a grip that cannot be drilled.
func (r *reader) undrillable(v *value, err error) {
	at := v.field("grip")
	wrong := (*ball.GripError)(nil)
	if !errors.As(err, &wrong) {
		r.complain(v, at, strings.TrimPrefix(err.Error(), "ball: "))
		return
	}
	for _, key := range strings.Split(wrong.Field, ".") {
		if !at.has(key) {
			break
		}
		at = at.field(key)
	}
	r.complain(v, at, wrong.Rule)
}

// gripInputs writes a grip: its name, or every hole.
func gripInputs(g ball.Grip) any {
	if g.Kind != ball.CustomGrip {
		return string(g.Kind)
	}
	o := report.ObjectOf("span", spanNumbers(&g).write(nil, spanShape))
	o = gripNumbers(&g).write(o, gripShape).With("middle", holeInputs(*g.Middle), "ring", holeInputs(*g.Ring))
	if g.Thumb == nil {
		return o.With("thumb", none)
	}
	return o.With("thumb", holeInputs(*g.Thumb))
}

func holeInputs(h ball.Hole) report.Object {
	thumb := gripShape.field("thumb").shape // all holes and inserts are written alike
	o := withText(withText(holeNumbers(&h).write(nil, thumb), "oval", h.Oval), "bevel", h.Bevel)
	if h.Insert == nil {
		return o.With("insert", none)
	}
	var outer report.Object
	if h.Insert.Outer != 0 {
		outer = report.ObjectOf("outer", inches(h.Insert.Outer))
	}
	return o.With("insert", insertNumbers(h.Insert).write(outer, thumbInsert))
}
