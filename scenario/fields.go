package scenario

import (
	"strconv"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/compare"
)

// Hard limits that keep every derived value finite and meaningful.
var (
	anyAngle      = quantity(angle, "deg", atLeast("-180 deg"), atMost("180 deg"))
	quarterTurn   = quantity(angle, "deg", atLeast("0 deg"), atMost("90 deg"))
	eitherQuarter = quantity(angle, "deg", atLeast("-90 deg"), atMost("90 deg"))
	anyBoard      = bare(atLeast("0.5"), atMost(formatBare(lane.Boards+0.5)))
	mu            = bare(atLeast("0"), atMost(formatBare(lane.MostFriction)))
	share         = bare(atLeast("0"), atMost("1"))

	// From and past the foul line.
	alongLane    = quantity(length, "ft", atLeast("0 ft"), atMost("1000 ft"))
	pastFoulLine = quantity(length, "ft", above("0 ft"), atMost("1000 ft"))

	// On the surface of a ball, whatever its size.
	anyLength       = quantity(length, "in", atLeast("0 in"), bound{})
	holeWidth       = quantity(length, "in", above("0 in"), atMost("3 in"))
	upToThreeInches = quantity(length, "in", atLeast("0 in"), atMost("3 in"))
	upToTenInches   = quantity(length, "in", above("0 in"), atMost("10 in"))
)

// scenarioShape is a whole scenario file.
var scenarioShape = record("a scenario", []field{
	{key: "title", meaning: "Free text, shown on plots", shape: freeText, note: "none"},
	{key: "lane", meaning: "The lane to bowl on", shape: laneShape, note: "or `lanes`"},
	{key: "lanes", meaning: "Several lanes", shape: listOf(laneShape, 1, 0), note: "or `lane`"},
	{key: "ball", meaning: "The ball to throw", shape: ballShape, note: "or `balls`"},
	{key: "balls", meaning: "Several balls", shape: listOf(ballShape, 1, 0), note: "or `ball`"},
	{key: "bowler", meaning: "Who throws, and how", shape: bowlerShape, note: "or `bowlers`"},
	{key: "bowlers", meaning: "Several bowlers", shape: listOf(bowlerShape, 1, 0), note: "or `bowler`"},
	{key: linesKey, meaning: "Lines for every bowler: each bowler throws on each of them, and results name both. An entry with only a name is the bowler's own line",
		shape: listOf(namedLineShape, 1, 0), note: "the bowlers' own"},
	{key: "settings", meaning: "How shots are computed and judged", shape: settingsShape, fallback: "{}"},
	{key: "rack", meaning: "Constants of the pins", shape: rackShape, fallback: "{}"},
	{key: "session", meaning: "The order of turns, for lane wear", shape: sessionShape, note: "turns in the order written"},
},
	choice{[]string{"lane", "lanes"}, "a scenario needs a lane, for example  lane: {oil: dry}"},
	choice{[]string{"ball", "balls"}, "a scenario needs a ball"},
	choice{[]string{"bowler", "bowlers"}, "a scenario needs a bowler"},
)

// plurals are the list keys of the parts of which there can be several.
var plurals = map[string]string{"lane": "lanes", "ball": "balls", "bowler": "bowlers"}

var settingsShape = record("settings", []field{
	{key: "tolerance", meaning: "Tolerance of the integration: local error per step relative to speed, spin and the lane's length",
		shape: bare(atLeast("1e-12"), atMost("1e-2")), note: formatBare(physics.DefaultTolerance) + "; in studies of many shots " + formatBare(studies.ManyShotsTolerance)},
	{key: "pocket", meaning: "Boards at the pins that count as the pocket; for a backup ball their mirror image in the head pin", shape: pocketShape,
		fallback: pocketText(physics.DefaultPocket)},
	{key: "good_angle", meaning: "Entry angles called good: from, to; for a backup ball they are negative",
		shape:    listOf(eitherQuarter, 2, 2),
		fallback: "[" + degrees(physics.DefaultGoodAngle.Min) + ", " + degrees(physics.DefaultGoodAngle.Max) + "]"},
	{key: "hook_turn", meaning: "Angle from the launch heading at which the hook starts",
		shape: quantity(angle, "deg", above("0 deg"), atMost("90 deg")), fallback: degrees(physics.DefaultHookTurn)},
	{key: "visible", meaning: "The smallest visible difference: a comparison reports a difference that is smaller in both measures as none", fallback: "{}", shape: visibleShape},
	{key: "clearances", meaning: "Distances on a drilled ball below which a warning is given", fallback: "{}", shape: clearancesShape},
})

func visibleNumbers(v *compare.Visible) quantities {
	return quantities{{"boards", &v.Boards}, {"friction_read", &v.FrictionRead}}
}

var defaultVisible = compare.DefaultVisible()

var visibleShape = record("a visible difference", allAssumed(visibleNumbers(&defaultVisible).usual(
	field{key: "boards", meaning: "Difference at the pins, in boards", shape: bare(atLeast("0"), atMost(strconv.Itoa(lane.Boards)))},
	field{key: "friction_read", meaning: "Difference of the friction read", shape: alongLane},
)))

func clearanceNumbers(c *ball.Clearances) quantities {
	return quantities{{"pin", &c.Pin}, {"track", &c.Track}, {"bow_tie", &c.BowTie}, {"bottoms", &c.Bottoms}}
}

var (
	anyClearance      = quantity(length, "in", atLeast("0 in"), atMost("5 in"))
	defaultClearances = ball.DefaultClearances()
)

// clearancesShape has the distances on a drilled ball below which a warning is given.
var clearancesShape = record("clearances", allAssumed(clearanceNumbers(&defaultClearances).usual(
	field{key: "pin", meaning: "Least distance from the pin to the edge of a hole", shape: anyClearance},
	field{key: "track", meaning: "Least distance from the edge of a hole to the middle of a track", shape: anyClearance},
	field{key: "bow_tie", meaning: "Least distance from the edge of a hole to a bow-tie", shape: anyClearance},
	field{key: "bottoms", meaning: "Least wall between two holes, usually thinnest at their bottoms", shape: anyClearance},
)))

// pocketText writes a pocket by its middle and half its width.
func pocketText(w physics.Window) string {
	return "{board: " + formatBare((w.Min+w.Max)/2) + ", half_width: " + formatBare((w.Max-w.Min)/2) + "}"
}

var pocketShape = &shape{
	what: "a pocket",
	forms: []form{{title: "a pocket", fields: []field{
		{key: "board", meaning: "Middle of the pocket, in boards from the bowler's side", shape: anyBoard, required: true},
		{key: "half_width", meaning: "Boards to either side that still count", shape: bare(atLeast("0"), atMost(strconv.Itoa(lane.Boards))), required: true},
	}}},
	items: anyBoard, least: 2, most: 2,
}

// deliveriesPerGame is about how often a player throws in a game.
const deliveriesPerGame = "16"

var sessionShape = record("a session", []field{
	{key: "order", meaning: "Turns, one after the other", required: true, shape: listOf(record("a turn", []field{
		{key: "bowler", meaning: "Name of the bowler", shape: freeText, note: "the bowler, if there is only one"},
		{key: "ball", meaning: "Name of the ball", shape: freeText, note: "the ball, if there is only one"},
		{key: "games", meaning: "Number of games", shape: whole(atLeast("1"), atMost("10000")), fallback: "1"},
		{key: "deliveries", meaning: "Deliveries in a game", shape: whole(atLeast("1"), atMost("10000")), fallback: deliveriesPerGame},
	}), 1, 0)},
})
