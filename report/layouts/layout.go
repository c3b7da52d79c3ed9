package layouts

import (
	"io"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/ball/rules"
	"lanesim/report"
)

// Layout is a ball with its layout for a bowler, and the tracks of its shots.
type Layout struct {
	Ball, Bowler  string // names
	Specification ball.Specification
	Drilling      ball.Drilling
	Verdicts      []rules.Verdict
	CentreMoved   float64 // m, displacement of the mass centre by drilling
	Flares        []Flare // one for each lane

	Written    Written
	Plans      []ball.Plan // for the finished weights wanted
	Clearances []Clearance
}

// lengths returns a length, given in m, in inches and in mm; null if it does not exist.
func lengths(key string, m float64) report.Object {
	return report.ObjectOf(key+"_in", report.Inch.In(m), key+"_mm", report.Millimetre.In(m))
}

// marks returns the places of low-RG and high-RG axis relative to PAP and grip, by angles and by distances
// along the surface. A given layout is written as it was, without the rounding of a computation through the
// axes.
func (l Layout) marks(s ball.State, given *ball.Layout) report.Object {
	m, d := s.Measures, l.Drilling
	layout, defined := s.Frame.Layout(d.Hand, d.Radius)
	if given != nil {
		layout = *given
	}
	drilling, val, psa := math.NaN(), math.NaN(), math.NaN()
	if defined {
		drilling, val = layout.DrillingAngle, layout.VALAngle
	}
	if angle, ok := PSAAngle(s.Frame); ok {
		psa = angle
	}
	pin := "above"
	if m.Distances.Below {
		pin = "below"
	}
	return report.ObjectOf(
		"drilling_angle_deg", report.Degree.In(drilling), lengths("pin_to_pap", layout.PinToPAP), "val_angle_deg", report.Degree.In(val),
		lengths("psa_to_pap", m.Distances.PSAToPAP), lengths("pin_to_val", m.Distances.PinToVAL), "pin", pin,
		"val_to_psa_angle_deg", report.Degree.In(psa),
		lengths("pin_to_grip", m.PinToGrip), lengths("psa_to_grip", m.PSAToGrip), lengths("psa_to_thumb", m.PSAToThumb.OrNaN()),
	)
}

// place returns a point on the ball, from the centre of the grip: over toward the bowler's axis side, up
// toward the fingers.
func place(over, up float64) report.Object {
	return report.ObjectOf(lengths("over", over), lengths("up", up))
}

// placeAt returns the place of a direction in grip axes, whose Y points right.
func placeAt(v r3.Vec, d ball.Drilling) report.Object {
	if d.Hand == ball.Left {
		v.Y = -v.Y
	}
	q := ball.SurfacePointOf(v, d.Radius)
	return place(q.Over, q.Up)
}

func holeObject(h ball.DrilledHole, d ball.Drilling) report.Object {
	var insert report.Object
	if i := h.Insert; i != nil {
		outer := i.Outer
		if outer == 0 {
			outer = h.Diameter // by default an insert fills its hole
		}
		const grams = 1000 // in a kg; a g/cm³ is as many kg/m³
		insert = report.ObjectOf(lengths("outer", outer), lengths("inner", i.Inner), lengths("length", i.Length), "density_g_cm3", i.Density/grams)
	}
	return report.ObjectOf(
		"finger", h.Name, lengths("diameter", h.Diameter), lengths("depth", h.Depth),
		lengths("forward_pitch", h.Forward), lengths("lateral_pitch", h.Lateral), // toward the side of the PAP
		"mouth", placeAt(h.Mouth, d), "insert", insert,
	)
}

// gripObject returns a grip; one given hole by hole has no kind.
func gripObject(d ball.Drilling) report.Object {
	g := d.Grip
	var kind any
	if g.Kind != ball.CustomGrip {
		kind = g.Kind
	}
	middle, ring, bridge := math.NaN(), math.NaN(), math.NaN()
	middleFitted, ringFitted := math.NaN(), math.NaN()
	if g.Thumb != nil {
		middle, ring = g.MiddleSpan, g.RingSpan
		middleFitted, ringFitted = g.Fitted()
	}
	if g.Middle != nil {
		bridge = g.Bridge
	}
	holes := report.Each(d.Holes, func(h ball.DrilledHole) report.Object { return holeObject(h, d) })
	return report.ObjectOf("kind", kind, lengths("middle_span", middle), lengths("ring_span", ring),
		lengths("middle_fitted_span", middleFitted), lengths("ring_fitted_span", ringFitted), lengths("bridge", bridge), "holes", holes)
}

