package layouts

import (
	"fmt"
	"math"
	"strings"

	"lanesim/ball"
	"lanesim/units"
)

// turning names the sense of rotation, seen at a point of the ball from outside.
func turning(counterclockwise bool) string {
	if counterclockwise {
		return "counter-clockwise"
	}
	return "clockwise"
}

// markingSteps returns the steps of marking a ball in order, with distances along lines drawn before. Angles
// are set with a protractor on the ball at the pin and at the PAP, or by the distances with a tape that
// follow them.
func markingSteps(l Layout) []Step {
	var list []Step
	if l.Specification.Layout != nil {
		list = layoutSteps(l)
	} else {
		list = []Step{{Name: "Grip centre", How: "no layout: " + gripCentreAt(l) + " Draw the centre line of the grip through it, and the midline at right angles."}}
	}
	return append(list, holeSteps(l)...)
}

func gripCentreAt(l Layout) string {
	if n, ok := l.Specification.MarkedCG(l.Drilling.Before.Frame, l.Drilling.Hand); ok {
		place := placeText(ball.SurfacePointOf(n, l.Drilling.Radius))
		if place == "0 in, 0 in" {
			return "mark the centre of the grip on the marked CG."
		}
		return "mark the centre of the grip so that the marked CG lies " + place + " of it, as seen with the fingers up."
	}
	return "mark the centre of the grip where it is to be, as a rule over the marked CG."
}

// layoutSteps returns the steps from pin and PSA, which the maker has marked, to the centre of the grip.
func layoutSteps(l Layout) []Step {
	d, w := l.Drilling, l.Written
	right := d.Hand == ball.Right
	layout := *l.Specification.Layout
	quarter := marked(math.Pi / 2 * d.Radius)
	tape := func(angle float64) string { return sized("", math.Abs(angle)*d.Radius, drilledParts) }
	line, second := "line pin–PSA", Step{Name: "PSA", How: "find its mark, " + quarter + " (90°) from the pin, and draw the line pin–PSA."}
	if l.Symmetric() {
		line = "CG line"
		second = Step{Name: "CG line", How: "draw the line from the pin through the marked CG, on to " + quarter + " (90°) from the pin."}
		if b := l.Specification.Box; b != nil && b.CG == nil && b.CGAngle != 0 {
			second.How = fmt.Sprintf("at the pin, turn %s %s from the line to the marked CG and draw the line, on to %s (90°) from the pin.",
				angled("", math.Abs(b.CGAngle)), turning(right == (b.CGAngle > 0)), quarter)
		}
	}
	up, over := d.PAP.Up, d.PAP.Over
	upWay, overWay := "away from the fingers' end", otherSide(d.Hand)
	if up < 0 {
		upWay = "toward the fingers' end"
	}
	if over < 0 {
		overWay = axisSide(d.Hand)
	}
	unsigned := func(written string, v float64) string {
		return sized(strings.TrimLeft(written, "-+"), math.Abs(v), markedParts) + markIf(w.papAssumed())
	}
	m := d.Before.Measures
	return []Step{
		{Name: "Pin", How: "find its mark: every line starts here."},
		second,
		{Name: "Drilling angle", Value: angled(strings.TrimLeft(w.Ball["layout.drilling_angle"], "-+"), math.Abs(layout.DrillingAngle)),
			How: fmt.Sprintf("at the pin, turn %s from the %s, and draw the line to the PAP. By the tape: %s along the circle %s from the pin.",
				turning(right == (layout.DrillingAngle >= 0)), line, tape(layout.DrillingAngle), quarter)},
		{Name: "Pin to PAP", Value: sized(w.Ball["layout.pin_to_pap"], layout.PinToPAP, markedParts), How: "along that line; mark the PAP."},
		{Name: "VAL angle", Value: angled(strings.TrimLeft(w.Ball["layout.val_angle"], "-+"), math.Abs(layout.VALAngle)),
			How: fmt.Sprintf("at the PAP, turn %s from the line to the pin, and draw the VAL; this is its fingers' end. By the tape: %s along the circle %s from the PAP.",
				turning(right != (layout.VALAngle >= 0)), tape(layout.VALAngle), quarter)},
		{Name: "Midline, PAP up", Value: unsigned(w.Bowler["pap.up"], up), How: "from the PAP along the VAL, " + upWay + "; draw the midline there at right angles to the VAL."},
		{Name: "Grip centre, PAP over", Value: unsigned(w.Bowler["pap.over"], over), How: "from the VAL along the midline, to the " + overWay + " as seen with the fingers up; draw the centre line there at right angles to the midline."},
		{Name: "Check with the tape", How: fmt.Sprintf("pin to grip centre %s; %s to PAP %s; pin to VAL %s.", fractionOf(m.PinToGrip, markedParts), reference(l),
			size(w.Ball["layout.psa_to_pap"], m.Distances.PSAToPAP, markedParts), size(w.Ball["layout.pin_to_val"], m.Distances.PinToVAL, markedParts))},
	}
}

