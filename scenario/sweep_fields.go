package scenario

import (
	"strconv"

	"lanesim/studies/sweep"
)

// sweepShape is a whole sweep file. What stands under scenario and vary is read
// by the rules of scenarios: their shapes here stand for being there at all.
var sweepShape = record("a sweep", []field{
	{key: "title", meaning: "Free text, shown on plots", shape: freeText, note: "the scenario's"},
	{key: "scenario", meaning: "What is thrown but for what varies: a scenario file, relative to this one, or a scenario written out",
		shape: scenarioStandIn, note: "required"},
	{key: "vary", meaning: "What varies: paths of the scenario's fields as in --set, each with a list of values or a range",
		shape: varyStandIn, note: "required"},
	{key: "design", meaning: "Which of the values go together: all with all (grid; the last field changes fastest), " +
		"or points spread over the ranges, as a Latin hypercube or a Halton sequence",
		shape: words(spelled(sweep.Kinds())...), fallback: string(sweep.Grid)},
	{key: "points", meaning: "Number of points", shape: whole(atLeast("1"), atMost(strconv.Itoa(sweep.MostPoints))),
		note: "needed with latin and halton; a grid has as many as its values give"},
	{key: "seed", meaning: "What the points follow from; a Halton sequence with seed 0 is the plain one, with another its digits are permuted",
		shape: whole(atLeast("0"), atMost(strconv.Itoa(mostSeed))), fallback: "0"},
	{key: "columns", meaning: "What is kept of each shot: columns listed below", shape: listOf(freeText, 1, 0), required: true},
})

// What the stand-ins are taken for, and the page of fields shows.
var (
	scenarioStandIn = &shape{what: "a scenario", text: true, forms: scenarioShape.forms}
	varyStandIn     = record("fields that vary", nil)
)

// mostSeed is the largest whole number up to which all are distinguished.
const mostSeed = 1 << 53

// rangeShape is a range of values of a field: both ends belong to it.
func rangeShape(of *shape) *shape {
	return record("a range", []field{
		{key: "from", meaning: "The first value", shape: of, required: true},
		{key: "to", meaning: "The last value", shape: of, required: true},
		{key: "steps", meaning: "Number of values, both ends among them, at equal distances",
			shape: whole(atLeast("2"), atMost(strconv.Itoa(sweep.MostPoints))),
			note:  "needed with a grid; without, all values between the ends"},
	})
}

// anyNumber stands for the number of the field that varies.
var anyNumber = &shape{what: "as the field", number: &number{unit: "that of the field"}}
