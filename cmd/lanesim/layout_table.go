package main

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"lanesim/ball"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/scenario"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
)

// layoutsAcross is how many balls stand side by side in the table.
const layoutsAcross = 2

// both writes a length in m as a shop reads it, and in mm.
func both(length float64) string {
	return plots.InchFraction(length) + ", " + plots.Millimetres(length)
}

// thousandths writes a length in m in inches to a thousandth.
func thousandths(length float64) string { return strconv.FormatFloat(inches(length), 'f', 3, 64) }

// change writes a value before and after drilling.
func change(before, after string) string { return before + " → " + after }

func hundredths(v float64) string {
	text := strconv.FormatFloat(v, 'f', 2, 64)
	if text == "-0.00" {
		return "0.00"
	}
	return strings.Replace(text, "-", "−", 1)
}

// axisSide is the side of the bowler's PAP as one looks at the grip with the
// fingers up.
func axisSide(h ball.Hand) string { return h.String() }

func otherSide(h ball.Hand) string {
	if h == ball.Left {
		return ball.Right.String()
	}
	return ball.Left.String()
}

// toward writes a signed length with the word for its direction.
func toward(length float64, positive, negative string) string {
	switch text := plots.InchFraction(math.Abs(length)); {
	case text == plots.InchFraction(0):
		return text
	case length < 0:
		return text + " " + negative
	default:
		return text + " " + positive
	}
}

// layoutSections are the numbers of a ball laid out, with its flare on some of
// the lanes.
func layoutSections(l laidOut, flares []flare) []plots.Section {
	list := []plots.Section{layoutSection(l), gripSection(l.drilling), holesSection(l.drilling), massSection(l.drilling), staticSection(l)}
	for _, f := range flares {
		list = append(list, flareSection(f, l.drilling))
	}
	list = append(list, limitsSection(l.verdicts))
	return slices.DeleteFunc(list, func(s plots.Section) bool { return len(s.Rows) == 0 })
}

func layoutSection(l laidOut) plots.Section {
	s := plots.Section{Heading: "Layout, as marked on the undrilled ball"}
	add := func(name, value string) { s.Rows = append(s.Rows, plots.Row{Name: name, Value: value}) }
	if l.specification.Layout == nil {
		add("layout", "none: equal moments")
		return s
	}
	d := l.drilling
	r := recordMarks(d.Before, l.specification.Layout, d)
	angle := func(n *number) string {
		if n == nil {
			return report.Absent
		}
		return plots.Degrees(float64(*n) * units.Degree)
	}
	m := d.Before.Measures
	side := ""
	if plots.InchFraction(m.Distances.PinToVAL) != plots.InchFraction(0) || m.Distances.Below {
		side = ", pin " + r.Pin
	}
	add("drilling angle", angle(r.DrillingAngle))
	add("pin to PAP", both(m.Distances.PinToPAP))
	add("VAL angle", angle(r.VALAngle))
	add("PSA to PAP", both(m.Distances.PSAToPAP))
	add("pin to VAL", both(m.Distances.PinToVAL)+side)
	add("VAL to PSA at the PAP", angle(r.PSAAngle))
	add("pin to grip centre", both(m.PinToGrip))
	add("PSA to grip centre", both(m.PSAToGrip))
	if m.PSAToThumb != nil {
		add("PSA to thumb hole", both(*m.PSAToThumb))
	}
	return s
}

func gripSection(d ball.Drilling) plots.Section {
	g := d.Grip
	kind := string(g.Kind)
	if g.Kind == ball.CustomGrip {
		kind = "as given"
	}
	s := plots.Section{Heading: "Axis and grip", Rows: []plots.Row{
		{Name: "hand", Value: d.Hand.String()},
		{Name: "PAP over, to the " + axisSide(d.Hand), Value: both(d.PAP.Over)},
		{Name: "PAP up", Value: both(d.PAP.Up)},
		{Name: "grip", Value: kind},
	}}
	if g.Thumb != nil {
		s.Rows = append(s.Rows, plots.Row{Name: "span to middle finger", Value: both(g.MiddleSpan)}, plots.Row{Name: "span to ring finger", Value: both(g.RingSpan)})
	}
	if g.Middle != nil {
		s.Rows = append(s.Rows, plots.Row{Name: "bridge", Value: both(g.Bridge)})
	}
	return s
}

