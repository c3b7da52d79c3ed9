package scenario

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/units"
)

// grossWeight takes the weight on the box for that of the ball.
func (r *reader) grossWeight(v *value, s *ball.Specification) {
	box := v.field("box")
	if !box.good("weight") {
		return
	}
	gross := box.field("weight")
	s.Weight = gross.number
	nominal := v.field("weight")
	if nominal.given && nominal.sound() && math.Abs(nominal.number-gross.number) >= units.Pound {
		r.warnings = append(r.warnings, fmt.Sprintf("%s: the gross weight of %s is taken, not the nominal %s.", gross.path,
			strings.TrimSpace(gross.text), strings.TrimSpace(nominal.text)))
	}
	r.warnings = slices.DeleteFunc(r.warnings, func(w string) bool { return strings.HasPrefix(w, nominal.path+" is not given") })
}

// box resolves what the box says.
func (r *reader) box(v *value, s *ball.Specification) {
	b := v.field("box")
	if !b.sound() {
		return
	}
	optional := func(v *value, key string) *float64 {
		if !v.has(key) {
			return nil
		}
		n := v.field(key).number
		return &n
	}
	s.Box = &ball.Box{TopWeight: optional(b, "top_weight"), PinOut: optional(b, "pin_out")}
	if b.has("colour") {
		s.Box.Colour = b.field("colour").text
	}
	if b.has("serial") {
		s.Box.Serial = b.field("serial").text
	}
	if b.has("cg_angle") {
		s.Box.CGAngle = b.field("cg_angle").number
	}
	if cg := b.field("cg"); b.has("cg") {
		s.Box.CG = &ball.PAP{Over: cg.field("over").number, Up: cg.field("up").number}
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
		r.fail(top, "balance gives the mass centre of the finished ball already: give one of the two", "")
	case s.Box.CG == nil && (s.Box.PinOut == nil || !v.has("layout")) && top.number != 0:
		r.warnings = append(r.warnings, fmt.Sprintf("%s: where the marked centre of gravity lies is not said (by pin_out and a layout, or by cg), so finished weights stay unknown.", top.path))
	}
}

// boxInputs writes what a box says, without the gross weight, which is the ball's.
func boxInputs(b ball.Box) object {
	var o object
	add := func(key string, d *dimension, v *float64, unit string) {
		if v != nil {
			o = o.with(key, d.format(*v, unit))
		}
	}
	add("top_weight", weight, b.TopWeight, "oz")
	add("pin_out", length, b.PinOut, "in")
	if b.CG != nil {
		o = o.with("cg", object{}.with("over", inches(b.CG.Over)).with("up", inches(b.CG.Up)))
	} else {
		add("cg_angle", angle, &b.CGAngle, "deg")
	}
	if b.Colour != "" {
		o = o.with("colour", b.Colour)
	}
	if b.Serial != "" {
		o = o.with("serial", b.Serial)
	}
	if w := b.Wanted; w != nil {
		all := o
		o = object{}
		add("side", weight, w.Side, "oz")
		add("finger_thumb", weight, w.FingerThumb, "oz")
		add("top", weight, w.Top, "oz")
		o = all.with("finished", o)
	}
	return o
}

// unusual remarks on marks that a shop would ask about.
func (r *reader) unusual(l *value, layout ball.Layout, radius float64) {
	remark := func(key, what string) {
		f := l.field(key)
		r.warnings = append(r.warnings, fmt.Sprintf("%s: %s is unusual: %s.", f.path, strings.TrimSpace(f.text), what))
	}
	const right = math.Pi / 2
	if a := layout.DrillingAngle; a < 0 {
		remark("drilling_angle", "the PSA, or the mark in its place, lies on the other side of the line from pin to PAP")
	} else if a > right {
		remark("drilling_angle", "the PSA, or the mark in its place, lies farther from the PAP than a quarter of the ball")
	}
	if a := layout.VALAngle; a < 0 {
		remark("val_angle", "the pin lies on the far side of the vertical axis line, away from the grip")
	} else if a > right {
		remark("val_angle", "the pin lies below the PAP")
	}
	if layout.PinToPAP > right*radius {
		remark("pin_to_pap", "more than a quarter of the ball")
	}
}

// unusualPAP remarks on an axis point that a fitter would measure again.
func (r *reader) unusualPAP(v *value, p ball.PAP) {
	for _, c := range []struct {
		key string
		bad bool
	}{{"over", p.Over < 3*units.Inch || p.Over > 6.75*units.Inch}, {"up", math.Abs(p.Up) > 2*units.Inch}} {
		if f := v.field(c.key); c.bad && f.given && f.sound() {
			r.warnings = append(r.warnings, fmt.Sprintf("%s: %s is unusual for a PAP: measure it again.", f.path, strings.TrimSpace(f.text)))
		}
	}
}

// Written holds the quantities of a ball or a bowler as they were written, by the
// path of their field within it: "grip.thumb.diameter" is "61/64 in". What is a
// default is not in it.
type Written map[string]string

// written collects what was written in a value.
func (v *value) written() Written {
	w := Written{}
	var collect func(v *value)
	collect = func(x *value) {
		if x.given && !x.bad && x.text != "" && x.word == "" {
			w[strings.TrimPrefix(x.path, v.path+".")] = strings.TrimSpace(x.text)
		}
		for _, f := range x.fields {
			collect(f)
		}
	}
	collect(v)
	return w
}
