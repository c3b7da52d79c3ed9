// Package rules compares a ball with the limits listed in limits.json, with their
// source and edition. It reports which values lie within the limits listed; what is
// allowed only the current rule book says.
package rules

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"lanesim/ball"
	"lanesim/units"
)

//go:embed limits.json
var limitsFile []byte

// Limits are rule-book limits, as data: they change between editions.
type Limits struct {
	Edition string  `json:"edition"` // of which rules, and when
	Mark    string  `json:"mark"`    // how well the source is known
	Caution string  `json:"caution"` // to be shown with every verdict
	Limits  []Limit `json:"limits"`
}

// Limit is one limit, in the unit in which it is published. Least and Most
// are nil where there is none.
type Limit struct {
	Name  string   `json:"name"`
	Unit  string   `json:"unit"`
	Least *float64 `json:"least,omitempty"`
	Most  *float64 `json:"most,omitempty"`

	// AboveWeight is the weight in lb of the ball above which the limit is
	// known; 0 for any.
	AboveWeight float64 `json:"above_weight,omitempty"`

	// Class, if not 0, is not a limit: above it the ball is called asymmetrical.
	Class float64 `json:"class,omitempty"`

	Note string `json:"note,omitempty"`
}

var limits = readLimits()

func readLimits() Limits {
	var l Limits
	d := json.NewDecoder(bytes.NewReader(limitsFile))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		panic("rules: limits.json: " + err.Error()) // it is part of the program
	}
	return l
}

// Listed returns the limits that [Check] compares a ball with.
func Listed() Limits {
	l := limits
	l.Limits = append([]Limit(nil), limits.Limits...)
	return l
}

// Listed returns the limit with a name, false if none is listed.
func (l Limits) Listed(name string) (Limit, bool) {
	for _, m := range l.Limits {
		if m.Name == name {
			return m, true
		}
	}
	return Limit{}, false
}

// String describes the limit in words, "" if there is none.
func (l Limit) String() string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	unit := l.Unit
	if unit != "" {
		unit = " " + unit
	}
	switch {
	case l.Class != 0:
		return fmt.Sprintf("none; above %s%s the ball is called asymmetrical", number(l.Class), unit)
	case l.Least == nil && l.Most == nil:
		return ""
	case l.Least == nil:
		return "at most " + number(*l.Most) + unit
	case l.Most == nil:
		return "at least " + number(*l.Least) + unit
	}
	return number(*l.Least) + " to " + number(*l.Most) + unit
}

// Judgement is the result of comparing a value with its limit.
type Judgement string

// The judgements. Unknown stands for values that a specification does not
// have and for limits that are not listed for such a ball.
const (
	Within  Judgement = "within"
	Over    Judgement = "over"
	Under   Judgement = "under"
	Unknown Judgement = "unknown"
)

// Verdict is one value compared with its limit.
type Verdict struct {
	Name    string
	Value   float64 // in Unit; NaN if unknown
	Unit    string
	Limit   string // in words; "" without one
	Verdict Judgement
	Note    string
}

// Check compares a ball and its drilling with the limits listed and returns a
// verdict for each, in their order. It is no certificate: show
// [Limits.Caution] of [Listed] with it.
//
// Weight is that of the undrilled ball. Roughness is the present one. Static
// weights are unknown unless a balance or the box gives them.
func Check(s ball.Specification, d ball.Drilling) []Verdict {
	k := s.RadiiOfGyration()
	values := map[string]float64{
		"diameter":      s.Diameter / units.Inch,
		"circumference": math.Pi * s.Diameter / units.Inch,
		"weight":        s.Weight / units.Pound,
		"rg":            s.RG / units.Inch,
		"differential":  s.Differential / units.Inch,
		"roughness":     s.FinishWear.Worn(s.Roughness, s.GamesSinceFinish) / units.Microinch,
		"holes":         float64(d.Grip.HoleCount()),
		"asymmetry":     0,
	}
	if d.WeightsKnown {
		values["static_side"] = d.After.Static.Side / units.Ounce
		values["static_finger_thumb"] = d.After.Static.FingerThumb / units.Ounce
		values["static_top"] = d.After.Static.Top / units.Ounce
	}
	if s.Differential > 0 {
		values["asymmetry"] = 100 * (k[2] - k[1]) / (k[2] - k[0])
	}
	var list []Verdict
	for _, l := range limits.Limits {
		v := Verdict{Name: l.Name, Value: math.NaN(), Unit: l.Unit, Limit: l.String(), Verdict: Unknown, Note: l.Note}
		if value, ok := values[l.Name]; ok {
			v.Value = value
			v.Verdict, v.Note = l.judge(value, d.After.Mass/units.Pound)
		}
		list = append(list, v)
	}
	return list
}

// judge compares a value with the limit, for a ball of a weight in lb.
func (l Limit) judge(value, weight float64) (Judgement, string) {
	slack := ball.RoundedValue * max(1, value, -value)
	switch {
	case l.Class != 0 && value > l.Class+slack:
		return Within, "asymmetrical"
	case l.Class != 0:
		return Within, "symmetrical"
	case l.AboveWeight != 0 && weight <= l.AboveWeight:
		return Unknown, fmt.Sprintf("listed for balls over %g lb only", l.AboveWeight)
	case l.Most != nil && value > *l.Most+slack:
		return Over, l.Note
	case l.Least != nil && value < *l.Least-slack && *l.Least < 0:
		return Over, l.Note // an imbalance the other way round
	case l.Least != nil && value < *l.Least-slack:
		return Under, l.Note
	case l.Least == nil && l.Most == nil:
		return Unknown, l.Note
	}
	return Within, l.Note
}
