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

// layoutsAcross is the number of balls side by side in the table.
const layoutsAcross = 2

// axisSide returns the side of the bowler's PAP, seen at the grip with the fingers up, and otherSide the
// other side.
func axisSide(h ball.Hand) string { return h.String() }

func otherSide(h ball.Hand) string {
	if h == ball.Left {
		return ball.Right.String()
	}
	return ball.Left.String()
}

func drilledChange(before, after string) string { return before + " → " + after }

// reference names the reference of a drilling angle: the PSA or, on a ball without asymmetry before drilling,
// the end of the line from the pin through the marked CG.
func reference(l Layout) string {
	if l.Symmetric() {
		return "CG line's end"
	}
	return "PSA"
}

// Symmetric reports whether the undrilled ball has no PSA.
func (l Layout) Symmetric() bool { return l.Specification.IntermediateDifferential == 0 }

// LayoutSections returns the numbers of a layout, with its flare on the given lanes.
func LayoutSections(l Layout, flares []Flare) []Section {
	list := []Section{boxSection(l), layoutSection(l), gripSection(l), holesSection(l), weightsSection(l), holeWeightsSection(l.Drilling),
		plansSection(l), clearanceSection(l, flares), massSection(l)}
	for _, f := range flares {
		list = append(list, flareSection(f, l.Drilling), tolerancesSection(f))
	}
	list = append(list, limitsSection(l.Verdicts))
	return sections(list...)
}

// sections returns the sections that have rows.
func sections(list ...Section) []Section {
	return slices.DeleteFunc(list, func(s Section) bool { return len(s.Rows) == 0 })
}

func layoutSection(l Layout) Section {
	s := Section{Heading: "Layout, as marked on the undrilled ball"}
	if l.Specification.Layout == nil {
		s.add("layout", "none: equal moments")
		return s
	}
	d, w, ref := l.Drilling, l.Written.Ball, reference(l)
	layout, defined := *l.Specification.Layout, false
	_, defined = d.Before.Frame.Layout(d.Hand, d.Radius)
	psa, hasPSA := PSAAngle(d.Before.Frame)
	angle := func(written string, v float64, exists bool) string {
		if !exists {
			return report.Absent
		}
		return angled(written, v)
	}
	m := d.Before.Measures
	s.add("drilling angle", angle(w["layout.drilling_angle"], layout.DrillingAngle, defined))
	s.add("pin to PAP", sized(w["layout.pin_to_pap"], m.Distances.PinToPAP, markedParts))
	s.add("VAL angle", angle(w["layout.val_angle"], layout.VALAngle, defined))
	if l.Symmetric() {
		s.add("drilling angle counts from", "the CG line")
		s.add("CG line", "pin through marked CG, 90° long")
	}
	s.add(ref+" to PAP", sized(w["layout.psa_to_pap"], m.Distances.PSAToPAP, markedParts))
	s.add("pin to VAL", sized(w["layout.pin_to_val"], m.Distances.PinToVAL, markedParts)+pinSide(m.Distances))
	s.addSaid("seen by distances", strings.TrimLeft(otherSides(layout), ",; "))
	s.add("VAL to "+ref+" at the PAP", angle("", psa, hasPSA))
	s.add("pin to grip centre", marked(m.PinToGrip))
	s.add(ref+" to grip centre", marked(m.PSAToGrip))
	if m.PSAToThumb.Given {
		s.add(ref+" to thumb hole", marked(m.PSAToThumb.Value))
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
		{Name: "PAP over, to the " + axisSide(d.Hand), Value: sized(w.Bowler["pap.over"], d.PAP.Over, markedParts) + markIf(w.papAssumed())},
		{Name: "PAP up", Value: sized(w.Bowler["pap.up"], d.PAP.Up, markedParts) + markIf(w.papAssumed())},
		{Name: "grip", Value: kind},
	}}
	if g.Thumb != nil {
		middle, ring := g.Fitted()
		s.add("cut span to middle finger", w.span("span", "middle", g.MiddleSpan))
		s.add("cut span to ring finger", w.span("span", "ring", g.RingSpan))
		s.add("fitted span to middle finger", w.span("fitted_span", "middle", middle))
		s.add("fitted span to ring finger", w.span("fitted_span", "ring", ring))
	}
	if g.Middle != nil {
		s.add("bridge", given(w.Ball["grip.bridge"], g.Bridge))
	}
	return s
}