func holesSection(d ball.Drilling) plots.Section {
	s := plots.Section{Heading: "Holes"}
	for _, h := range d.Holes {
		add := func(what, value string) { s.Rows = append(s.Rows, plots.Row{Name: h.Name + what, Value: value}) }
		add(", diameter", both(h.Diameter))
		add(", depth", both(h.Depth))
		add(", pitch along the grip", toward(h.Forward, "forward", "reverse"))
		add(", pitch across", toward(h.Lateral, axisSide(d.Hand), otherSide(d.Hand)))
		insert := "none"
		if i := h.Insert; i != nil {
			insert = plots.InchFraction(i.Inner) + " inside, " + plots.InchFraction(i.Length) + " long"
			if i.Inner == 0 {
				insert = "solid, " + plots.InchFraction(i.Length) + " long"
			}
		}
		add(", insert", insert)
	}
	return s
}

func massSection(d ball.Drilling) plots.Section {
	b, a := d.Before, d.After
	gap := func(name string, before, after float64) plots.Row {
		return plots.Row{Name: name, Value: change(thousandths(before), thousandths(after))}
	}
	s := plots.Section{Heading: "Mass, undrilled → drilled", Rows: []plots.Row{
		{Name: "weight, lb", Value: change(hundredths(b.Mass/units.Pound), hundredths(a.Mass/units.Pound))},
		gap("low RG, in", b.RadiiOfGyration[0], a.RadiiOfGyration[0]),
		gap("intermediate RG, in", b.RadiiOfGyration[1], a.RadiiOfGyration[1]),
		gap("high RG, in", b.RadiiOfGyration[2], a.RadiiOfGyration[2]),
		gap("differential, in", b.Differential(), a.Differential()),
		gap("intermediate differential, in", b.IntermediateDifferential(), a.IntermediateDifferential()),
	}}
	if len(d.Holes) == 0 {
		return s
	}
	return plots.Section{Heading: s.Heading, Rows: append(s.Rows,
		plots.Row{Name: "taken out by the holes, oz", Value: hundredths(d.Removed / units.Ounce)},
		plots.Row{Name: "put back by inserts, oz", Value: hundredths(d.PutBack / units.Ounce)},
		plots.Row{Name: "low axis moved from the pin", Value: both(d.PinMoved)},
		plots.Row{Name: "high axis moved from the PSA", Value: both(d.PSAMoved)},
	)}
}

func staticSection(l laidOut) plots.Section {
	b, a := l.drilling.Before.Static, l.drilling.After.Static
	row := func(name string, before, after float64) plots.Row {
		return plots.Row{Name: name, Value: change(hundredths(before/units.Ounce), hundredths(after/units.Ounce))}
	}
	s := plots.Section{Heading: "Static weights, undrilled → drilled", Rows: []plots.Row{
		row("side, + right of the grip, oz", b.Side, a.Side),
		row("finger/thumb, + fingers, oz", b.FingerThumb, a.FingerThumb),
		row("top, + grip side, oz", b.Top, a.Top),
	}}
	if l.specification.Static == nil && l.specification.Offset == [3]float64{} {
		s.Rows = append(s.Rows, plots.Row{Name: "drilled ball", Value: "taken as neutral"})
	}
	return s
}

func flareSection(f flare, d ball.Drilling) plots.Section {
	s := plots.Section{Heading: "Flare on " + f.lane}
	if f.shot == nil {
		s.Rows = []plots.Row{{Name: "no shot", Value: f.why}}
		return s
	}
	add := func(name, value string) { s.Rows = append(s.Rows, plots.Row{Name: name, Value: value}) }
	u := f.shot.Summary
	add("whole shot", both(u.Flare))
	add("up to the end of the oil", both(u.FlareOil))
	add("revolutions", report.Figure(u.Revolutions))
	add("oily turns", strconv.Itoa(f.tracks.Oiled))
	var spacings []float64
	for i, t := range f.tracks.Turns {
		if i > 0 && t.Oiled {
			spacings = append(spacings, inches(t.Spacing))
		}
	}
	if len(spacings) > 0 {
		add("oily turns apart at the widest, in", hundredths(slices.Min(spacings))+" to "+hundredths(slices.Max(spacings)))
	}
	for i, b := range f.tracks.BowTies {
		add("bow-tie "+strconv.Itoa(i+1)+", about", placeOnBall(b.Place, d))
	}
	return s
}

