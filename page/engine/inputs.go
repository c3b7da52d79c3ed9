package engine

import (
	"regexp"
	"strings"

	"lanesim/ball"
	"lanesim/patterns"
	"lanesim/report"
	"lanesim/scenario"
	"lanesim/studies"
)

// input is a control of the page: a field of the scenario with the range of its slider.
// Package scenario has the field's meaning and limits.
type input struct {
	key, group, label, term string
	unit                    string
	min, max, step          float64
	decimals                int
	fallback                string
	choices                 []choice
	write, path             string
	excludes, together      []string
	first                   bool
}

type choice struct{ value, label, about string }

// layoutKeys are set together: a layout needs all three.
var layoutKeys = []string{"ball.layout.pin_to_pap", "ball.layout.drilling_angle", "ball.layout.val_angle"}

// lineKeys exclude each other.
var lineKeys = []string{"bowler.angle", "bowler.target.board", "bowler.aim"}

// arrowsTarget is a target at the arrows; % is the board.
const arrowsTarget = "{board: %, distance: 15 ft}"

// inputs lists the inputs in the order in which they are shown.
var inputs = []input{
	{key: "ball.layout.pin_to_pap", group: "layout", label: "Pin to PAP", unit: "in", min: 0, max: 6.75, step: 0.125, decimals: 3, fallback: "4.5 in", together: layoutKeys, first: true},
	{key: "ball.layout.drilling_angle", group: "layout", label: "Drilling angle", unit: "deg", min: 0, max: 180, step: 5, decimals: 1, fallback: "60 deg", together: layoutKeys, first: true},
	{key: "ball.layout.val_angle", group: "layout", label: "VAL angle", unit: "deg", min: 0, max: 90, step: 5, decimals: 1, fallback: "40 deg", together: layoutKeys, first: true},
	{key: "ball.cover", group: "surface", label: "Cover", choices: coverChoices()},
	{key: "ball.roughness", group: "surface", label: "Roughness, Ra", term: "roughness", unit: "uin", min: 2, max: 60, step: 1, decimals: 1, fallback: "14 uin", excludes: []string{"ball.finish"}, first: true},
	{key: "ball.finish", group: "surface", label: "Finish", choices: finishChoices(), excludes: []string{"ball.roughness"}},
	{key: "ball.weight", group: "ball", label: "Weight", unit: "lb", min: 8, max: 16, step: 0.5, decimals: 2, fallback: "15 lb"},
	{key: "ball.rg", group: "ball", label: "RG", unit: "in", min: 2.43, max: 2.8, step: 0.01, decimals: 3, fallback: "2.5 in"},
	{key: "ball.differential", group: "ball", label: "Differential", unit: "in", min: 0, max: 0.06, step: 0.001, decimals: 4, fallback: "0.03 in", together: layoutKeys},
	{key: "ball.intermediate_differential", group: "ball", label: "Intermediate differential", term: "intermediate differential", unit: "in", min: 0, max: 0.03, step: 0.001, decimals: 4, fallback: "0 in", together: layoutKeys},
	{key: "ball.grip", group: "ball", label: "Grip", choices: []choice{{"fingertip", "fingertip", ""}, {"thumbless", "thumbless", ""}, {"undrilled", "undrilled", ""}}},
	{key: "ball.film_memory", group: "ball", label: "Oil on the ball", term: "film memory", choices: []choice{{"on", "carried from turn to turn", ""}, {"off", "none", "the cover is always clean"}}},

	{key: "bowler.speed", group: "release", label: "Speed", term: "speed", unit: "mph", min: 12, max: 24, step: 0.1, decimals: 2, fallback: "18 mph", first: true},
	{key: "bowler.rev_rate", group: "release", label: "Rev rate", unit: "rpm", min: 0, max: 600, step: 5, decimals: 1, fallback: "325 rpm", first: true},
	{key: "bowler.axis_rotation", group: "release", label: "Axis rotation", unit: "deg", min: 0, max: 90, step: 1, decimals: 2, fallback: "45 deg", first: true},
	{key: "bowler.axis_tilt", group: "release", label: "Axis tilt", unit: "deg", min: 0, max: 45, step: 1, decimals: 2, fallback: "14 deg", first: true},
	{key: "bowler.hand", group: "release", label: "Hand", choices: []choice{{"right", "right", ""}, {"left", "left", ""}}},
	{key: "bowler.pap.over", group: "release", label: "PAP over", term: "PAP", unit: "in", min: 3, max: 7, step: 0.125, decimals: 3, fallback: "5 in"},
	{key: "bowler.pap.up", group: "release", label: "PAP up", term: "PAP", unit: "in", min: -2, max: 2, step: 0.125, decimals: 3, fallback: "0.5 in"},
	{key: "bowler.phase", group: "release", label: "Phase of the core", term: "phase", unit: "deg", min: 0, max: 355, step: 5, decimals: 1, fallback: "0 deg"},

	{key: "bowler.aim", group: "line", label: "Launch", term: "aim", choices: []choice{{"pocket", "find the line to the pocket", ""}, {"", "as set by hand", ""}}, excludes: lineKeys, first: true},
	{key: "bowler.laydown", group: "line", label: "Laydown", unit: "", min: 5, max: 38, step: 0.5, decimals: 2, fallback: "22", first: true},
	{key: "bowler.target.board", group: "line", label: "Board at the arrows", term: "arrows", min: 1, max: 39, step: 0.25, decimals: 3, fallback: "12", write: arrowsTarget, path: "target", excludes: lineKeys, first: true},

	{key: "lane.oil", group: "lane", label: "Oil", term: "oil", choices: oilChoices(), first: true},
	{key: "lane.friction.film", group: "lane", label: "Friction on a full film", term: "friction on film", min: 0.005, max: 0.06, step: 0.001, decimals: 4, fallback: "0.022"},
	{key: "lane.friction.dry", group: "lane", label: "Friction on dry boards", term: "friction on dry", min: 0.1, max: 0.35, step: 0.005, decimals: 4, fallback: "0.2"},
	{key: "lane.friction.entrained", group: "lane", label: "Share of the oil drawn in", term: "entrained", min: 0.1, max: 1, step: 0.05, decimals: 3, fallback: "0.5"},
	{key: "lane.tilt", group: "lane", label: "Tilt, left edge higher", term: "tilt", unit: "in", min: -0.04, max: 0.04, step: 0.005, decimals: 4, fallback: "0 in"},
}

