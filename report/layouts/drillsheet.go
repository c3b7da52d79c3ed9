package layouts

import (
	"math"
	"strings"

	"lanesim/report"
	"lanesim/units"
)

// DrillSheet is what stands on the sheet that a ball is drilled from, all of it as it
// is to be read.
type DrillSheet struct {
	Title   string
	Fields  []Row // customer, ball, serial …; a field without value is a line to fill in
	Layouts []Row // the layout in both forms
	Steps   []Step
	Holes   [][]string // the first row holds the headings
	Lists   []Section  // side by side below the holes
	Details []Section  // on the second page
	Strips  []Strip    // at true scale
}

// NewDrillSheet returns the sheet of a ball, with the clearances and the flare on one
// lane.
func NewDrillSheet(l Layout, f Flare) DrillSheet {
	return DrillSheet{
		Title: "Drilling sheet: " + l.Ball + " for " + l.Bowler, Fields: sheetFields(l), Layouts: layoutForms(l), Steps: markingSteps(l), Holes: holeTable(l),
		Lists:   []Section{onSheet(weightsSection(l), plansSection(l)), clearanceSection(l, []Flare{f})},
		Details: []Section{massSection(l), holeWeightsSection(l.Drilling), layoutSection(l), gripSection(l), flareSection(f, l.Drilling), tolerancesSection(f), limitsSection(l.Verdicts)},
		Strips:  sheetStrips(l),
	}
}

// onSheet puts sections below each other.
func onSheet(sections ...Section) Section {
	all := sections[0]
	for _, s := range sections[1:] {
		if len(s.Rows) > 0 {
			all.Rows = append(append(all.Rows, Row{Name: s.Heading}), s.Rows...)
		}
	}
	return all
}

// sheetFields are the fields at the top; those that nothing tells are lines to fill in.
func sheetFields(l Layout) []Row {
	rows := []Row{{Name: "Customer", Value: l.Bowler}, {Name: "Date"}, {Name: "Hand", Value: l.Drilling.Hand.String()}, {Name: "Ball", Value: l.Ball}}
	serial, colour := Row{Name: "Serial"}, Row{Name: "Colour"}
	box := map[string]string{}
	for _, r := range boxSection(l).Rows {
		if r.Value != unknown {
			box[r.Name] = r.Value
		}
	}
	serial.Value, colour.Value = box["serial"], box["colour"]
	weight := box["gross weight"]
	if weight == "" {
		weight = writtenOr(l.Written.Ball["weight"], report.Pound.Show(l.Specification.Weight)+" lb")
	}
	return append(rows, serial, colour,
		Row{Name: "Gross weight", Value: weight},
		Row{Name: "Top weight", Value: box["top weight"]},
		Row{Name: "Pin-out", Value: box["pin-out"]},
		Row{Name: "PAP", Value: size(l.Written.Bowler["pap.over"], l.Drilling.PAP.Over, markedParts) + " over, " + size(l.Written.Bowler["pap.up"], l.Drilling.PAP.Up, markedParts) + " up"},
		Row{Name: "Diameter", Value: size(l.Written.Ball["diameter"], l.Specification.Diameter, markedParts)},
		Row{Name: "Driller"})
}

// holeTable lists the holes as they are drilled.
func holeTable(l Layout) [][]string {
	d, w := l.Drilling, l.Written.Ball
	if len(d.Holes) == 0 {
		return nil
	}
	rows := [][]string{{"Hole", "Diameter", "Depth", "Along the grip", "Across", "Insert or slug", "Span, cut; fitted", "Oval, bevel"}}
	middle, ring := d.Grip.Fitted()
	for _, h := range d.Holes {
		path := "grip." + h.Name + "."
		span := ""
		if d.Grip.Thumb != nil {
			switch h.Name {
			case "middle":
				span = size(l.Written.span("span", "middle"), d.Grip.MiddleSpan, drilledParts) + "; " + size(l.Written.span("fitted_span", "middle"), middle, drilledParts)
			case "ring":
				span = size(l.Written.span("span", "ring"), d.Grip.RingSpan, drilledParts) + "; " + size(l.Written.span("fitted_span", "ring"), ring, drilledParts)
			}
		}
		rows = append(rows, []string{h.Name, sized(w[path+"diameter"], h.Diameter, drilledParts), sized(w[path+"depth"], h.Depth, drilledParts),
			pitch(w[path+"forward"]+w[path+"reverse"], h.Forward, drilledParts, "forward", "reverse"),
			pitch(w[path+"lateral"]+w[path+"left"]+w[path+"right"], h.Lateral, drilledParts, axisSide(d.Hand), otherSide(d.Hand)),
			insertText(h, w), span, strings.Trim(h.Oval+"; "+h.Bevel, "; ")})
	}
	return rows
}

// sheetStrips are the arcs to be cut out of paper.
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