func holesSection(l Layout) Section {
	s := Section{Heading: "Holes"}
	for _, h := range l.Drilling.Holes {
		add := func(what, value string) { s.addSaid(h.Name+", "+what, value) }
		z := holeSizes(h, l.Written.Ball, l.Drilling.Hand, " lateral")
		add("diameter", z.diameter)
		add("depth", z.depth)
		add("pitch along the grip", z.along)
		add("pitch across", z.lateral)
		add(liningWord(h.Name), z.inside)
		add(liningWord(h.Name)+" outside", z.outside)
		add(liningWord(h.Name)+" length", z.long)
		add("oval", h.Oval)
		add("bevel", h.Bevel)
	}
	return s
}

func liningWord(finger string) string {
	if finger == "thumb" {
		return "slug"
	}
	return "insert"
}

// holeTexts has the sizes of a hole for people; empty without a hole.
type holeTexts struct{ diameter, depth, along, lateral, inside, outside, long string }

func holeSizes(h ball.DrilledHole, w map[string]string, hand ball.Hand, lateral string) holeTexts {
	path := "grip." + h.Name + "."
	t := holeTexts{
		diameter: given(w[path+"diameter"], h.Diameter), depth: given(w[path+"depth"], h.Depth),
		along:   givenPitch(w[path+"forward"]+w[path+"reverse"], h.Forward, "forward", "reverse"),
		lateral: givenPitch(w[path+"lateral"]+w[path+"left"]+w[path+"right"], h.Lateral, axisSide(hand)+lateral, otherSide(hand)+lateral),
		inside:  "none",
	}
	if i := h.Insert; i != nil {
		path += "insert."
		t.inside, t.long = "solid", given(w[path+"length"], i.Length)
		if i.Inner > 0 {
			t.inside = given(w[path+"inner"], i.Inner)
		}
		if i.Outer != 0 && i.Outer != h.Diameter {
			t.outside = given(w[path+"outer"], i.Outer)
		}
	}
	return t
}

func massSection(l Layout) Section {
	d := l.Drilling
	b, a := d.Before, d.After
	thou := report.Inch.Digits(3)
	s := Section{Heading: "Mass, undrilled → drilled"}
	gap := func(name string, u report.Unit, before, after float64) {
		s.add(name, drilledChange(u.Show(before), u.Show(after)))
	}
	gap("weight, lb", report.Pound, b.Mass, a.Mass)
	for i, name := range []string{"low RG, in", "intermediate RG, in", "high RG, in"} {
		gap(name, thou, b.RadiiOfGyration[i], a.RadiiOfGyration[i])
	}
	gap("differential, in", thou, b.Differential(), a.Differential())
	gap("intermediate differential, in", thou, b.IntermediateDifferential(), a.IntermediateDifferential())
	if len(d.Holes) == 0 {
		return s
	}
	s.add("taken out by the holes, oz", ounces(d.Removed))
	s.add("put back by inserts and slugs, oz", ounces(d.PutBack))
	if l.Specification.Layout != nil {
		s.add("low-RG axis moved from the pin", marked(d.PinMoved))
	}
	if l.Symmetric() {
		q := ball.SurfacePointOf(a.Frame.PSA, d.Radius)
		s.add("high-RG axis of the drilled ball, about", placeText(ball.SurfacePoint{Over: toHalfInch(q.Over), Up: toHalfInch(q.Up)}))
	} else {
		s.add("high-RG axis moved from the PSA", marked(d.PSAMoved))
	}
	return s
}

