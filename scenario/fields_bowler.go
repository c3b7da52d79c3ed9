package scenario

import (
	"slices"

	"lanesim/ball"
	"lanesim/internal/input"
	"lanesim/physics"
	"lanesim/studies"
)

var defaultPAP = ball.DefaultPAP()

// straight says when rotation and tilt may be left out.
const straight = "needed unless rev_rate is 0"

// bowlerShape is a bowler, given in full or like a built-in one.
var bowlerShape = withLibrary(&shape{what: "a bowler", words: builtinBowlerWords, usualFirst: true, forms: []form{
	{title: "a bowler", fields: bowlerFields, choices: []choice{
		{laydownKeys, "the laydown is missing: give  laydown: 22  or a line, as  line: {feet: 29, arrows: 15}"},
		{lineKeys, "the line is missing: give  angle: 2 deg,  target: {board: 12, distance: 15 ft},  line: {feet: 29, arrows: 15}  or  aim: pocket"}}},
	{title: "a bowler like a built-in one", fields: likeFields, choices: []choice{{keys: laydownKeys}, {keys: lineKeys}}},
}})

// likeFields are the fields of a bowler who is like a built-in one, which gives the
// values that are not written.
var likeFields = append([]field{{key: likeKey, meaning: "Built-in bowler who gives what is not written here, and aims at the pocket unless there is a line",
	shape: words(builtinBowlerWords...), required: true}}, changed(bowlerFields, (&form{fields: bowlerFields}).keys(), func(f *field) {
	if slices.ContainsFunc(builtinBowlers[0].keys(), func(k [2]string) bool { return k[0] == f.key }) {
		f.required, f.fallback, f.note = false, "", "as `like` says"
	}
})...)

var bowlerFields = []field{
	{key: "name", meaning: "Name of the bowler, shown in results", shape: freeText, note: "`bowler`, or `bowler 1`, `bowler 2` …"},
	{key: "hand", meaning: "Hand that throws", shape: handShape, fallback: ball.Right.String()},
	{key: "pap", meaning: "Positive axis point (PAP), from the centre of the grip along the surface", shape: papShape,
		fallback: "{over: " + inches(defaultPAP.Over) + ", up: " + inches(defaultPAP.Up) + "}"},
	{key: "speed", meaning: "Speed of the ball's centre at release", required: true,
		shape: quantity(speed, "mph", atLeast(speed.format(physics.LeastSpeed, "mph")), atMost(speed.format(physics.MostSpeed, "mph")))},
	{key: "rev_rate", meaning: "Rev rate at release; 0 for a ball that does not turn", required: true,
		shape: quantity(rate, "rpm", atLeast("0 rpm"), atMost(rate.format(physics.MostRevRate, "rpm")))},
	{key: "axis_rotation", meaning: "Axis rotation at release: 0 is forward roll, 90 deg side roll; negative for a backup ball, which aims at the other pocket", note: straight, shape: anyAngle},
	{key: "axis_tilt", meaning: "Axis tilt at release", note: straight,
		shape: quantity(angle, "deg", atLeast("-"+degrees(physics.MostAxisTilt)), atMost(degrees(physics.MostAxisTilt)))},
	{key: "phase", meaning: "Angle about the axis by which the ball is turned from where the fingers point down",
		shape: quantity(angle, "deg", atLeast("-360 deg"), atMost("360 deg")), fallback: "0 deg"},
	{key: "laydown", meaning: "Board, from the bowler's side, under the ball's centre where it first touches the lane",
		shape: anyBoard, note: "or `line`"},
	{key: "laydown_distance", meaning: "Distance of the laydown from the foul line", fallback: "0 ft", shape: alongLane},
	{key: "angle", meaning: "Launch angle from straight down-lane, positive toward the bowler's ball-side gutter",
		shape: launchAngle, note: "or `target`, `line` or `aim`"},
	{key: "target", meaning: "Point of the lane at which the ball is launched, instead of `angle`", note: "or `angle`, `line` or `aim`",
		shape: record("a target", []field{
			{key: "board", meaning: "Board from the bowler's side", shape: anyBoard, required: true},
			{key: "distance", meaning: "Distance from the foul line", required: true, shape: pastFoulLine},
		})},
	{key: "aim", meaning: "Instead of `angle`: `pocket` finds the launch angles from -6 to 6 deg that reach the pocket and takes the one nearest to 0; `{pins: 3-6-10}` takes the one that converts that leave most often",
		shape: &shape{what: "an aim", words: []string{"pocket"}, forms: []form{{title: "a leave to convert", fields: []field{
			{key: "pins", meaning: "The pins that stand, by number, as 3-6-10: the 7 is the left corner pin and the 10 the right one, whatever the hand", required: true, shape: standingPins},
		}}}},
		note: "or `angle`, `target` or `line`"},
	{key: lineKey, meaning: "The line in bowlers' terms, instead of `laydown` and `angle`: feet and arrows, laydown and arrows, or arrows and breakpoint, for which laydown and launch angle are found",
		shape: lineShape, note: "or `laydown` with `angle`, `target` or `aim`"},
	{key: "foot_to_ball", meaning: "Boards from the middle of the sliding foot to the ball's centre at the laydown, toward the throwing hand", assumed: true,
		shape: bare(atLeast("0"), atMost("20")), fallback: formatBare(studies.DefaultFootToBall)},
	{key: moveKey, meaning: "Moves the line, in boards to the left or right as the bowler sees it, or to the inside or outside: `2 left` or `parallel 2 left` moves feet and arrows alike, `3 and 2 left` feet and arrows, `right into the dry` 5 and 4, which is assumed; the laydown goes with the feet",
		shape: moveShape, note: "none"},
	{key: "repeatability", meaning: "How alike the deliveries are: a skill level, or standard deviations; the levels are assumed",
		shape: repeatabilityShape, note: "none"},
}

