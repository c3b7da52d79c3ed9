package scenario

import (
	"strconv"

	"lanesim/lane"
	"lanesim/patterns"
)

// The defaults of package lane.
var (
	defaultLane     = lane.Default()
	defaultFriction = lane.DefaultFriction()
	defaultCrown    = patterns.Crown{Plateau: patterns.DefaultPlateau, Shoulder: patterns.DefaultShoulder,
		FrontToBack: patterns.DefaultFrontToBack, FallOff: patterns.DefaultFallOff, Sets: patterns.DefaultBoardSets()}
)

var laneShape = withLibrary(record("a lane", usualLane(
	field{key: "name", meaning: "Name of the lane, shown in results", shape: freeText, note: "the name of its oil"},
	field{key: "oil", meaning: "Oil on the lane: a built-in pattern, `dry`, a pattern file (YAML or JSON, or CSV tape readings) " +
		"relative to this file, or a pattern written out", shape: oilShape, note: "needed with the mixed law, else dry"},
	field{key: "length", meaning: "Distance from the foul line to the head pin's spot", shape: pastFoulLine, listed: &listed{"719.5 in", "720.5 in"}},
	field{key: "tilt", meaning: "How much higher the left edge lies than the right, over the lane's width",
		shape: quantity(length, "in", atLeast("-1 in"), atMost("1 in")), listed: &listed{"-0.040 in", "0.040 in"}},
	field{key: "roughness", meaning: "Ra of the lane's surface", shape: roughnessIn("um"), assumed: true},
	field{key: "friction", meaning: "Friction law", shape: frictionShape, fallback: "{}"},
	field{key: "rolling_resistance", meaning: "Coefficient of rolling resistance; no published value was found. If it exceeds friction the ball cannot roll",
		shape: bare(atLeast("0"), atMost(formatBare(lane.MostRollingResistance)))},
	measuredField(laneMarks(&lane.Measured{})),
)))

// usualLane makes the numbers of the default lane the fields' defaults.
func usualLane(fields ...field) []field {
	surface, rolling := laneNumbers(&defaultLane)
	return append(surface, rolling...).usual(fields...)
}

// roughnessIn is the shape of an Ra, up to a millimetre, far more than any cover or
// lane has.
func roughnessIn(unit string) *shape {
	return quantity(length, unit, atLeast("0 "+unit), atMost("1 mm"))
}

var lawField = field{key: "law", meaning: "Name of the law", fallback: string(defaultFriction.Law),
	shape: words(string(lane.Mixed), string(lane.Constant), string(lane.Zones))}

var frictionShape = &shape{
	what: "a friction law", selector: "law",
	forms: []form{
		{word: string(lane.Mixed), title: "the mixed law", fields: mixedNumbers(&defaultFriction).usual(lawField,
			field{key: "film", meaning: "Coefficient of friction on a full film; calibrated", shape: mu},
			field{key: "dry", meaning: "Coefficient of friction of a dry contact; often quoted", shape: mu},
			field{key: "entrained", meaning: "Share of the oil in the gap that the contact draws in", shape: share, assumed: true},
		)},
		{word: string(lane.Constant), title: "the constant law", fields: []field{lawField,
			{key: "mu", meaning: "Coefficient of friction everywhere", shape: mu, required: true},
		}},
		{word: string(lane.Zones), title: "the zones law", fields: []field{lawField,
			{key: "zones", meaning: "Stretches of lane from the foul line on", required: true, shape: listOf(record("a zone", []field{
				{key: "to", meaning: "Distance from the foul line at which the zone ends; the last zone has none", shape: pastFoulLine, note: "the end of the lane"},
				{key: "mu", meaning: "Coefficient of friction in the zone", shape: mu, required: true},
			}), 1, 0)},
		}},
	},
}

// dry is the word for a lane without oil.
const dry = "dry"

var oilShape = &shape{what: "a pattern", text: true, selector: "kind", forms: patternForms}

// patternShape is a pattern file.
var patternShape = &shape{what: "a pattern", selector: "kind", forms: patternForms}

// Kinds of patterns.
const (
	kindCrown = "crown"
	kindGrid  = "grid"
)

var patternForms = []form{
	{word: kindCrown, title: "a crown", fields: crownNumbers(&defaultCrown).usual(append(patternFields[:3:3],
		field{key: "length", meaning: "Oiled length from the foul line", required: true,
			shape: quantity(length, "ft", above("0 ft"), atMost(length.format(patterns.MaximumLength, "m")))},
		field{key: "volume", meaning: "Oil on the lane", required: true, shape: quantity(volume, "mL", above("0 mL"), atMost("1000 L"))},
		field{key: "ratio", meaning: "Film on the inside over the outside boards: 1 is flat, 10 a crowned house pattern", shape: upToMillion, required: true},
		field{key: "plateau", meaning: "Boards about the middle over which the film is level", shape: someBoards, assumed: true},
		field{key: "shoulder", meaning: "Boards on either side over which the film falls to the level of the outer boards", shape: someBoards, assumed: true},
		field{key: "front_to_back", meaning: "Film at the foul line over that at the end of the oil", shape: upToMillion, assumed: true},
		field{key: "fall_off", meaning: "Exponent of the film's fall from front to back: 1 is a straight line",
			shape: bare(above("0"), atMost("1000")), assumed: true},
		field{key: "boards", meaning: "Boards that the ratio compares, counted from the edge of each side", fallback: "{}", shape: record("board sets", []field{
			{key: "inside", meaning: "From board, to board", shape: boardRange, fallback: boardsText(defaultCrown.Sets.Inside)},
			{key: "outside", meaning: "From board, to board", shape: boardRange, fallback: boardsText(defaultCrown.Sets.Outside)},
		})},
	)...)},
	{word: kindGrid, title: "a grid", fields: append(patternFields[:3:3],
		field{key: "distances", meaning: "Distances from the foul line, increasing; the oil ends at the last", required: true, shape: listOf(alongLane, 1, 0)},
		field{key: "units", meaning: "Film in oil units: a row per distance with the boards counted from the right", required: true,
			shape: listOf(listOf(bare(atLeast("0"), atMost(formatBare(patterns.MaximumUnits))), lane.Boards, lane.Boards), 1, 0)},
	)},
}

var (
	upToMillion = bare(above("0"), atMost("1e6"))
	someBoards  = bare(above("0"), atMost(strconv.Itoa(lane.Boards)))
)

// patternFields are common to all kinds.
var patternFields = []field{
	{key: "name", meaning: "Name of the pattern", shape: freeText, note: "the name of its file, or `own pattern`"},
	{key: "about", meaning: "What the pattern is for", shape: freeText, note: "none"},
	{key: "kind", meaning: "How the pattern is given", shape: words(kindCrown, kindGrid), required: true},
}

var boardRange = listOf(whole(atLeast("1"), atMost(strconv.Itoa(lane.Boards))), 2, 2)

func boardsText(r patterns.BoardRange) string {
	return "[" + strconv.Itoa(r.From) + ", " + strconv.Itoa(r.To) + "]"
}
