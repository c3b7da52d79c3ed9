package layouts

import (
	"lanesim/report"
	"lanesim/studies/drilling"
)

// tolerancesSection lists the effects of small errors of drilling and the bowler's own scatter.
func tolerancesSection(f Flare) Section {
	s := Section{Heading: "Drilling tolerances on " + f.Lane + ": flare, in; friction read, ft; board at the pins"}
	r := f.Tolerances
	if r == nil {
		return Section{}
	}
	row := func(name string, e drilling.Effect, show func(v float64, u report.Unit) string, note string) {
		s.add(name, show(e.Flare, report.Inch)+"; "+show(e.FrictionRead, report.Foot.Finer())+"; "+show(e.AtPins, boards)+note)
	}
	plain := func(v float64, u report.Unit) string { return u.Show(v) }
	change := func(v float64, u report.Unit) string { return report.Signed(u.In(v), 2) }
	row("as asked for", r.Nominal, plain, "")
	for _, c := range r.Changes {
		note := ", visible"
		if !c.Visible {
			note = ", not visible"
		}
		row(errorWords[c.Of]+", at most", c.Effect, change, note)
	}
	row("the bowler's own scatter, one deviation", r.Scatter, plain, "")
	return s
}

// errorWords describe the errors with the sizes that the study tries.
var errorWords = map[drilling.Error]string{
	drilling.PinOff: "pin 1/16 in off", drilling.DrillingAngleOff: "drilling angle 2° off", drilling.VALAngleOff: "VAL angle 2° off",
	drilling.PAPOverOff: "PAP 1/8 in off, over", drilling.PAPUpOff: "PAP 1/8 in off, up",
	drilling.DepthOff: "holes 1/16 in off in depth", drilling.SurfaceOff: "surface 200 grit off",
}

var boards = report.Board.Finer()

// tolerancesObject returns the tolerances, nil if they were not requested.
func tolerancesObject(r *drilling.Result) report.Object {
	if r == nil {
		return nil
	}
	effect := func(e drilling.Effect) report.Object {
		return report.ObjectOf(lengths("flare", e.Flare), "friction_read_ft", report.Foot.In(e.FrictionRead), "at_pins_boards", e.AtPins)
	}
	return report.ObjectOf("nominal", effect(r.Nominal),
		"changes", report.Each(r.Changes, func(c drilling.Change) report.Object {
			return report.ObjectOf("error", errorWords[c.Of], effect(c.Effect), "visible", c.Visible)
		}),
		"scatter", effect(r.Scatter), "deliveries", r.Deliveries)
}
