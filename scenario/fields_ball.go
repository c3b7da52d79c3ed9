package scenario

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lanesim/ball"
)

// The defaults of package ball.
var (
	defaultBall   = ball.Default()
	defaultMemory = ball.DefaultFilmMemory()
)

var ballShape = withLibrary(record("a ball", usualBall(
	field{key: "name", meaning: "Name of the ball, shown in results", shape: freeText, note: "`ball`, or `ball 1`, `ball 2` …"},
	field{key: "weight", meaning: "Weight, undrilled", warned: true, listed: listedFor("weight"),
		shape: quantity(weight, "lb", atLeast(weight.format(ball.LeastWeight, "lb")), atMost(weight.format(ball.MostWeight, "lb")))},
	field{key: "diameter", meaning: "Diameter", shape: quantity(length, "in", atLeast(inches(ball.LeastDiameter)), atMost(inches(ball.MostDiameter))),
		warned: true, listed: listedFor("diameter")},
	field{key: "rg", meaning: "Low radius of gyration (RG), about the pin, undrilled; below the ball's radius and at least a fifth of it",
		shape: quantity(length, "in", above("0 in"), bound{}), warned: true, listed: listedFor("rg")},
	field{key: "differential", meaning: "High minus low RG, undrilled", shape: anyLength, listed: listedFor("differential")},
	field{key: "intermediate_differential", meaning: "High minus intermediate RG, undrilled; at most the differential", shape: anyLength},
	field{key: coverKey, meaning: "Material of the outside: a name, or friction and soak-in time; has no effect with the constant law and the zones law",
		shape: coverShape, fallback: defaultBall.Cover.Name, assumed: true},
	field{key: "roughness", meaning: "Ra of the cover", shape: roughnessIn("uin"), assumed: true, warned: true, listed: listedFor("roughness")},
	field{key: "finish", meaning: "Finish of the cover, instead of the roughness: a word for the finish out of the box or a sanding grit; the Ra of either is assumed",
		shape: &shape{words: ball.FinishWords(), number: &number{dimension: grit, unit: "grit", least: above("0 grit")}}, note: "use `roughness`"},
	field{key: "games_since_finish", meaning: "Games bowled since the cover had that roughness or finish", shape: bare(atLeast("0"), atMost("100000"))},
	field{key: "finish_wear", meaning: "How the roughness changes with the games bowled: Ra(n) = toward + (Ra − toward) exp(−n/games)",
		shape: finishWearShape, fallback: "{}"},
	field{key: "layout", meaning: "Where pin and PSA lie relative to the bowler's axis: by two angles and a distance, or by three distances",
		shape: layoutShape, note: "needed unless the differential is 0"},
	field{key: "grip", meaning: "Grip drilled: a usual one by name, or every hole", shape: gripShape, fallback: string(defaultGrip.Kind)},
	field{key: "balance", meaning: "Mass centre of the finished ball, as an offset or as static weights", shape: balanceShape,
		note: "neutral: the undrilled ball is assumed to be weighted so that the drilled one is neutral"},
	field{key: "box", meaning: "Data from the box and the marks of the undrilled ball", shape: boxShape, note: "none"},
	field{key: "contact_radius", meaning: "Radius of the contact patch, for pivot friction; 0 mm turns that off",
		shape: quantity(length, "mm", atLeast("0 mm"), atMost(inches(ball.MostContactRadius))), assumed: true},
	field{key: "film_memory", meaning: "Whether and how the cover carries oil from one turn to the next", shape: memoryShape,
		fallback: map[bool]string{false: "on", true: "off"}[defaultMemory.Off]},
	measuredField(ballMarks(&ball.Measured{})),
), choice{keys: []string{"roughness", "finish"}}))

// usualBall makes the numbers of the default ball the fields' defaults.
func usualBall(fields ...field) []field {
	inertia, surface, contact := ballNumbers(&defaultBall)
	return slices.Concat(inertia, surface, contact).usual(fields...)
}

var layoutShape = &shape{what: "a layout", spelt: layoutOnOneLine, forms: []form{
	{title: "a layout by angles", fields: []field{
		{key: "drilling_angle", meaning: "Angle at the pin between the arcs to the PAP and to the PSA", shape: anyAngle, required: true},
		{key: "pin_to_pap", meaning: "Distance from the pin to the PAP along the surface; at most half the circumference", shape: anyLength, required: true},
		{key: "val_angle", meaning: "Angle at the PAP between the vertical axis line and the arc to the pin", shape: anyAngle, required: true},
	}},
	{title: "a layout by distances", fields: []field{
		{key: "pin_to_pap", meaning: "Distance from the pin to the PAP along the surface; at most half the circumference", shape: anyLength, required: true},
		{key: "psa_to_pap", meaning: "Distance from the PSA to the PAP along the surface", shape: anyLength, required: true},
		{key: "pin_to_val", meaning: "Distance from the pin to the vertical axis line", shape: anyLength, required: true},
		{key: "pin", meaning: "Whether the pin lies above or below the line through the PAP perpendicular to the vertical axis line",
			shape: words("above", "below"), fallback: "above"},
	}},
}}

