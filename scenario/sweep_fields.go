package scenario

import (
	"strconv"

	"lanesim/studies/sweep"
)

// sweepShape is a whole sweep file. The values of scenario and vary are read separately, as
// scenarios are: their shapes here only check that they are given.
var sweepShape = record("a sweep", []field{
	{key: "title", meaning: "Free text, shown on plots", shape: freeText, note: "the scenario's"},
	{key: "scenario", meaning: "The scenario of which some fields vary: a scenario file, relative to this one, or a scenario written out",
		shape: scenarioStandIn, note: "required"},
	{key: "vary", meaning: "What varies: paths of the scenario's fields as in --set, each with a list of values or a range",
		shape: varyStandIn, note: "required"},
	{key: "design", meaning: "How values are combined: each with all others (grid; the last field changes fastest), " +
		"or points spread over the ranges, as a Latin hypercube or a Halton sequence",
		shape: words(spelled(sweep.Kinds())...), fallback: string(sweep.Grid)},
	{key: "points", meaning: "Number of points", shape: whole(atLeast("1"), atMost(strconv.Itoa(sweep.MostPoints))),
		note: "needed with latin and halton; a grid has all combinations"},
	{key: "seed", meaning: "Seed of the points; a Halton sequence with seed 0 is the plain one, with another its digits are permuted",
		shape: whole(atLeast("0"), atMost(strconv.Itoa(mostSeed))), fallback: "0"},
	{key: "columns", meaning: "Columns to keep of each shot, from those listed below", shape: listOf(freeText, 1, 0), required: true},
})

// The shapes of the placeholders, shown on the page of fields.
var (
	scenarioStandIn = &shape{what: "a scenario", text: true, forms: scenarioShape.forms}
	varyStandIn     = record("fields that vary", nil)
)

// mostSeed is the largest seed: up to it every whole number is a float64 of its own.
const mostSeed = 1 << 53

// rangeShape is a range of values of a field, with both ends.
func rangeShape(of *shape) *shape {
	return record("a range", []field{
		{key: "from", meaning: "The first value", shape: of, required: true},
		{key: "to", meaning: "The last value", shape: of, required: true},
		{key: "steps", meaning: "Number of values at equal distances, with both ends",
			shape: whole(atLeast("2"), atMost(strconv.Itoa(sweep.MostPoints))),
			note:  "needed with a grid; without, all values between the ends"},
	})
}

// anyNumber represents the number of the field that varies.
var anyNumber = &shape{what: "as the field", number: &number{unit: "that of the field"}}
