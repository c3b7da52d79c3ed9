package layouts

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/ball"
	"lanesim/ball/rules"
	"lanesim/report"
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

// drilledChange writes a value before and after drilling.
func drilledChange(before, after string) string { return before + " → " + after }

// reference names what a drilling angle counts from: the PSA or, on a ball without
// asymmetry before drilling, the end of the line from the pin through the marked CG.
func reference(l Layout) string {
	if l.Symmetric() {
		return "CG line's end"
	}
	return "PSA"
}

// Symmetric reports whether the undrilled ball has no PSA.
func (l Layout) Symmetric() bool { return l.Specification.IntermediateDifferential == 0 }

// LayoutSections are the numbers of a ball laid out, with its flare on some of
// the lanes.
func LayoutSections(l Layout, flares []Flare) []Section {
	list := []Section{boxSection(l), layoutSection(l), gripSection(l), holesSection(l), weightsSection(l), holeWeightsSection(l.Drilling),
		plansSection(l), clearanceSection(l, flares), massSection(l)}
	for _, f := range flares {
		list = append(list, flareSection(f, l.Drilling), tolerancesSection(f))
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
	d, w, ref := l.Drilling, l.Written.Ball, reference(l)
	given, defined := *l.Specification.Layout, false
	_, defined = d.Before.Frame.Layout(d.Hand, d.Radius)
	psa, hasPSA := l.PSAAngle(d.Before.Frame)
	angle := func(written string, v float64, exists bool) string {
		if !exists {
			return report.Absent
		}
		return angled(written, v)
	}
	m := d.Before.Measures
	side := ""
	if InchFraction(m.Distances.PinToVAL) != InchFraction(0) || m.Distances.Below {
		side = ", pin above"
		if m.Distances.Below {
			side = ", pin below"
		}
	}
	add("drilling angle", angle(w["layout.drilling_angle"], given.DrillingAngle, defined))
	add("pin to PAP", sized(w["layout.pin_to_pap"], m.Distances.PinToPAP, markedParts))
	add("VAL angle", angle(w["layout.val_angle"], given.VALAngle, defined))
	if l.Symmetric() {
		add("counted from the CG line: from the pin through the marked CG, to 90° from the pin", "")
	}
	add(ref+" to PAP", sized(w["layout.psa_to_pap"], m.Distances.PSAToPAP, markedParts))
	add("pin to VAL", sized(w["layout.pin_to_val"], m.Distances.PinToVAL, markedParts)+side)
	add("VAL to "+ref+" at the PAP", angle("", psa, hasPSA))
	add("pin to grip centre", marked(m.PinToGrip))
	add(ref+" to grip centre", marked(m.PSAToGrip))
	if m.PSAToThumb != nil {
		add(ref+" to thumb hole", marked(*m.PSAToThumb))
	}
	return s
}

func gripSection(l Layout) Section {
	d, w := l.Drilling, l.Written
	g := d.Grip
	kind := string(g.Kind)
	if g.Kind == ball.CustomGrip {
		kind = "as given"
	}
	s := Section{Heading: "Axis and grip", Rows: []Row{
		{Name: "hand", Value: d.Hand.String()},
		{Name: "PAP over, to the " + axisSide(d.Hand), Value: sized(w.Bowler["pap.over"], d.PAP.Over, markedParts)},
		{Name: "PAP up", Value: sized(w.Bowler["pap.up"], d.PAP.Up, markedParts)},
		{Name: "grip", Value: kind},
	}}
	if g.Thumb != nil {
		middle, ring := g.Fitted()
		s.Rows = append(s.Rows,
			Row{Name: "cut span to middle finger", Value: sized(w.span("span", "middle"), g.MiddleSpan, drilledParts)},
			Row{Name: "cut span to ring finger", Value: sized(w.span("span", "ring"), g.RingSpan, drilledParts)},
			Row{Name: "fitted span to middle finger", Value: sized(w.span("fitted_span", "middle"), middle, drilledParts)},
			Row{Name: "fitted span to ring finger", Value: sized(w.span("fitted_span", "ring"), ring, drilledParts)})
	}
	if g.Middle != nil {
		s.Rows = append(s.Rows, Row{Name: "bridge", Value: sized(w.Ball["grip.bridge"], g.Bridge, drilledParts)})
	}
	return s
}

func holesSection(l Layout) Section {
	d, w := l.Drilling, l.Written.Ball
	s := Section{Heading: "Holes"}
	for _, h := range d.Holes {
		add := func(what, value string) { s.Rows = append(s.Rows, Row{Name: h.Name + what, Value: value}) }
		path := "grip." + h.Name + "."
		add(", diameter", sized(w[path+"diameter"], h.Diameter, drilledParts))
		add(", depth", sized(w[path+"depth"], h.Depth, drilledParts))
		add(", pitch along the grip", pitch(w[path+"forward"]+w[path+"reverse"], h.Forward, drilledParts, "forward", "reverse"))
		add(", pitch across", pitch(w[path+"lateral"]+w[path+"left"]+w[path+"right"], h.Lateral, drilledParts, axisSide(d.Hand)+" lateral", otherSide(d.Hand)+" lateral"))
		add(", "+liningWord(h.Name), insertText(h, w))
		if h.Oval != "" {
			add(", oval", h.Oval)
		}
		if h.Bevel != "" {
			add(", bevel", h.Bevel)
		}
	}
	return s
}

// liningWord names what lines a hole.
func liningWord(finger string) string {
	if finger == "thumb" {
		return "slug"
	}
	return "insert"
}

// insertText tells the sizes of what lines a hole.
func insertText(h ball.DrilledHole, w map[string]string) string {
	i := h.Insert
	if i == nil {
		return "none"
	}
	path := "grip." + h.Name + ".insert."
	text := sized(w[path+"inner"], i.Inner, drilledParts) + " inside"
	if i.Inner == 0 {
		text = "solid"
	}
	if i.Outer != 0 && i.Outer != h.Diameter {
		text += "; " + sized(w[path+"outer"], i.Outer, drilledParts) + " outside"
	}
	return text + "; " + sized(w[path+"length"], i.Length, drilledParts) + " long"
}

func massSection(l Layout) Section {
	d := l.Drilling
	b, a := d.Before, d.After
	thou := report.Inch.Digits(3)
	gap := func(name string, before, after float64) Row {
		return Row{Name: name, Value: drilledChange(thou.Show(before), thou.Show(after))}
	}
	s := Section{Heading: "Mass, undrilled → drilled", Rows: []Row{
		{Name: "weight, lb", Value: drilledChange(report.Pound.Show(b.Mass), report.Pound.Show(a.Mass))},
		gap("low RG, in", b.RadiiOfGyration[0], a.RadiiOfGyration[0]),
		gap("intermediate RG, in", b.RadiiOfGyration[1], a.RadiiOfGyration[1]),
		gap("high RG, in", b.RadiiOfGyration[2], a.RadiiOfGyration[2]),
		gap("differential, in", b.Differential(), a.Differential()),
		gap("intermediate differential, in", b.IntermediateDifferential(), a.IntermediateDifferential()),
	}}
	if len(d.Holes) == 0 {
		return s
	}
	s.Rows = append(s.Rows,
		Row{Name: "taken out by the holes, oz", Value: report.Ounce.Show(d.Removed)},
		Row{Name: "put back by inserts and slugs, oz", Value: report.Ounce.Show(d.PutBack)})
	if l.Specification.Layout != nil {
		s.Rows = append(s.Rows, Row{Name: "low-RG axis moved from the pin", Value: marked(d.PinMoved)})
	}
	if l.Symmetric() {
		s.Rows = append(s.Rows, Row{Name: "high-RG axis of the drilled ball, about", Value: placeOnBall(a.Frame.PSA, d)})
	} else {
		s.Rows = append(s.Rows, Row{Name: "high-RG axis moved from the PSA", Value: marked(d.PSAMoved)})
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
	add("whole shot", marked(u.Flare))
	add("up to the end of the oil", marked(u.FlareOil))
	add("revolutions", report.Revolution.Show(u.Revolutions))
	add("oily turns", strconv.Itoa(f.Oiled))
	var spacings []float64
	for i, t := range f.Turns {
		if i > 0 && t.Oiled {
			spacings = append(spacings, t.Spacing)
		}
	}
	if len(spacings) > 0 {
		add("oily turns apart at the widest, in", report.Inch.Show(slices.Min(spacings))+" to "+report.Inch.Show(slices.Max(spacings)))
	}
	for i, b := range f.BowTies {
		add("bow-tie "+strconv.Itoa(i+1)+", about", bowTiePlace(b.Place, d))
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

// bowTiePlace tells about where a bow-tie lies by two distances, to half an inch,
// and the side of the midline: arcs about the PAP and the centre of the grip meet
// there.
func bowTiePlace(v r3.Vec, d ball.Drilling) string {
	f := d.Before.Frame
	from := func(p r3.Vec) string {
		const half = units.Inch / 2
		arc := math.Atan2(math.Sqrt(r3.Norm2(r3.Cross(v, p))), r3.Dot(v, p))
		return InchFraction(math.Round(arc*d.Radius/half) * half)
	}
	side := "fingers"
	if v.Z < 0 {
		side = "thumb"
	}
	return from(f.PAP) + " from the PAP, " + from(f.Grip) + " from the grip centre, on the " + side + " side of the midline"
}

// placeFraction tells where a direction in grip axes lies, over and up from the
// centre of the grip.
func placeFraction(v r3.Vec, d ball.Drilling) string {
	q := ball.SurfacePointOf(v, d.Radius)
	return toward(q.Over, "right", "left") + ", " + toward(q.Up, "up", "down")
}

func limitsSection(verdicts []rules.Verdict) Section {
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
			value = report.Short(*v.Value) + " " + value
		}
		s.Rows = append(s.Rows, Row{Name: name, Value: value})
	}
	return s
}

// LayoutDocument shows balls side by side, a few at a time, and the cautions.
func LayoutDocument(title string, balls []Layout) report.Document {
	doc := LayoutsSideBySide(title, balls, layoutsAcross)
	for i, line := range LayoutCautions() {
		doc.Say(line)
		if i > 0 {
			doc.Join()
		}
	}
	return doc
}

// LayoutsSideBySide is [LayoutDocument] without the cautions, with so many balls side by
// side.
func LayoutsSideBySide(title string, balls []Layout, across int) report.Document {
	doc := report.Document{Title: title}
	for part := range slices.Chunk(balls, across) {
		doc.Table(layoutColumns(part))
	}
	return doc
}

// layoutColumns is the table of balls side by side. Rows that not all balls
// have keep their order.
func layoutColumns(balls []Layout) report.Grid {
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
	t := report.Grid{Left: []bool{true}}
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
				v = report.Absent
			}
			row = append(row, v)
		}
		t.Rows = append(t.Rows, row)
	}
	t.Heads, t.Sections = 2, headings
	t.Tone = func(row, column int, text string) report.Tone {
		word := text[strings.LastIndex(text, " ")+1:]
		switch {
		case headings[row] || row < 2 && column > 0:
			return report.HeadingTone
		case column > 0 && (word == string(rules.Over) || word == string(rules.Under)):
			return report.BadTone
		}
		return report.PlainTone
	}
	return t
}

// LayoutAnswer says in a sentence how a ball is laid out and how it flares.
func LayoutAnswer(l Layout) string {
	words := l.Ball + " for " + l.Bowler + ": " + layoutForms(l)[0].Value
	for _, f := range l.Flares {
		if f.Shot == nil {
			words += "; no shot on " + f.Lane
			continue
		}
		words += "; flare on " + f.Lane + " " + marked(f.Shot.Summary.Flare) + ", up to the end of the oil " + marked(f.Shot.Summary.FlareOil)
	}
	return words
}
