package scenario

import (
	"fmt"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/lane"
	"lanesim/report"
	"lanesim/studies"
)

// measuredKey is the key under which a lane or a ball names its measured values.
const measuredKey = "measured"

// mark is a value that can be marked as measured.
type mark struct {
	key string
	of  *bool
}

func laneMarks(m *lane.Measured) []mark {
	return []mark{{"film", &m.Film}, {"dry", &m.Dry}, {"entrained", &m.Entrained}, {"roughness", &m.Roughness}}
}

func ballMarks(m *ball.Measured) []mark {
	return []mark{{"pick_up", &m.PickUp}, {"give_back", &m.GiveBack}, {"contact_width", &m.ContactWidth}, {"contact_radius", &m.ContactRadius}}
}

// measuredField is the field in which a lane or a ball names its measured values.
func measuredField(marks []mark) field {
	return field{key: measuredKey, meaning: "Which of the values given are measured: they are kept when conclusions are tried with other assumed values",
		shape: listOf(words(input.Each(marks, func(m mark) string { return m.key })...), 1, 0), note: "none"}
}

// measured resolves which values of a lane or a ball are measured. They must be given,
// in it or in one of its parts.
func (r *reader) measured(v, part *value, marks []mark) {
	for _, item := range v.field(measuredKey).items {
		i := slices.IndexFunc(marks, func(m mark) bool { return m.key == item.word })
		switch {
		case item.bad:
		case *marks[i].of:
			r.fail(item, item.word+" is marked twice", "")
		case v.field(item.word).given || part.field(item.word).given:
			*marks[i].of = true
		default:
			r.fail(item, item.word+" is marked as measured, but its value is not given", "")
		}
	}
}

// withMeasured adds the names of the measured values, if there are any.
func withMeasured(o report.Object, marks []mark) report.Object {
	var list []string
	for _, m := range marks {
		if *m.of {
			list = append(list, m.key)
		}
	}
	if list == nil {
		return o
	}
	return o.With(measuredKey, list)
}

// assumedMeanings describe the assumed values.
var assumedMeanings = map[string]string{
	"lane.friction.film":             "Coefficient of friction of a reactive cover on a full film",
	"lane.friction.dry":              "Coefficient of friction of a reactive cover in a dry contact",
	"lane.friction.entrained":        "Share of the oil in the gap that the contact draws in",
	"lane.roughness":                 "Ra of the lane's surface",
	"ball.film_memory.pick_up":       "Share of the lane's film that a pass picks up",
	"ball.film_memory.give_back":     "Share of the ball's film that it lays down",
	"ball.film_memory.contact_width": "Width of the contact",
	"ball.contact_radius":            "Radius of the contact patch, for pivot friction",
}

// assumedValues lists the assumed values and their ranges.
func (r *page) assumedValues() {
	fmt.Fprintf(r, "## Assumed values and their ranges\n\n"+
		"Conclusions are tried with sets of these values: the points 1, 2 … of the Halton sequence with the bases 2, 3, 5, 7, 11, 13, 17 and 19, in the order of "+
		"the table. Values that a lane or a ball names under `measured` are kept. Where lanes or balls differ in a value, the first gets the value of the set and the "+
		"others keep their ratio to it. The ranges are *assumed*, too.\n\n| value | meaning | from | to | uniform in |\n| --- | --- | --- | --- | --- |\n")
	for _, a := range studies.AssumedValues() {
		uniform := "the logarithm"
		if a.Uniform {
			uniform = "the value"
		}
		n := fieldAt(a.Key).shape.number
		fmt.Fprintf(r, "| `%s` | %s | %s | %s | %s |\n", a.Key, assumedMeanings[a.Key], n.dimension.format(a.Low, n.unit), n.dimension.format(a.High, n.unit), uniform)
	}
	r.WriteString("\n")
}

// fieldAt returns the field at a path of keys, nil if there is none.
func fieldAt(path string) (f *field) {
	s := scenarioShape
	for key := range strings.SplitSeq(path, ".") {
		if f = s.field(key); f == nil {
			return nil
		}
		s = f.shape
	}
	return f
}
