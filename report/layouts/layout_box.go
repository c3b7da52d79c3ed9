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
	return report.ObjectOf(
		"weight_lb", report.Pound.In(l.Specification.Weight), "weight", l.Written.Ball["box.weight"], // as it was written
		"top_weight_oz", report.Ounce.In(b.TopWeight.OrNaN()), lengths("pin_out", b.PinOut.OrNaN()), "cg", cg,
		"colour", b.Colour, "serial", b.Serial,
	)
}

func weightsObject(w ball.StaticWeights) report.Object {
	return report.ObjectOf("side_oz", report.Ounce.In(w.Side), "finger_thumb_oz", report.Ounce.In(w.FingerThumb), "top_oz", report.Ounce.In(w.Top))
}

// holeWeightObject is what a hole takes away, and its lining puts back.
func holeWeightObject(h ball.HoleWeight) report.Object {
	return report.ObjectOf("finger", h.Name, "removed_oz", report.Ounce.In(h.Removed), "put_back_oz", report.Ounce.In(h.PutBack), weightsObject(h.Change))
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
			holes = append(holes, report.ObjectOf("finger", []string{"middle", "ring", "thumb"}[i], lengths("depth", h.Depth), lengths("forward_pitch", h.Forward), lengths("lateral_pitch", h.Lateral)))
		}
	}
	return report.ObjectOf("by", by, "holes", holes, weightsObject(p.Weights), "missed_oz", report.Ounce.In(p.Missed))
}

// clearanceObject has no lane for what does not depend on the shot; the least
// distances are assumed.
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