// massObject returns the mass properties of a ball before or after drilling. The components of the mass
// centre are toward the grip, right, toward the fingers. Unknown static weights are null.
func massObject(s ball.State, weightsKnown bool) report.Object {
	k, c, w := s.RadiiOfGyration, s.Centre, s.Static
	if !weightsKnown {
		w = ball.StaticWeights{Side: math.NaN(), FingerThumb: math.NaN(), Top: math.NaN()}
	}
	return report.ObjectOf(
		"weight_lb", report.Pound.In(s.Mass), "weight_kg", s.Mass,
		lengths("rg_low", k[0]), lengths("rg_intermediate", k[1]), lengths("rg_high", k[2]),
		lengths("differential", s.Differential()), lengths("intermediate_differential", s.IntermediateDifferential()),
		"static_side_oz", report.Ounce.In(w.Side), "static_finger_thumb_oz", report.Ounce.In(w.FingerThumb), "static_top_oz", report.Ounce.In(w.Top),
		"mass_centre_mm", []float64{report.Millimetre.In(c.X), report.Millimetre.In(c.Y), report.Millimetre.In(c.Z)},
	)
}

// changeObject returns the changes by drilling, without moves of axes that the undrilled ball does not have.
func (l Layout) changeObject() report.Object {
	const grams = 1000 // in a kg
	d := l.Drilling
	pin, psa := math.NaN(), math.NaN()
	if l.Specification.Layout != nil {
		pin, psa = d.PinMoved, d.PSAMoved
	}
	return report.ObjectOf(
		"removed_oz", report.Ounce.In(d.Removed), "removed_g", d.Removed*grams,
		"put_back_oz", report.Ounce.In(d.PutBack), "put_back_g", d.PutBack*grams,
		lengths("pin_moved", pin), lengths("psa_moved", psa), "mass_centre_moved_mm", report.Millimetre.In(l.CentreMoved),
	)
}

// object returns a flare, with null if there was no shot.
func (f Flare) object(d ball.Drilling) report.Object {
	var status, failure, oiled any = nil, f.Why, nil
	flare, inOil, revolutions := math.NaN(), math.NaN(), math.NaN()
	turns, bowTies := report.List{}, report.List{}
	if f.Shot != nil {
		u := f.Shot.Summary
		status, failure, oiled = f.Shot.Status, nil, f.Oiled
		flare, inOil, revolutions = u.Flare, u.FlareOil, u.Revolutions
		for i, t := range f.Turns {
			turns = append(turns, report.ObjectOf("turn", i+1, "oily", t.Oiled, lengths("spacing", t.Spacing)))
		}
		bowTies = report.Each(f.BowTies, func(b BowTie) report.Object {
			return report.ObjectOf(placeAt(b.Place, d), "crossings", b.Crossings, lengths("scatter", b.Scatter))
		})
	}
	return report.ObjectOf(
		"lane", f.Lane, "status", status, "failure", failure, lengths("flare", flare), lengths("flare_oil", inOil),
		"revolutions", revolutions, "oily_film_um", report.Micrometre.In(OilyFilm), "oily_turns", oiled, "turns", turns, "bow_ties", bowTies,
		"tolerances", tolerancesObject(f.Tolerances),
	)
}

