package report

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/units"
)

// layoutsAcross is how many balls stand side by side in the table.
const layoutsAcross = 2

// axisSide is the side of the bowler's PAP as one looks at the grip with the
// fingers up.
func axisSide(h ball.Hand) string { return h.String() }

func otherSide(h ball.Hand) string {
	if h == ball.Left {
		return ball.Right.String()
	}
	return ball.Left.String()
}

// LayoutSections are the numbers of a ball laid out, with its flare on some of
// the lanes.
func LayoutSections(l Layout, flares []Flare) []Section {
	list := []Section{layoutSection(l), gripSection(l.Drilling), holesSection(l.Drilling), massSection(l.Drilling), staticSection(l)}
	for _, f := range flares {
		list = append(list, flareSection(f, l.Drilling))
	}
	list = append(list, limitsSection(l.Verdicts))
	return slices.DeleteFunc(list, func(s Section) bool { return len(s.Rows) == 0 })
}

func layoutSection(l Layout) Section {
	s := Section{Heading: "Layout, as marked on the undrilled ball"}
	add := func(name, value string) { s.Rows = append(s.Rows, Row{Name: name, Value: value}) }
	if l.Specification.Layout == nil {
		add("layout", "none: equal moments")
		return s
	}
	d := l.Drilling
	given, defined := d.Before.Frame.Layout(d.Hand, d.Radius)
	if l.Specification.Layout != nil {
		given.DrillingAngle, given.VALAngle = l.Specification.Layout.DrillingAngle, l.Specification.Layout.VALAngle
	}
	psa, hasPSA := l.PSAAngle(d.Before.Frame)
	angle := func(v float64, exists bool) string {
		if !exists {
			return Absent
		}
		return Degrees(v)
	}
	m := d.Before.Measures
	side := ""
	if InchFraction(m.Distances.PinToVAL) != InchFraction(0) || m.Distances.Below {
		side = ", pin above"
		if m.Distances.Below {
			side = ", pin below"
		}
	}
	add("drilling angle", angle(given.DrillingAngle, defined))
	add("pin to PAP", inBoth(m.Distances.PinToPAP))
	add("VAL angle", angle(given.VALAngle, defined))
	add("PSA to PAP", inBoth(m.Distances.PSAToPAP))
	add("pin to VAL", inBoth(m.Distances.PinToVAL)+side)
	add("VAL to PSA at the PAP", angle(psa, hasPSA))
	add("pin to grip centre", inBoth(m.PinToGrip))
	add("PSA to grip centre", inBoth(m.PSAToGrip))
	if m.PSAToThumb != nil {
		add("PSA to thumb hole", inBoth(*m.PSAToThumb))
	}
	return s
}

func gripSection(d ball.Drilling) Section {
	g := d.Grip
	kind := string(g.Kind)
	if g.Kind == ball.CustomGrip {
		kind = "as given"
	}
	s := Section{Heading: "Axis and grip", Rows: []Row{
		{Name: "hand", Value: d.Hand.String()},
		{Name: "PAP over, to the " + axisSide(d.Hand), Value: inBoth(d.PAP.Over)},
		{Name: "PAP up", Value: inBoth(d.PAP.Up)},
		{Name: "grip", Value: kind},
	}}
	if g.Thumb != nil {
		s.Rows = append(s.Rows, Row{Name: "span to middle finger", Value: inBoth(g.MiddleSpan)}, Row{Name: "span to ring finger", Value: inBoth(g.RingSpan)})
	}
	if g.Middle != nil {
		s.Rows = append(s.Rows, Row{Name: "bridge", Value: inBoth(g.Bridge)})
	}
	return s
}

func holesSection(d ball.Drilling) Section {
	s := Section{Heading: "Holes"}
	for _, h := range d.Holes {
		add := func(what, value string) { s.Rows = append(s.Rows, Row{Name: h.Name + what, Value: value}) }
		add(", diameter", inBoth(h.Diameter))
		add(", depth", inBoth(h.Depth))
		add(", pitch along the grip", toward(h.Forward, "forward", "reverse"))
		add(", pitch across", toward(h.Lateral, axisSide(d.Hand), otherSide(d.Hand)))
		insert := "none"
		if i := h.Insert; i != nil {
			insert = InchFraction(i.Inner) + " inside, " + InchFraction(i.Length) + " long"
			if i.Inner == 0 {
				insert = "solid, " + InchFraction(i.Length) + " long"
			}
		}
		add(", insert", insert)
	}
	return s
}

