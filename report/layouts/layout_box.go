package layouts

import (
	"lanesim/ball"
	"lanesim/report"
)

// boxObject is what the box says, nil without one.
func (l Layout) boxObject() report.Object {
	b := l.Specification.Box
	if b == nil {
		return nil
	}
	var cg report.Object // null if its place is not known
	if n, ok := l.Specification.MarkedCG(l.Drilling.Before.Frame, l.Drilling.Hand); ok {
		cg = placeAt(n, l.Drilling)
	}
	return joined(
		one("weight_lb", report.Pound.In(l.Specification.Weight)), one("weight", l.Written.Ball["box.weight"]), // as it was written
		one("top_weight_oz", report.Ounce.In(report.OrNaN(b.TopWeight))), lengths("pin_out", report.OrNaN(b.PinOut)), one("cg", cg),
		one("colour", b.Colour), one("serial", b.Serial),
	)
}

func weightsObject(w ball.StaticWeights) report.Object {
	return report.ObjectOf("side_oz", report.Ounce.In(w.Side), "finger_thumb_oz", report.Ounce.In(w.FingerThumb), "top_oz", report.Ounce.In(w.Top))
}

// holeWeightObject is what a hole takes away, and its lining puts back.
func holeWeightObject(h ball.HoleWeight) report.Object {
	return joined(one("finger", h.Name), one("removed_oz", report.Ounce.In(h.Removed)), one("put_back_oz", report.Ounce.In(h.PutBack)), weightsObject(h.Change))
}

// planObject is a grip that comes near the finished weights wanted.
func planObject(p ball.Plan) report.Object {
	by := "depths"
	if p.Means == ball.ByPitches {
		by = "pitches"
	}
	holes := report.List{}
	for i, h := range []*ball.Hole{p.Grip.Middle, p.Grip.Ring, p.Grip.Thumb} {
		if h != nil {
			holes = append(holes, joined(one("finger", []string{"middle", "ring", "thumb"}[i]), lengths("depth", h.Depth), lengths("forward_pitch", h.Forward), lengths("lateral_pitch", h.Lateral)))
		}
	}
	return joined(one("by", by), one("holes", holes), weightsObject(p.Weights), one("missed_oz", report.Ounce.In(p.Missed)))
}

// clearanceObject has no lane for what does not depend on the shot; the least
// distances are assumed.
func clearanceObject(c Clearance) report.Object {
	var lane any
	if c.Lane != "" {
		lane = c.Lane
	}
	return joined(
		one("kind", c.Kind), one("lane", lane), one("what", c.What), lengths("distance", c.Distance), lengths("least", c.Least),
		lengths("first_track", c.First), lengths("last_track", c.Last), one("short", c.short()),
	)
}