func flareSection(f Flare, d ball.Drilling) Section {
	s := Section{Heading: "Flare on " + f.Lane}
	if f.Shot == nil {
		s.add("no shot", f.Why)
		return s
	}
	u := f.Shot.Summary
	s.add("whole shot", marked(u.Flare))
	s.add("up to the end of the oil", marked(u.FlareOil))
	s.add("revolutions", report.Revolution.Show(u.Revolutions))
	s.add("oily turns", strconv.Itoa(f.Oiled))
	var spacings []float64
	for i, t := range f.Turns {
		if i > 0 && t.Oiled {
			spacings = append(spacings, t.Spacing)
		}
	}
	if len(spacings) > 0 {
		s.add("oily turns apart at the widest, in", report.Inch.Show(slices.Min(spacings))+" to "+report.Inch.Show(slices.Max(spacings)))
	}
	for i, b := range f.BowTies {
		name := "bow-tie " + strconv.Itoa(i+1)
		fromPAP, fromGrip := bowTiePlace(b.Place, d)
		s.add(name+" to the PAP, about", fromPAP)
		s.add(name+" to the grip centre, about", fromGrip)
	}
	return s
}

// toHalfInch rounds a length in m to half an inch, for approximate places.
func toHalfInch(length float64) float64 {
	const half = units.Inch / 2
	return math.Round(length/half) * half
}

// bowTiePlace returns the approximate place of a bow-tie: its distances from the PAP and from the centre of
// the grip, to half an inch, and the side of the midline.
func bowTiePlace(v r3.Vec, d ball.Drilling) (fromPAP, fromGrip string) {
	f := d.Before.Frame
	from := func(p r3.Vec) string {
		arc := math.Atan2(math.Sqrt(r3.Norm2(r3.Cross(v, p))), r3.Dot(v, p))
		return InchFraction(toHalfInch(arc * d.Radius))
	}
	side := "fingers"
	if v.Z < 0 {
		side = "thumb"
	}
	return from(f.PAP), from(f.Grip) + ", " + side + " side of the midline"
}

// placeText describes the place of a point, over and up from the centre of the grip.
func placeText(q ball.SurfacePoint) string {
	return toward(q.Over, "right", "left") + ", " + toward(q.Up, "up", "down")
}

func limitsSection(verdicts []rules.Verdict) Section {
	s := Section{Heading: "Against the limits listed"}
	for _, v := range verdicts {
		name := strings.ReplaceAll(v.Name, "_", " ")
		switch v.Name {
		case "rg":
			name = "low RG"
		case "static_finger_thumb":
			name = "static finger/thumb"
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
		switch {
		case math.IsNaN(v.Value):
		case v.Unit == "oz" && v.Verdict == rules.Within:
			value = ounces(v.Value*units.Ounce) + " " + value
		default:
			value = report.Short(v.Value) + " " + value
		}
		s.add(name, value)
	}
	return s
}

// LayoutDocument returns a document with balls side by side, a few in each table, and the cautions.
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

// LayoutsSideBySide is [LayoutDocument] without the cautions, with a given number of balls side by side.
func LayoutsSideBySide(title string, balls []Layout, across int) report.Document {
	doc := report.Document{Title: title}
	for part := range slices.Chunk(balls, across) {
		doc.Table(layoutColumns(part))
	}
	return doc
}

// layoutColumns returns the table of balls side by side. Rows that only some balls have keep their order.
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
	report.AddRow(&t, "ball", balls, func(l Layout) string { return l.Ball })
	report.AddRow(&t, "bowler", balls, func(l Layout) string { return l.Bowler })
	headings := map[int]bool{}
	for i, k := range order {
		if i == 0 || order[i-1].heading != k.heading {
			headings[len(t.Rows)+1] = true
			t.Rows = append(t.Rows, []string{""}, []string{k.heading})
		}
		row, said := []string{k.name}, false
		for j := range balls {
			v, ok := values[j][k]
			if !ok {
				v = report.Absent
			}
			said = said || v != ""
			row = append(row, v)
		}
		if !said {
			row = row[:1]
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

// LayoutAnswer describes a layout and its flare in a sentence.
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