// holeSteps returns the steps from the centre of the grip to the holes.
func holeSteps(l Layout) []Step {
	d, w := l.Drilling, l.Written
	g := d.Grip
	if g.Middle == nil {
		return []Step{{Name: "Holes", How: "none are drilled."}}
	}
	middleSide := otherSide(d.Hand)
	bridge := given(w.Ball["grip.bridge"], g.Bridge)
	pitches := Step{Name: "Pitches", How: "drill as in the table of holes; forward is toward the other end of the grip, left and right are as seen with the fingers up."}
	if g.Thumb == nil {
		middles := (g.Middle.Diameter + g.Ring.Diameter + 2*g.Bridge) / 4
		return []Step{
			{Name: "Finger holes", Value: sized("", middles, drilledParts), How: fmt.Sprintf("from the grip centre along the midline to each side: the middles of the finger holes, the middle finger's to the %s. The bridge between their edges is %s.", middleSide, bridge)},
			pitches,
		}
	}
	half := (g.MiddleSpan + g.RingSpan) / 4
	return []Step{
		{Name: "Thumb hole", Value: sized("", half, halfway), How: "from the grip centre along the centre line, away from the fingers' end: the near edge of the thumb hole (half the mean cut span" + between(half) + "). Its middle is half its diameter further."},
		{Name: "Cut spans", Value: cutSpans(l), How: fmt.Sprintf("from that hole's edge to the edges of the finger holes, on lines from its middle, the middle finger's to the %s; the centre line runs midway between the middles of both holes.", middleSide)},
		{Name: "Bridge", Value: bridge, How: "between the edges of the finger holes, both on their span lines: swing the spans until it fits."},
		pitches,
	}
}

func cutSpans(l Layout) string {
	g, w := l.Drilling.Grip, l.Written
	middle, ring := w.span("span", "middle", g.MiddleSpan), w.span("span", "ring", g.RingSpan)
	return "middle " + strings.TrimSuffix(middle, assumedSize) + ", ring " + ring // both are assumed, or none
}

// between explains how to find a distance in 128ths on a tape.
func between(length float64) string {
	if text := fractionOf(length, halfway); strings.Contains(text, "/128") {
		return "; a 128th is midway between two 64ths"
	}
	return ""
}

func layoutForms(l Layout) []Row {
	if l.Specification.Layout == nil {
		return []Row{{Name: "Layout", Value: "none: equal moments"}}
	}
	w, m, layout := l.Written.Ball, l.Drilling.Before.Measures, *l.Specification.Layout
	forms := []Row{
		{Name: "Layout by angles", Value: fmt.Sprintf("drilling angle %s × pin to PAP %s × VAL angle %s", angled(w["layout.drilling_angle"], layout.DrillingAngle),
			size(w["layout.pin_to_pap"], layout.PinToPAP, markedParts), angled(w["layout.val_angle"], layout.VALAngle))},
		{Name: "By distances", Value: fmt.Sprintf("pin to PAP %s, %s to PAP %s, pin to VAL %s", size(w["layout.pin_to_pap"], layout.PinToPAP, markedParts), reference(l),
			size(w["layout.psa_to_pap"], m.Distances.PSAToPAP, markedParts), size(w["layout.pin_to_val"], m.Distances.PinToVAL, markedParts))},
	}
	forms[1].Value += pinSide(m.Distances) + otherSides(layout)
	return forms
}

// pinSide returns the side of the midline through the PAP on which the pin lies, if it is known.
func pinSide(d ball.DistanceLayout) string {
	switch {
	case d.Below:
		return ", pin below"
	case d.PinToVAL > units.Inch/64:
		return ", pin above"
	}
	return ""
}

// otherSides describes what distances leave open: that the pin lies beyond the VAL as seen from the grip, or
// that the drilling angle turns the other way.
func otherSides(layout ball.Layout) string {
	text := ""
	if math.Sin(layout.VALAngle) < -1e-9 {
		text += ", beyond the VAL as seen from the grip"
	}
	if math.Sin(layout.DrillingAngle) < -1e-9 {
		text += "; the drilling angle turns the other way: mark it by angles"
	}
	return text
}