// boxShape is the data on the box of a ball.
var boxShape = record("a box", []field{
	{key: "weight", meaning: "Gross weight, instead of the ball's nominal one; pounds and ounces are accepted", listed: listedFor("weight"),
		shape: quantity(weight, "lb", atLeast("1 lb"), atMost("1000 lb")), note: "the ball's weight"},
	{key: "top_weight", meaning: "Weight toward the marked centre of gravity; finished weights follow from it, the mark's place and the holes", shape: staticWeight, note: "unknown"},
	{key: "pin_out", meaning: "Distance along the surface from the pin to the marked centre of gravity", shape: anyLength, note: "unknown"},
	{key: "cg_angle", meaning: "Angle at the pin from the line to the PSA to that to the marked centre of gravity, positive away from the PAP; on a ball without asymmetry the mark replaces the PSA",
		shape: anyAngle, fallback: "0 deg", assumed: true},
	{key: "cg", meaning: "Place of the marked centre of gravity from the centre of the grip, instead of `pin_out` and `cg_angle`", note: "from `pin_out`",
		shape: record("a place on the ball", []field{
			{key: "over", meaning: "Distance along the midline toward the bowler's axis side", shape: papLength, required: true},
			{key: "up", meaning: "Distance from there toward the fingers", shape: papLength, required: true},
		})},
	{key: "colour", meaning: "Colour", shape: freeText, note: "none"},
	{key: "serial", meaning: "Serial number", shape: freeText, note: "none"},
	{key: "finished", meaning: "Finished weights aimed at: depths and pitches of the holes that give them are printed", note: "no aim",
		shape: record("finished weights", []field{
			{key: "side", meaning: "Weight to the right of the grip, seen with the fingers up", shape: staticWeight, note: "any"},
			{key: "finger_thumb", meaning: "Weight toward the fingers", shape: staticWeight, note: "any"},
			{key: "top", meaning: "Weight toward the grip", shape: staticWeight, note: "any"},
		})},
}, choice{keys: []string{"pin_out", "cg"}}, choice{keys: []string{"cg_angle", "cg"}})

// layoutOnOneLine is a layout as the trade writes it: drilling angle × pin to PAP ×
// VAL angle.
var layoutOnOneLine = &spelling{
	pattern: `^[^x×X]+[x×X][^x×X]+[x×X][^x×X]+$`,
	example: "55 x 4 1/2 x 40",
	parts: func(text string) ([][2]string, string) {
		list := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("x×X", r) })
		if len(list) != 3 {
			return nil, ""
		}
		keys := [][2]string{{"drilling_angle", "deg"}, {"pin_to_pap", "in"}, {"val_angle", "deg"}}
		for i, part := range list {
			_, unit, err := scanNumber(part)
			if err != nil {
				return nil, ""
			}
			if part = strings.TrimSpace(part); unit == "" {
				part += " " + keys[i][1]
			}
			keys[i][1] = part
		}
		return keys, fmt.Sprintf("%s is read as a drilling angle of %s, %s from pin to PAP and a VAL angle of %s.", strings.TrimSpace(text), keys[0][1], keys[1][1], keys[2][1])
	},
}

// staticWeight is heavier than a hole could make it.
var staticWeight = quantity(weight, "oz", atLeast("-"+weight.format(ball.MostStaticWeight, "oz")), atMost(weight.format(ball.MostStaticWeight, "oz")))

var mostOffset = length.format(ball.MostOffset, "mm")

var balanceShape = &shape{what: "a balance", forms: []form{
	{title: "a balance by offset", fields: []field{
		{key: "offset", meaning: "Mass centre from the ball's centre along the pin, intermediate (PSA × pin) and PSA axes of the layout",
			shape: listOf(quantity(length, "mm", atLeast("-"+mostOffset), atMost(mostOffset)), 3, 3), required: true},
	}},
	{title: "a balance by static weights", fields: []field{
		{key: "side", meaning: "Weight to the right of the grip, seen with the fingers up", shape: staticWeight, fallback: "0 oz", listed: listedFor("static_side")},
		{key: "finger_thumb", meaning: "Weight toward the fingers", shape: staticWeight, fallback: "0 oz", listed: listedFor("static_finger_thumb")},
		{key: "top", meaning: "Weight toward the grip", shape: staticWeight, fallback: "0 oz", listed: listedFor("static_top")},
	}},
}}

var finishWearShape = record("finish wear", wearNumbers(&defaultBall.FinishWear).usual(
	field{key: "toward", meaning: "Final Ra, which any cover approaches", shape: roughnessIn("uin"), assumed: true},
	field{key: "games", meaning: "Games after which 1/e of the difference is left", shape: bare(above("0"), atMost("100000")), assumed: true},
))

// never is the word for a cover that soaks up no oil.
const never = "never"

var memoryShape = &shape{what: "film memory", toggle: true, forms: []form{{title: "film memory", fields: memoryNumbers(&defaultMemory).usual(
	field{key: "pick_up", meaning: "Share of the lane's film that a pass picks up", shape: share, assumed: true},
	field{key: "give_back", meaning: "Share of the ball's film that it lays down", shape: share, assumed: true},
	field{key: "contact_width", meaning: "Width of the track", assumed: true,
		shape: quantity(length, "mm", atLeast(length.format(ball.LeastContactWidth, "mm")), atMost(inches(ball.MostContactWidth)))},
	field{key: "soak_in", meaning: "Soak-in time, instead of the cover's; `never` if nothing is soaked up", shape: soakIn, note: "the cover's"},
)}}}

var soakIn = &shape{words: []string{never}, number: &number{dimension: duration, unit: "s", least: above("0 s")}}

// soakInText writes a soak-in time in s.
func soakInText(t float64) string {
	if math.IsInf(t, 1) {
		return never
	}
	return duration.format(t, "s")
}
