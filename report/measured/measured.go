package measured

import (
	"encoding/json"
	"io"
	"strings"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies/measure"
)

// Measured is what was measured of a delivery.
type Measured struct {
	Title, Name string
	Found       measure.Result
	Taken       map[string]string // where what was not measured comes from
	Warnings    []string
	Ring        bool            // whether the ring of oil on a ball was read
	Bowler      json.RawMessage // for a scenario, exact
	Release     physics.Release // of the bowler
	PAP         ball.PAP
}

// Cautions about measurements. The figures about a flaring ball are those of
// simulated first turns with the pin 3⅜ in from the PAP.
const (
	oneDeliveryCaution = "The ± is one standard deviation and follows from the reading errors alone, for one delivery: measure several and compare."
	flareCaution       = "A flaring ball leaves a ring that is no circle: simulated first turns put the PAP off by 2.6 mm and the tilt by 1.0° " +
		"for a differential of 0.020 in, by 6 mm and 2.4° for 0.055 in."
	laneCaution = "Stay off the oiled lane when you film or time a ball, and lift it with two hands to read its ring."
)

// cautions say what to mind about the measurements.
func (m *Measured) cautions() []string {
	if m.Ring {
		return []string{oneDeliveryCaution, flareCaution, laneCaution}
	}
	return []string{oneDeliveryCaution, laneCaution}
}

// quantity is a measured number with its standard deviation.
type quantity struct {
	key, label string
	unit       report.Unit
	found      *measure.Quantity
	source     string  // by which it was taken instead
	value      float64 // in SI, if it was
}

func (m *Measured) quantities() []quantity {
	f, r := m.Found, m.Release
	return []quantity{
		{"average_speed_mph", "average speed", report.MPH, f.AverageSpeed, "", 0},
		{"speed_mph", "speed at release", report.MPH, f.Speed, "speed", r.Speed},
		{"rev_rate_rpm", "rev rate", report.RPM, f.RevRate, "rev_rate", r.RevRate},
		{"axis_rotation_deg", "axis rotation", report.Degree, f.AxisRotation, "axis_rotation", r.AxisRotation},
		{"axis_tilt_deg", "axis tilt", report.Degree, f.AxisTilt, "axis_tilt", r.AxisTilt},
		{"pap_over_in", "PAP over", report.Inch, f.PAPOver, "pap", m.PAP.Over},
		{"pap_up_in", "PAP up", report.Inch, f.PAPUp, "pap", m.PAP.Up},
		{"", "laydown", oneBoard, nil, "laydown", r.Laydown},
		{"", "launch angle", report.Degree.Digits(2), nil, "angle", r.Angle},
	}
}

// WriteJSON writes the measurements as JSON.
func (m *Measured) WriteJSON(to io.Writer) error {
	var measured report.Object
	for _, q := range m.quantities() {
		if q.key == "" {
			continue
		}
		var o report.Object
		if q.found != nil {
			o = report.ObjectOf("value", q.unit.In(q.found.Value), "uncertainty", q.unit.In(q.found.Uncertainty), "how", q.found.How)
		}
		measured = append(measured, report.ObjectOf(q.key, o)...)
	}
	return report.WriteJSON(to, report.ObjectOf(
		"model", report.Model, "title", m.Title, "name", m.Name, "measured", measured, "taken", m.Taken,
		"warnings", report.Texts(m.Warnings), "cautions", m.cautions(), "bowler", m.Bowler,
	))
}

// Table prints measured numbers for people.
func (m *Measured) Table(c report.Paint) string {
	var b strings.Builder
	if m.Title != "" {
		b.WriteString(c.Heading(m.Title) + "\n\n")
	}
	g := report.Grid{Left: []bool{true, false, false, true}, Rows: [][]string{{"", "value", "±", "how it was found"}}, Tone: report.HeadingFirst}
	for _, q := range m.quantities() {
		head := []string{q.label + ", " + q.unit.Name}
		switch source, taken := m.Taken[q.source]; {
		case q.found != nil:
			values := report.WithUncertainty(q.unit.In(q.found.Value), q.unit.In(q.found.Uncertainty))
			g.Rows = append(g.Rows, append(append(head, values...), q.found.How))
		case taken:
			g.Rows = append(g.Rows, append(head, q.unit.Show(q.value), report.Absent, source))
		}
	}
	b.WriteString(g.Print(c) + "\n")
	for _, caution := range m.cautions() {
		b.WriteString(caution + "\n")
	}
	return b.String()
}