func coverChoices() []choice {
	var list []choice
	for _, c := range ball.Covers() {
		list = append(list, choice{c.Name, c.Name, "assumed"})
	}
	return append(list, choice{"", "as in the file", ""})
}

func finishChoices() []choice {
	var list []choice
	for _, word := range ball.FinishWords() {
		list = append(list, choice{word, word, "assumed"})
	}
	for _, g := range []string{"500 grit", "1000 grit", "2000 grit", "3000 grit", "4000 grit"} {
		list = append(list, choice{g, g, "assumed"})
	}
	return append(list, choice{"", "by its roughness", ""})
}

func oilChoices() []choice {
	var list []choice
	for _, b := range patterns.Builtins() {
		about := ""
		if p, err := scenario.ReadPattern(b.Name, b.Source); err == nil {
			about = p.About
		}
		list = append(list, choice{b.Name, b.Name, about})
	}
	return append(list, choice{"dry", "dry", "no oil"}, choice{"", "as in the file", ""})
}

// pathOf returns the path of an input's value, as after --set.
func (i input) pathOf(side int) string {
	object, part, _ := strings.Cut(i.key, ".")
	if i.path != "" {
		part = i.path
	}
	if object == "ball" {
		return [sides]string{"balls[0].", "balls[1]."}[side] + part
	}
	return object + "." + part
}

var ballPath = regexp.MustCompile(`^balls\[([01])\]\.`)

// inputAt returns the key and the side of the input to which a path belongs, "" for none.
func inputAt(path string) (key, side string) {
	at := 0
	if m := ballPath.FindStringSubmatch(path); m != nil {
		at = int(m[1][0] - '0')
		side = sideNames[at]
	}
	for _, i := range inputs {
		if p := i.pathOf(at); path == p || strings.HasPrefix(path, p+".") {
			return i.key, side
		}
	}
	return "", side
}

// inputObjects returns the inputs for the page.
func inputObjects() report.List {
	return report.Each(inputs, func(i input) report.Object {
		of, kind, write, term := "both", "number", i.write, i.term
		if strings.HasPrefix(i.key, "ball.") { // A and B have a value each
			of = "each"
		}
		if i.choices != nil {
			kind = "choice"
		}
		if write == "" {
			write = "%"
		}
		if term == "" {
			term = strings.ToLower(i.label)
		}
		meaning := scenario.Meaning(i.key)
		return report.ObjectOf("key", i.key, "of", of, "group", i.group, "label", i.label, "meaning", meaning,
			"term", term, "kind", kind, "unit", i.unit, "min", i.min, "max", i.max,
			"step", i.step, "decimals", i.decimals, "fallback", i.fallback,
			"choices", report.Each(i.choices, func(c choice) report.Object {
				return report.ObjectOf("value", c.value, "label", c.label, "about", c.about)
			}),
			"write", write, "path", i.path, "excludes", texts(i.excludes), "together", texts(i.together), "first", i.first)
	})
}

// texts returns a list that is never nil, so that JSON has an empty array and not null.
func texts(list []string) []string { return append([]string{}, list...) }

// arrowsBoard returns the board at the arrows at which a setup's ball is aimed.
func (s *setup) arrowsBoard(angle float64) float64 {
	r := s.bowler().Release
	r.Angle = angle
	return studies.BoardAtArrows(r)
}