// placeOnBall tells about where a direction in grip axes lies, to half an inch,
// in the way of a PAP.
func placeOnBall(v r3.Vec, d ball.Drilling) string {
	const half = units.Inch / 2
	q := ball.SurfacePointOf(v, d.Radius)
	return toward(math.Round(q.Over/half)*half, "right", "left") + ", " + toward(math.Round(q.Up/half)*half, "up", "down")
}

func limitsSection(verdicts []ball.Verdict) plots.Section {
	s := plots.Section{Heading: "Against the limits listed"}
	for _, v := range verdicts {
		name := strings.ReplaceAll(v.Name, "_", " ")
		if v.Name == "rg" {
			name = "low RG"
		}
		if v.Unit != "" {
			name += ", " + v.Unit
		}
		if v.Limit != "" && v.Name != "asymmetry" {
			name += " (" + strings.ReplaceAll(strings.TrimSuffix(v.Limit, " "+v.Unit), "-", "−") + ")"
		}
		value := string(v.Verdict)
		if v.Name == "asymmetry" {
			value = v.Note
		}
		if v.Value != nil {
			value = report.Short(*v.Value) + " " + value
		}
		s.Rows = append(s.Rows, plots.Row{Name: name, Value: value})
	}
	return s
}

// layoutTable prints balls side by side, a few at a time, and the cautions.
func layoutTable(s *scenario.Scenario, balls []laidOut, c report.Paint) string {
	var b strings.Builder
	if s.Title != "" {
		b.WriteString(c.Heading(s.Title) + "\n\n")
	}
	for part := range slices.Chunk(balls, layoutsAcross) {
		b.WriteString(layoutColumns(part, c).String() + "\n")
	}
	for _, line := range layoutCautions() {
		b.WriteString(line + "\n")
	}
	return b.String()
}

// layoutColumns is the table of balls side by side. Rows that not all balls
// have keep their order.
func layoutColumns(balls []laidOut, c report.Paint) report.Grid {
	type key struct{ heading, name string }
	var order []key
	values := make([]map[key]string, len(balls))
	for i, l := range balls {
		values[i] = map[key]string{}
		at := 0
		for _, s := range layoutSections(l, l.flares) {
			for _, r := range s.Rows {
				k := key{s.Heading, r.Name}
				values[i][k] = r.Value
				if found := slices.Index(order, k); found >= 0 {
					at = found + 1
					continue
				}
				order = slices.Insert(order, at, k)
				at++
			}
		}
	}
	t := report.Grid{Left: []bool{true}}
	for _, head := range []struct {
		name string
		of   func(laidOut) string
	}{{"ball", func(l laidOut) string { return l.ball }}, {"bowler", func(l laidOut) string { return l.bowler }}} {
		row := []string{head.name}
		for _, l := range balls {
			row = append(row, head.of(l))
		}
		t.Rows = append(t.Rows, row)
	}
	headings := map[int]bool{}
	for i, k := range order {
		if i == 0 || order[i-1].heading != k.heading {
			headings[len(t.Rows)+1] = true
			t.Rows = append(t.Rows, []string{""}, []string{k.heading})
		}
		row := []string{k.name}
		for j := range balls {
			v, ok := values[j][k]
			if !ok {
				v = report.Absent
			}
			row = append(row, v)
		}
		t.Rows = append(t.Rows, row)
	}
	t.Style = func(row, column int, text string) string {
		word := text[strings.LastIndex(text, " ")+1:]
		switch {
		case headings[row] || row < 2 && column > 0:
			return c.Heading(text)
		case column > 0 && (word == string(ball.Over) || word == string(ball.Under)):
			return c.Bad(text)
		}
		return text
	}
	return t
}
