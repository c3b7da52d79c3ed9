package engine

import (
	"encoding/json"
	"strconv"
	"strings"

	"lanesim/lane"
	"lanesim/report"
)

// value is the present value of an input, exactly as in a scenario.
type value string

// object returns the value as text and number in the unit of the text, null if it is not a
// number.
func (v value) object() report.Object {
	o := report.ObjectOf("number", nil, "text", string(v))
	digits, _, _ := strings.Cut(string(v), " ")
	if n, err := strconv.ParseFloat(digits, 64); err == nil {
		o[0].Value = n
	}
	return o
}

// values returns the present values of all inputs of a setup whose balls have these launch
// angles in rad.
func (s *setup) values(angles [sides]float64) (report.Object, error) {
	var written [sides]map[string]any
	for side := range written {
		text, err := s.Inputs(s.balls[side], angles[side])
		if err != nil {
			return nil, err
		}
		if err := json.Unmarshal(text, &written[side]); err != nil {
			return nil, err
		}
	}
	var all report.Object
	for _, i := range inputs {
		both := report.Object{}
		for side := range written {
			both = append(both, report.ObjectOf(sideNames[side], s.value(i, written[side], side, angles[side]).object())...)
		}
		all = append(all, report.ObjectOf(i.key, both)...)
	}
	return all, nil
}

// value returns the value of an input from the scenario as written.
func (s *setup) value(i input, written map[string]any, side int, angle float64) value {
	switch i.key {
	case "bowler.aim":
		if s.bowler().AimAtPocket {
			return "pocket"
		}
		return ""
	case "bowler.target.board":
		if s.bowler().Release.LaydownDistance >= lane.Arrows {
			return ""
		}
		return value(strconv.FormatFloat(report.Plain(s.arrowsBoard(angle)), 'g', -1, 64))
	case "ball.finish":
		return value(s.document.Finish(s.Sets, side))
	case "ball.film_memory":
		if s.Balls[side].Memory.Off {
			return "off"
		}
		return "on"
	case "ball.grip":
		return value(s.Grips[side].Kind)
	}
	var at any = written
	for key := range strings.SplitSeq(i.key, ".") {
		inner, _ := at.(map[string]any)
		at = inner[key]
	}
	switch v := at.(type) {
	case string:
		return value(v)
	case float64:
		return value(strconv.FormatFloat(v, 'g', -1, 64))
	}
	return ""
}
