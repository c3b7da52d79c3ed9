package layouts

import (
	"cmp"
	"math"
	"strings"

	"lanesim/ball"
	"lanesim/ball/rules"
	"lanesim/report"
	"lanesim/units"
)

// unknown is the word for a weight that is not known.
const unknown = string(rules.Unknown)

func ounces(v float64) string { return report.Ounce.Show(v) }

// signed formats ounces with their sign.
func signed(v float64) string { return report.Signed(report.Ounce.In(v), report.Ounce.Decimals) }

func weightsText(w ball.StaticWeights) string {
	return signed(w.Side) + "; " + signed(w.FingerThumb) + "; " + signed(w.Top)
}

func boxSection(l Layout) Section {
	s := Section{Heading: "Box"}
	b := l.Specification.Box
	if b == nil {
		return s
	}
	w := l.Written.Ball
	s.add("gross weight", tidied(cmp.Or(w["box.weight"], w["weight"], report.Pound.Show(l.Specification.Weight)+" lb")))
	top, out := unknown, unknown
	if b.TopWeight.Given {
		top = writtenOr(w["box.top_weight"], ounces(b.TopWeight.Value)+" oz")
	}
	if b.PinOut.Given {
		out = sized(w["box.pin_out"], b.PinOut.Value, markedParts)
	}
	s.add("top weight", top)
	s.add("pin-out", out)
	if n, ok := l.Specification.MarkedCG(l.Drilling.Before.Frame, l.Drilling.Hand); ok {
		s.add("marked CG from the grip centre", placeText(ball.SurfacePointOf(n, l.Drilling.Radius)))
	}
	s.addSaid("colour", b.Colour)
	s.addSaid("serial", b.Serial)
	return s
}

// writtenOr returns a text as written in the scenario or, if it is missing, another.
func writtenOr(text, other string) string {
	if text == "" {
		return other
	}
	return tidied(text)
}

// weightsSection describes the static weights, or says that they are unknown.
func weightsSection(l Layout) Section {
	d := l.Drilling
	row := func(name string, before, after float64) Row {
		if !d.WeightsKnown {
			return Row{Name: name, Value: unknown}
		}
		return Row{Name: name, Value: drilledChange(ounces(before), ounces(after))}
	}
	b, a := d.Before.Static, d.After.Static
	s := Section{Heading: "Static weights, undrilled → finished", Rows: []Row{
		row("side, + right of the grip, oz", b.Side, a.Side),
		row("finger/thumb, + fingers, oz", b.FingerThumb, a.FingerThumb),
		row("top, + grip side, oz", b.Top, a.Top),
	}}
	if !d.WeightsKnown {
		s.add("in the shot", "taken as neutral")
	}
	return s
}

func holeWeightsSection(d ball.Drilling) Section {
	s := Section{Heading: "What each hole changes, oz (side; finger/thumb; top)"}
	for _, h := range d.Weights {
		out := ounces(h.Removed)
		if h.PutBack != 0 {
			out += ", put back " + ounces(h.PutBack)
		}
		s.add(h.Name+", taken out", out)
		s.add(h.Name+", weights", weightsText(h.Change))
	}
	return s
}

// plansSection describes the depths or pitches for the finished weights wanted.
func plansSection(l Layout) Section {
	s := Section{Heading: "To reach the finished weights wanted (side; finger/thumb; top, oz)"}
	if l.Specification.Box == nil || l.Specification.Box.Wanted == nil {
		return s
	}
	var wanted []string
	for _, w := range []struct {
		name, key string
		value     units.Optional
	}{{"side", "side", l.Specification.Box.Wanted.Side}, {"finger/thumb", "finger_thumb", l.Specification.Box.Wanted.FingerThumb}, {"top", "top", l.Specification.Box.Wanted.Top}} {
		if w.value.Given {
			wanted = append(wanted, w.name+" "+writtenOr(l.Written.Ball["box.finished."+w.key], signed(w.value.Value)+" oz"))
		}
	}
	s.add("wanted", strings.Join(wanted, "; "))
	for _, p := range l.Plans {
		name, note := "by depths", ""
		if p.Means == ball.ByPitches {
			name, note = "by pitches", ", if they fit the hand"
		}
		s.add(name+note, reached(p))
		for _, r := range planRows(p, l.Drilling) {
			s.add(name+", "+r.Name, r.Value)
		}
		s.addSaid(name+", thinnest wall", thinWall(p, l))
	}
	return s
}

// reached describes the weights of a plan and their difference from those wanted.
func reached(p ball.Plan) string {
	text := weightsText(p.Weights)
	const near = 0.02 * units.Ounce
	if p.Missed > near {
		text += ", misses by " + ounces(p.Missed)
	}
	return text
}

// thinWall describes the thinnest wall between the holes of a plan if it is thinner than the least clearance;
// otherwise it is "".
func thinWall(p ball.Plan, l Layout) string {
	holes, err := p.Grip.Place(l.Drilling.Hand, l.Drilling.Radius)
	if err != nil {
		return err.Error()
	}
	for _, c := range l.Clearances {
		if c.Kind == "bottoms" {
			if c.Distance = ball.ThinnestWall(holes, l.Drilling.Radius); c.short() {
				return clearanceText(c)
			}
			break
		}
	}
	return ""
}

func planRows(p ball.Plan, d ball.Drilling) []Row {
	var rows []Row
	for _, h := range []struct {
		name string
		hole *ball.Hole
	}{{"middle", p.Grip.Middle}, {"ring", p.Grip.Ring}, {"thumb", p.Grip.Thumb}} {
		switch {
		case h.hole == nil:
		case p.Means == ball.ByDepths:
			rows = append(rows, Row{h.name, size("", h.hole.Depth, drilledParts) + " deep"})
		default:
			rows = append(rows, Row{h.name, pitch("", h.hole.Forward, "forward", "reverse") + ", " + pitch("", h.hole.Lateral, axisSide(d.Hand), otherSide(d.Hand))})
		}
	}
	return rows
}

// PlanWeights returns the plans for the finished weights wanted.
func PlanWeights(s ball.Specification, bowlerPAP ball.PAP, hand ball.Hand, grip ball.Grip) []ball.Plan {
	if s.Box == nil || s.Box.Wanted == nil {
		return nil
	}
	var list []ball.Plan
	for _, means := range []ball.Means{ball.ByDepths, ball.ByPitches} {
		if p, err := s.PlanWeights(bowlerPAP, hand, grip, means); err == nil && !math.IsNaN(p.Missed) {
			list = append(list, p)
		}
	}
	return list
}
