package measured

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/report"
	"lanesim/studies/measure"
)

// Measured is a measured delivery.
type Measured struct {
	Title, Name string
	Found       measure.Result
	Taken       map[string]string // sources of quantities that were not measured
	Warnings    []string
	Readings    measure.Readings // the measurements
	Bowler      json.RawMessage  // for a scenario, with all digits
	Release     physics.Release  // of the bowler
	PAP         ball.PAP
}

// Cautions about measurements. The numbers for a flaring ball are from simulated first turns with the pin 3⅜
// in from the PAP.
const (
	oneDeliveryCaution = "The ± is one standard deviation and follows from the reading errors alone, for one delivery: measure several and compare."
	flareCaution       = "A flaring ball leaves a ring that is no circle: simulated first turns put the PAP off by 2.6 mm and the tilt by 1.0° " +
		"for a differential of 0.020 in, by 6 mm and 2.4° for 0.055 in."
	laneCaution = "Stay off the oiled lane when you film or time a ball, and lift it with two hands to read its ring."
)

// cautions returns the cautions about the measurements.
func (m *Measured) cautions() []string {
	if m.Readings.Ring != nil || m.Readings.RingSize != nil {
		return []string{oneDeliveryCaution, flareCaution, laneCaution}
	}
	return []string{oneDeliveryCaution, laneCaution}
}

// Findings returns warnings about what the readings do not determine.
func (m *Measured) Findings() []string {
	var list []string
	for _, w := range m.Found.RingWarnings {
		list = append(list, "oil ring: "+string(w))
	}
	if m.Found.SignOpen {
		list = append(list, "oil ring: its size leaves the sign of the tilt open; taken as positive, the ring beyond the equator from the PAP")
	}
	if at := m.Found.Gutter; at > 0 {
		list = append(list, fmt.Sprintf("lane time: with this line the simulated ball leaves the lane at %.3g ft; its time was found without gutters", report.Foot.In(at)))
	}
	return list
}

// how describes the readings from which a quantity was found.
func (m *Measured) how(q *measure.Quantity) string {
	f, r := m.Found, m.Readings
	switch q {
	case f.AverageSpeed, f.Speed:
		t := r.LaneTime
		text := fmt.Sprintf("%.4g s from %.4g to %.4g ft", t.Time.Value, report.Foot.In(t.From), report.Foot.In(t.To))
		if q == f.Speed {
			text += ", by simulation"
		}
		return text
	case f.RevRate:
		return fmt.Sprintf("%.4g revolutions in %.4g frames at %.4g frames per second", r.Frames.Revolutions.Value, r.Frames.Frames.Value, r.Frames.FramesPerSecond)
	case f.AxisRotation:
		angle := report.Degree.In(r.Photo.Angle.Value)
		if r.Photo.View == measure.FromAbove {
			return fmt.Sprintf("axis at %.4g° to the travel, from above", angle)
		}
		tilt := "the measured"
		if f.AxisTilt == nil {
			tilt = "an assumed"
		}
		return fmt.Sprintf("axis %.4g° below the horizontal, from behind at %.3g° elevation, with %s axis tilt of %.3g°",
			angle, report.Degree.In(r.Photo.Elevation.Value), tilt, report.Degree.In(f.Release.AxisTilt))
	}
	if r.RingSize != nil {
		return string(r.RingSize.Method) + " of the first oil ring"
	}
	return fmt.Sprintf("circle through %d points of the first oil ring", len(r.Ring.Points))
}

type quantity struct {
	key, label string
	unit       report.Unit
	found      *measure.Quantity
	source     string  // key of Taken if it was not measured
	value      float64 // in SI, if it was not measured
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
		{"", "launch angle", report.LaunchDegree, nil, "angle", r.Angle},
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
			o = report.ObjectOf("value", q.unit.In(q.found.Value), "uncertainty", q.unit.In(q.found.Uncertainty), "how", m.how(q.found))
		}
		measured = append(measured, report.ObjectOf(q.key, o)...)
	}
	return report.WriteJSON(to, report.ObjectOf(
		"model", report.Model, "title", m.Title, "name", m.Name, "measured", measured, "taken", m.Taken,
		"warnings", report.Texts(m.Warnings), "cautions", m.cautions(), "bowler", m.Bowler,
	))
}

// Table formats the measured numbers for people.
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
			g.Rows = append(g.Rows, append(append(head, values...), m.how(q.found)))
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
