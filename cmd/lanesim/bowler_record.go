package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"lanesim/report"
	"lanesim/scenario"
	"lanesim/studies"
)

// builtinBowlerRecord is a built-in bowler as it is printed.
type builtinBowlerRecord struct {
	Name         string      `json:"name"`
	About        string      `json:"about"`
	Speed        number      `json:"speed_mph"`
	RevRate      number      `json:"rev_rate_rpm"`
	AxisRotation number      `json:"axis_rotation_deg"`
	AxisTilt     number      `json:"axis_tilt_deg"`
	PAPOver      number      `json:"pap_over_in"`
	PAPUp        number      `json:"pap_up_in"`
	Laydown      number      `json:"laydown"`
	Aim          string      `json:"aim"`
	Marks        bowlerMarks `json:"marks"`
}

// bowlerMarks tell where numbers come from.
type bowlerMarks struct {
	Speed   string `json:"speed_mph"`
	RevRate string `json:"rev_rate_rpm"`
	Others  string `json:"others"`
}

const (
	markPublished = "published"
	markAssumed   = "assumed"
)

func recordBuiltinBowler(b scenario.BuiltinBowler) builtinBowlerRecord {
	mark := markAssumed
	if b.Published {
		mark = markPublished
	}
	w := b.Bowler
	return builtinBowlerRecord{
		Name: b.Word, About: b.About,
		Speed: trade(w.Release.Speed, milesPerHour), RevRate: trade(w.Release.RevRate, revsPerMinute),
		AxisRotation: trade(w.Release.AxisRotation, degrees), AxisTilt: trade(w.Release.AxisTilt, degrees),
		PAPOver: trade(w.PAP.Over, inches), PAPUp: trade(w.PAP.Up, inches),
		Laydown: number(w.Release.Laydown), Aim: "pocket",
		Marks: bowlerMarks{mark, mark, markAssumed},
	}
}

// trade converts a number that was written in a trade unit back to that, to the
// digits that survive the way there and back.
func trade(v float64, convert func(float64) float64) number {
	const digits = 12 // of the 15 to 17 that a float64 has
	made, err := strconv.ParseFloat(strconv.FormatFloat(convert(v), 'g', digits, 64), 64)
	if err != nil {
		return number(convert(v))
	}
	return number(made)
}

// quantityRecord is a measured number with its standard deviation.
type quantityRecord struct {
	Value       number `json:"value"`
	Uncertainty number `json:"uncertainty"`
	How         string `json:"how"`
}

func recordQuantity(q *studies.Quantity, convert func(float64) float64) *quantityRecord {
	if q == nil {
		return nil
	}
	return &quantityRecord{number(convert(q.Value)), number(convert(q.Uncertainty)), q.How}
}

// measuredRecord is what was measured of a delivery, as it is printed.
type measuredRecord struct {
	Model    int    `json:"model"`
	Title    string `json:"title"`
	Name     string `json:"name"`
	Measured struct {
		AverageSpeed *quantityRecord `json:"average_speed_mph"`
		Speed        *quantityRecord `json:"speed_mph"`
		RevRate      *quantityRecord `json:"rev_rate_rpm"`
		AxisRotation *quantityRecord `json:"axis_rotation_deg"`
		AxisTilt     *quantityRecord `json:"axis_tilt_deg"`
		PAPOver      *quantityRecord `json:"pap_over_in"`
		PAPUp        *quantityRecord `json:"pap_up_in"`
	} `json:"measured"`
	Taken    map[string]string `json:"taken"` // where what was not measured comes from
	Warnings []string          `json:"warnings"`
	Cautions []string          `json:"cautions"`
	Bowler   json.RawMessage   `json:"bowler"` // for a scenario, exact

	bowler scenario.Bowler
}

// Cautions about measurements. The figures about a flaring ball are those of
// simulated first turns with the pin 3⅜ in from the PAP.
const (
	oneDeliveryCaution = "The ± is one standard deviation and follows from the reading errors alone, for one delivery: measure several and compare."
	flareCaution       = "A flaring ball leaves a ring that is no circle: simulated first turns put the PAP off by 2.6 mm and the tilt by 1.0° " +
		"for a differential of 0.020 in, by 6 mm and 2.4° for 0.055 in."
	laneCaution = "Stay off the oiled lane when you film or time a ball, and lift it with two hands to read its ring."
)