var launchAngle = quantity(angle, "deg", atLeast("-"+degrees(physics.MostLaunchAngle)), atMost(degrees(physics.MostLaunchAngle)))

// standingPins is the shape of a leave.
var standingPins = &shape{what: "pins by number, as 3-6-10", leave: true}

var papShape = record("a PAP", []field{
	{key: "over", meaning: "Along the midline toward the bowler's axis side", shape: papLength, required: true},
	{key: "up", meaning: "Toward the fingers; negative for down", shape: papLength, required: true},
})

// papLength keeps the PAP within half a turn of any usual ball.
var papLength = quantity(length, "in", atLeast("-14 in"), atMost("14 in"))

var repeatabilityShape = &shape{what: "standard deviations", words: SkillLevels(), forms: []form{{title: "repeatability", fields: []field{
	{key: "laydown", meaning: "Standard deviation of the laydown, in boards", shape: bare(atLeast("0"), atMost("39")), fallback: "0"},
	{key: "angle", meaning: "Standard deviation of the launch angle", shape: quantity(angle, "deg", atLeast("0 deg"), atMost("45 deg")), fallback: "0 deg"},
	{key: "speed", meaning: "Standard deviation of the speed", shape: quantity(speed, "mph", atLeast("0 mph"), atMost("50 mph")), fallback: "0 mph"},
	{key: "rev_rate", meaning: "Standard deviation of the rev rate", shape: quantity(rate, "rpm", atLeast("0 rpm"), atMost("1000 rpm")), fallback: "0 rpm"},
	{key: "axis_rotation", meaning: "Standard deviation of the axis rotation", shape: quarterTurn, fallback: "0 deg"},
	{key: "axis_tilt", meaning: "Standard deviation of the axis tilt", shape: quantity(angle, "deg", atLeast("0 deg"), atMost("45 deg")), fallback: "0 deg"},
	{key: "phase", meaning: "Standard deviation of the phase of the release; without it the phase is drawn evenly from the whole turn, since bowlers do not control how the core points",
		shape: quantity(angle, "deg", atLeast("0 deg"), atMost("180 deg")), note: "drawn evenly"},
	{key: "correlations", meaning: "Correlations of deviations; all others are 0", note: "none",
		shape: listOf(record("a correlation", []field{
			{key: "between", meaning: "Which two deviate together", required: true, shape: listOf(words(input.Each(studies.AllVaried(), studies.Varied.String)...), 2, 2)},
			{key: "is", meaning: "The coefficient of correlation", required: true, shape: bare(atLeast("-1"), atMost("1"))},
		}), 1, 0)},
}}}}

// level is a named skill level.
type level struct{ name, sigmas string }

// levels are the named skill levels. Their sigmas are assumed.
var levels = []level{
	{"machine", "{phase: 0 deg}"},
	{"professional", "{laydown: 0.3, angle: 0.1 deg, speed: 0.15 mph, rev_rate: 5 rpm, axis_rotation: 1 deg, axis_tilt: 0.5 deg}"},
	{"tournament", "{laydown: 0.5, angle: 0.15 deg, speed: 0.25 mph, rev_rate: 8 rpm, axis_rotation: 2 deg, axis_tilt: 1 deg}"},
	{"league", "{laydown: 1, angle: 0.3 deg, speed: 0.5 mph, rev_rate: 15 rpm, axis_rotation: 4 deg, axis_tilt: 2 deg}"},
	{"recreational", "{laydown: 2, angle: 0.7 deg, speed: 1 mph, rev_rate: 30 rpm, axis_rotation: 8 deg, axis_tilt: 4 deg}"},
}

// handShape is a hand, by word or letter.
var handShape = &shape{words: []string{ball.Right.String(), ball.Left.String()},
	aliases: map[string]string{"R": ball.Right.String(), "r": ball.Right.String(), "RH": ball.Right.String(),
		"L": ball.Left.String(), "l": ball.Left.String(), "LH": ball.Left.String()}}
