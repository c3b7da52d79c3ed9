package layouts

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"lanesim/report"
	"lanesim/units"
)

// DrillSheet is the content of the sheet from which a ball is drilled, formatted for people.
type DrillSheet struct {
	Title   string
	Fields  []Row // customer, ball, serial …; a field without a value is a line to fill in
	Layouts []Row // the layout in both forms
	Steps   []Step
	Holes   [][]string // the first row has the headings; cells may have two lines
	Note    string     // below the holes, if any
	Lists   []Section  // side by side below the holes
	Details []Section  // on the second page
	Strips  []Strip    // at true scale
}

// NewDrillSheet returns the sheet of a ball, with the clearances and the flare on one lane.
func NewDrillSheet(l Layout, f Flare) DrillSheet {
	holes, note := holeTable(l)
	return DrillSheet{
		Title: "Drilling sheet: " + l.Ball + " for " + l.Bowler, Fields: sheetFields(l), Layouts: layoutForms(l), Steps: markingSteps(l), Holes: holes, Note: note,
		Lists:   []Section{onSheet(weightsSection(l), plansSection(l)), clearanceSection(l, []Flare{f})},
		Details: sections(boxSection(l), massSection(l), holeWeightsSection(l.Drilling), layoutSection(l), gripSection(l), flareSection(f, l.Drilling), tolerancesSection(f), limitsSection(l.Verdicts)),
		Strips:  sheetStrips(l),
	}
}

// onSheet joins sections into one.
func onSheet(sections ...Section) Section {
	all := sections[0]
	for _, s := range sections[1:] {
		if len(s.Rows) > 0 {
			all.Rows = append(append(all.Rows, Row{Name: s.Heading}), s.Rows...)
		}
	}
	return all
}

// sheetFields returns the fields at the top; those without a value are lines to fill in.
func sheetFields(l Layout) []Row {
	rows := []Row{{Name: "Customer", Value: l.Bowler}, {Name: "Date"}, {Name: "Hand", Value: l.Drilling.Hand.String()}, {Name: "Ball", Value: l.Ball}}
	box := map[string]string{}
	for _, r := range boxSection(l).Rows {
		if r.Value != unknown {
			box[r.Name] = r.Value
		}
	}
	return append(rows, Row{Name: "Serial", Value: box["serial"]}, Row{Name: "Colour", Value: box["colour"]},
		Row{Name: "Gross weight", Value: cmp.Or(box["gross weight"], writtenOr(l.Written.Ball["weight"], report.Pound.Show(l.Specification.Weight)+" lb"))},
		Row{Name: "Top weight", Value: box["top weight"]},
		Row{Name: "Pin-out", Value: box["pin-out"]},
		Row{Name: "PAP", Value: size(l.Written.Bowler["pap.over"], l.Drilling.PAP.Over, markedParts) + " over, " + size(l.Written.Bowler["pap.up"], l.Drilling.PAP.Up, markedParts) + " up" + markIf(l.Written.papAssumed())},
		Row{Name: "Diameter", Value: size(l.Written.Ball["diameter"], l.Specification.Diameter, markedParts)},
		Row{Name: "Driller"})
}

// holeTable lists the holes, each size in inches and below that in mm, with a star and a note for values that
// were not given.
func holeTable(l Layout) (rows [][]string, note string) {
	d, w := l.Drilling, l.Written
	if len(d.Holes) == 0 {
		return nil, ""
	}
	cell := func(text string) string {
		text, assumed := strings.CutSuffix(text, assumedSize)
		inches, mm, _ := strings.Cut(text, ", ")
		if assumed {
			inches += "*"
			note = "* not given: the usual size, assumed. Ask before the drill turns."
		}
		return strings.TrimSuffix(inches+"\n"+mm, "\n")
	}
	rows = [][]string{{"Hole", "Diameter", "Depth", "Pitch along\nthe grip", "Lateral\npitch", "Insert or\nslug", "Its\nlength", "Cut\nspan", "Fitted\nspan", "Oval;\nbevel"}}
	middle, ring := d.Grip.Fitted()
	cut := map[string][2]float64{"middle": {d.Grip.MiddleSpan, middle}, "ring": {d.Grip.RingSpan, ring}}
	for _, h := range d.Holes {
		s := holeSizes(h, w.Ball, d.Hand, "")
		row := []string{h.Name, cell(s.diameter), cell(s.depth), cell(s.along), cell(s.lateral), cell(s.inside), cell(s.long), "", "", strings.Trim(h.Oval+"; "+h.Bevel, "; ")}
		if s.outside != "" {
			row[5] += "\nouter " + s.outside
		}
		if c, ok := cut[h.Name]; ok && d.Grip.Thumb != nil {
			row[7], row[8] = cell(w.span("span", h.Name, c[0])), cell(w.span("fitted_span", h.Name, c[1]))
		}
		rows = append(rows, row)
	}
	for c := len(rows[0]) - 1; c > 0; c-- {
		if !slices.ContainsFunc(rows[1:], func(r []string) bool { return r[c] != "" }) {
			for i := range rows {
				rows[i] = slices.Delete(rows[i], c, c+1)
			}
		}
	}
	return rows, note
}

// sheetStrips returns the paper strips of the sheet.
func sheetStrips(l Layout) []Strip {
	d := l.Drilling
	var list []Strip
	add := func(name string, length float64) {
		if math.Abs(length) > units.Inch/64 {
			list = append(list, Strip{Name: name, Length: math.Abs(length)})
		}
	}
	if l.Specification.Layout != nil {
		m := d.Before.Measures
		add("pin to PAP", m.Distances.PinToPAP)
		add(reference(l)+" to PAP", m.Distances.PSAToPAP)
		add("pin to VAL", m.Distances.PinToVAL)
	}
	add("PAP over", d.PAP.Over)
	add("PAP up", d.PAP.Up)
	if d.Grip.Thumb != nil {
		add("cut span to the middle finger", d.Grip.MiddleSpan)
		add("cut span to the ring finger", d.Grip.RingSpan)
	}
	if d.Grip.Middle != nil {
		add("bridge", d.Grip.Bridge)
	}
	return list
}