func recordMeasured(m *scenario.Measurements, found studies.Measured) (measuredRecord, error) {
	b := m.Measured(found)
	r := measuredRecord{
		Model: model, Title: m.Title, Name: b.Name, Taken: m.Sources,
		Warnings: append(append([]string{}, m.Warnings...), found.Warnings...), Cautions: []string{oneDeliveryCaution}, bowler: b,
	}
	r.Measured.AverageSpeed = recordQuantity(found.AverageSpeed, milesPerHour)
	r.Measured.Speed = recordQuantity(found.Speed, milesPerHour)
	r.Measured.RevRate = recordQuantity(found.RevRate, revsPerMinute)
	r.Measured.AxisRotation = recordQuantity(found.AxisRotation, degrees)
	r.Measured.AxisTilt = recordQuantity(found.AxisTilt, degrees)
	r.Measured.PAPOver = recordQuantity(found.PAPOver, inches)
	r.Measured.PAPUp = recordQuantity(found.PAPUp, inches)
	if m.Readings.Ring != nil || m.Readings.RingSize != nil {
		r.Cautions = append(r.Cautions, flareCaution)
	}
	r.Cautions = append(r.Cautions, laneCaution)
	var err error
	r.Bowler, err = scenario.BowlerJSON(b)
	return r, err
}

// measuredTable prints measured numbers for people.
func measuredTable(r measuredRecord, c report.Paint) string {
	var b strings.Builder
	if r.Title != "" {
		b.WriteString(c.Heading(r.Title) + "\n\n")
	}
	t := report.Grid{Left: []bool{true, false, false, true}, Rows: [][]string{{"", "value", "±", "how it was found"}}}
	row := func(name string, q *quantityRecord, key string, value float64) {
		switch source, taken := r.Taken[key]; {
		case q != nil:
			t.Rows = append(t.Rows, append(append([]string{name}, report.WithUncertainty(float64(q.Value), float64(q.Uncertainty))...), q.How))
		case taken:
			t.Rows = append(t.Rows, []string{name, report.Figure(value), report.Absent, source})
		}
	}
	release := r.bowler.Release
	row("average speed, mph", r.Measured.AverageSpeed, "", 0)
	row("speed at release, mph", r.Measured.Speed, "speed", milesPerHour(release.Speed))
	row("rev rate, rpm", r.Measured.RevRate, "rev_rate", revsPerMinute(release.RevRate))
	row("axis rotation, deg", r.Measured.AxisRotation, "axis_rotation", degrees(release.AxisRotation))
	row("axis tilt, deg", r.Measured.AxisTilt, "axis_tilt", degrees(release.AxisTilt))
	row("PAP over, in", r.Measured.PAPOver, "pap", inches(r.bowler.PAP.Over))
	row("PAP up, in", r.Measured.PAPUp, "pap", inches(r.bowler.PAP.Up))
	row("laydown, board", nil, "laydown", release.Laydown)
	row("launch angle, deg", nil, "angle", degrees(release.Angle))
	t.Style = func(row, _ int, text string) string {
		if row == 0 {
			return c.Heading(text)
		}
		return text
	}
	b.WriteString(t.String() + "\n")
	for _, caution := range r.Cautions {
		b.WriteString(caution + "\n")
	}
	return b.String()
}

// bowlerBlock writes the bowler for a scenario, with what stands on no
// measurement in comments above it.
func bowlerBlock(r measuredRecord, b scenario.Bowler) []byte {
	var text strings.Builder
	groups := map[string][]string{}
	var order []string
	for _, key := range []string{"hand", "pap", "speed", "rev_rate", "axis_rotation", "axis_tilt", "phase", "laydown", "laydown_distance", "angle"} {
		source, taken := r.Taken[key]
		if key == "angle" && b.AimAtPocket {
			key, source = "aim", "no line is known: it aims at the pocket"
		}
		if !taken {
			continue
		}
		if groups[source] == nil {
			order = append(order, source)
		}
		groups[source] = append(groups[source], key)
	}
	text.WriteString("# For a scenario. Measured but for these:\n")
	for _, source := range order {
		fmt.Fprintf(&text, "#   %s: %s\n", strings.Join(groups[source], ", "), source)
	}
	text.Write(scenario.BowlerYAML(b))
	return []byte(text.String())
}
