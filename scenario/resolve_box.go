package scenario

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/report"
	"lanesim/units"
)

// grossWeight uses the weight on the box as that of the ball.
func (r *reader) grossWeight(v *value, s *ball.Specification) {
	box := v.field("box")
	if !box.good("weight") {
		return
	}
	gross := box.field("weight")
	s.Weight = gross.number
	nominal := v.field("weight")
	if nominal.given && nominal.sound() && math.Abs(nominal.number-gross.number) >= units.Pound {
		r.remark(gross, "the gross weight of %s is used, not the nominal %s.", strings.TrimSpace(gross.text), strings.TrimSpace(nominal.text))
	}
	r.warnings = slices.DeleteFunc(r.warnings, func(w string) bool { return strings.HasPrefix(w, nominal.path+" is not given") })
}

// box resolves the data of the box.
func (r *reader) box(v *value, s *ball.Specification) {
	b := v.field("box")
	if !b.sound() {
		return
	}
	optional := func(v *value, key string) units.Optional {
		if !v.has(key) {
			return units.Optional{}
		}
		return units.Given(v.field(key).number)
	}
	s.Box = &ball.Box{TopWeight: optional(b, "top_weight"), PinOut: optional(b, "pin_out"), CGAngle: b.field("cg_angle").number,
		Colour: b.field("colour").text, Serial: b.field("serial").text}
	if b.has("cg") {
		cg := pap(b.field("cg"))
		s.Box.CG = &cg
	}
	if w := b.field("finished"); b.has("finished") {
		s.Box.Wanted = &ball.WantedWeights{Side: optional(w, "side"), FingerThumb: optional(w, "finger_thumb"), Top: optional(w, "top")}
	}
	if out := b.field("pin_out"); b.has("pin_out") && v.good("diameter") && out.number > math.Pi/2*s.Diameter {
		r.fail(out, fmt.Sprintf("%s is more than half the ball's circumference, %s", out.text, shown(math.Pi/2*s.Diameter)), "")
	}
	top := b.field("top_weight")
	switch {
	case !b.has("top_weight"):
		if b.has("finished") {
			r.fail(b.field("finished"), "finished weights follow only from the top weight and the place of the marked centre of gravity", "give top_weight and pin_out, or cg")
		}
	case v.has("balance"):
		r.fail(top, "balance already gives the mass centre of the finished ball: give one of the two", "")
	case s.Box.CG == nil && (!s.Box.PinOut.Given || !v.has("layout")) && top.number != 0:
		r.remark(top, "the place of the marked centre of gravity is not given (by pin_out and a layout, or by cg), so finished weights are unknown.")
	}
}

// boxInputs writes the data of a box, without the gross weight, which is the ball's.
func boxInputs(b ball.Box) report.Object {
	given := func(o report.Object, key string, v units.Optional, s *shape) report.Object {
		if !v.Given {
			return o
		}
		return quantities{{key, &v.Value}}.write(o, s)
	}
	o := given(given(nil, "top_weight", b.TopWeight, boxShape), "pin_out", b.PinOut, boxShape)
	if b.CG != nil {
		o = o.With("cg", papNumbers(b.CG).write(nil, papShape))
	} else {
		o = o.With("cg_angle", degrees(b.CGAngle))
	}
	o = withText(withText(o, "colour", b.Colour), "serial", b.Serial)
	if w := b.Wanted; w != nil {
		finished := given(report.Object{}, "side", w.Side, balanceShape)
		finished = given(given(finished, "finger_thumb", w.FingerThumb, balanceShape), "top", w.Top, balanceShape)
		o = o.With("finished", finished)
	}
	return o
}

// unusual warns about marks that a shop would question.
func (r *reader) unusual(l *value, layout ball.Layout, radius float64) {
	remark := func(is bool, key, what string) {
		if f := l.field(key); is {
			r.remark(f, "%s is unusual: %s.", strings.TrimSpace(f.text), what)
		}
	}
	const right = math.Pi / 2
	remark(layout.DrillingAngle < 0, "drilling_angle", "the PSA, or the mark in its place, lies on the other side of the line from pin to PAP")
	remark(layout.DrillingAngle > right, "drilling_angle", "the PSA, or the mark in its place, lies farther from the PAP than a quarter of the ball")
	remark(layout.VALAngle < 0, "val_angle", "the pin lies on the far side of the vertical axis line, away from the grip")
	remark(layout.VALAngle > right, "val_angle", "the pin lies below the PAP")
	remark(layout.PinToPAP > right*radius, "pin_to_pap", "more than a quarter of the ball")
}

// unusualPAP warns about a PAP that a fitter would measure again.
func (r *reader) unusualPAP(v *value, p ball.PAP) {
	for _, c := range []struct {
		key string
		bad bool
	}{{"over", p.Over < 3*units.Inch || p.Over > 6.75*units.Inch}, {"up", math.Abs(p.Up) > 2*units.Inch}} {
		if f := v.field(c.key); c.bad && f.given && f.sound() {
			r.remark(f, "%s is unusual for a PAP: measure it again.", strings.TrimSpace(f.text))
		}
	}
}

// Written has the quantities of a ball or a bowler as written in the file, by the path of
// the field within it: "grip.thumb.diameter" is "61/64 in". It has no defaults.
type Written map[string]string

// written collects the quantities written in a value.
func (v *value) written() Written {
	w := Written{}
	v.any(func(x *value) bool {
		if path := strings.TrimPrefix(x.path, v.path+"."); x.given && !x.bad && x.text != "" && x.word == "" && !strings.Contains(path, "[") {
			w[path] = strings.TrimSpace(x.text)
		}
		return false
	})
	return w
}