func massSection(d ball.Drilling) Section {
	b, a := d.Before, d.After
	thou := Inch.Digits(3)
	gap := func(name string, before, after float64) Row {
		return Row{Name: name, Value: thou.Show(before) + " → " + thou.Show(after)}
	}
	s := Section{Heading: "Mass, undrilled → drilled", Rows: []Row{
		{Name: "weight, lb", Value: Pound.Show(b.Mass) + " → " + Pound.Show(a.Mass)},
		gap("low RG, in", b.RadiiOfGyration[0], a.RadiiOfGyration[0]),
		gap("intermediate RG, in", b.RadiiOfGyration[1], a.RadiiOfGyration[1]),
		gap("high RG, in", b.RadiiOfGyration[2], a.RadiiOfGyration[2]),
		gap("differential, in", b.Differential(), a.Differential()),
		gap("intermediate differential, in", b.IntermediateDifferential(), a.IntermediateDifferential()),
	}}
	if len(d.Holes) == 0 {
		return s
	}
	return Section{Heading: s.Heading, Rows: append(s.Rows,
		Row{Name: "taken out by the holes, oz", Value: Ounce.Show(d.Removed)},
		Row{Name: "put back by inserts, oz", Value: Ounce.Show(d.PutBack)},
		Row{Name: "low axis moved from the pin", Value: inBoth(d.PinMoved)},
		Row{Name: "high axis moved from the PSA", Value: inBoth(d.PSAMoved)},
	)}
}

func staticSection(l Layout) Section {
	b, a := l.Drilling.Before.Static, l.Drilling.After.Static
	row := func(name string, before, after float64) Row {
		return Row{Name: name, Value: Ounce.Show(before) + " → " + Ounce.Show(after)}
	}
	s := Section{Heading: "Static weights, undrilled → drilled", Rows: []Row{
		row("side, + right of the grip, oz", b.Side, a.Side),
		row("finger/thumb, + fingers, oz", b.FingerThumb, a.FingerThumb),
		row("top, + grip side, oz", b.Top, a.Top),
	}}
	if l.Specification.Static == nil && l.Specification.Offset == [3]float64{} {
		s.Rows = append(s.Rows, Row{Name: "drilled ball", Value: "taken as neutral"})
	}
	return s
}

func flareSection(f Flare, d ball.Drilling) Section {
	s := Section{Heading: "Flare on " + f.Lane}
	if f.Shot == nil {
		s.Rows = []Row{{Name: "no shot", Value: f.Why}}
		return s
	}
	add := func(name, value string) { s.Rows = append(s.Rows, Row{Name: name, Value: value}) }
	u := f.Shot.Summary
	add("whole shot", inBoth(u.Flare))
	add("up to the end of the oil", inBoth(u.FlareOil))
	add("revolutions", Revolution.Show(u.Revolutions))
	add("oily turns", strconv.Itoa(f.Oiled))
	var spacings []float64
	for i, t := range f.Turns {
		if i > 0 && t.Oiled {
			spacings = append(spacings, t.Spacing)
		}
	}
	if len(spacings) > 0 {
		add("oily turns apart at the widest, in", Inch.Show(slices.Min(spacings))+" to "+Inch.Show(slices.Max(spacings)))
	}
	for i, b := range f.BowTies {
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

func limitsSection(verdicts []ball.Verdict) Section {
	s := Section{Heading: "Against the limits listed"}
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
			value = Short(*v.Value) + " " + value
		}
		s.Rows = append(s.Rows, Row{Name: name, Value: value})
	}
	return s
}

// LayoutTable prints balls side by side, a few at a time, and the cautions.
func LayoutTable(title string, balls []Layout, c Paint) string {
	var b strings.Builder
	if title != "" {
		b.WriteString(c.Heading(title) + "\n\n")
	}
	for part := range slices.Chunk(balls, layoutsAcross) {
		b.WriteString(layoutColumns(part, c).String() + "\n")
	}
	for _, line := range LayoutCautions() {
		b.WriteString(line + "\n")
	}
	return b.String()
}

// layoutColumns is the table of balls side by side. Rows that not all balls
// have keep their order.
func layoutColumns(balls []Layout, c Paint) Grid {
	type key struct{ heading, name string }
	var order []key
	values := make([]map[key]string, len(balls))
	for i, l := range balls {
		values[i] = map[key]string{}
		at := 0
		for _, s := range LayoutSections(l, l.Flares) {
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
	t := Grid{Left: []bool{true}}
	for _, head := range []struct {
		name string
		of   func(Layout) string
	}{{"ball", func(l Layout) string { return l.Ball }}, {"bowler", func(l Layout) string { return l.Bowler }}} {
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
				v = Absent
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