func (l Layout) object() report.Object {
	d := l.Drilling
	var layout, drilled report.Object
	if l.Specification.Layout != nil {
		layout = l.marks(d.Before, l.Specification.Layout)
	}
	if l.Specification.Layout != nil || len(d.Holes) > 0 {
		drilled = l.marks(d.After, nil)
	}
	return report.ObjectOf(
		"ball", l.Ball, "bowler", l.Bowler, "hand", d.Hand.String(), lengths("diameter", l.Specification.Diameter),
		"pap", place(d.PAP.Over, d.PAP.Up), "layout", layout, "drilled", drilled, "grip", gripObject(d),
		"before", massObject(d.Before, d.WeightsKnown), "after", massObject(d.After, d.WeightsKnown), "change", l.changeObject(),
		"verdicts", report.Each(l.Verdicts, func(v rules.Verdict) report.Object {
			return report.ObjectOf("name", v.Name, "value", v.Value, "unit", v.Unit, "limit", v.Limit, "verdict", v.Verdict, "note", v.Note)
		}),
		"flare", report.Each(l.Flares, func(f Flare) report.Object { return f.object(d) }),
		"box", l.boxObject(), "hole_weights", report.Each(d.Weights, func(h ball.HoleWeight) report.Object {
			return report.ObjectOf("finger", h.Name, "removed_oz", report.Ounce.In(h.Removed), "put_back_oz", report.Ounce.In(h.PutBack), weightsObject(h.Change))
		}),
		"plans", report.Each(l.Plans, planObject), "clearances", report.Each(l.Clearances, clearanceObject),
	)
}

// WriteLayouts writes layouts as JSON, with a line for each.
func WriteLayouts(to io.Writer, warnings []string, balls []Layout) error {
	l := rules.Listed()
	return report.WriteResult(to, warnings,
		report.ObjectOf("limits", report.ObjectOf("edition", l.Edition, "mark", l.Mark, "caution", l.Caution),
			"cautions", LayoutCautions(), "layouts", report.Lines(report.Each(balls, Layout.object)))...)
}

// LayoutCautions returns the cautions of every sheet.
func LayoutCautions() []string {
	l := rules.Listed()
	return []string{
		"Limits listed: " + l.Edition + " (" + l.Mark + "). " + l.Caution,
		"Drilling is work for a trained shop: clamped ball, dust extraction, respirator, eye protection, hands off the moving bit; follow the maker's instructions. A ball can be drilled once: check the layout before the drill turns.",
		"Ill-fitting grips and heavy balls injure thumb, fingers and wrist: have spans, pitches and sizes checked on the hand by a qualified fitter.",
	}
}

// boxObject returns the data on the box, nil without a box.
func (l Layout) boxObject() report.Object {
	b := l.Specification.Box
	if b == nil {
		return nil
	}
	var cg report.Object // null if its place is unknown
	if n, ok := l.Specification.MarkedCG(l.Drilling.Before.Frame, l.Drilling.Hand); ok {
		cg = placeAt(n, l.Drilling)
	}
	return report.ObjectOf(
		"weight_lb", report.Pound.In(l.Specification.Weight), "weight", l.Written.Ball["box.weight"], // as it was written
		"top_weight_oz", report.Ounce.In(b.TopWeight.OrNaN()), lengths("pin_out", b.PinOut.OrNaN()), "cg", cg,
		"colour", b.Colour, "serial", b.Serial,
	)
}

func weightsObject(w ball.StaticWeights) report.Object {
	return report.ObjectOf("side_oz", report.Ounce.In(w.Side), "finger_thumb_oz", report.Ounce.In(w.FingerThumb), "top_oz", report.Ounce.In(w.Top))
}

// planObject returns a plan: a grip that comes near the finished weights wanted.
func planObject(p ball.Plan) report.Object {
	by := "depths"
	if p.Means == ball.ByPitches {
		by = "pitches"
	}
	holes := report.List{}
	for i, h := range []*ball.Hole{p.Grip.Middle, p.Grip.Ring, p.Grip.Thumb} {
		if h != nil {
			holes = append(holes, report.ObjectOf("finger", []string{"middle", "ring", "thumb"}[i], lengths("depth", h.Depth), lengths("forward_pitch", h.Forward), lengths("lateral_pitch", h.Lateral)))
		}
	}
	return report.ObjectOf("by", by, "holes", holes, weightsObject(p.Weights), "missed_oz", report.Ounce.In(p.Missed))
}

// clearanceObject returns a clearance, without a lane if it does not depend on the shot. The least distances
// are assumed.
func clearanceObject(c Clearance) report.Object {
	var lane any
	if c.Lane != "" {
		lane = c.Lane
	}
	return report.ObjectOf(
		"kind", c.Kind, "lane", lane, "what", c.What, lengths("distance", c.Distance), lengths("least", c.Least),
		lengths("first_track", c.First), lengths("last_track", c.Last), "short", c.short(),
	)
}
