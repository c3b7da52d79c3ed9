package scenario

import (
	"lanesim/ball/oilring"
	"lanesim/internal/input"
	"lanesim/studies/measure"
)

// Assumed standard deviations of readings.
const (
	defaultTimeError        = "0.1 s"   // of a watch pressed by hand, twice
	defaultRevolutionsError = "0.03"    // a mark's place read to a tenth of a right angle
	defaultPhotoError       = "3 deg"   // of an angle read off a picture of a ball
	defaultElevationError   = "2 deg"   // of the camera
	defaultRingSizeError    = "1/10 in" // of the middle of a ring on either side
)

// unmeasured is the source of a number that is neither measured nor given.
const unmeasured = "that of the scenario's bowler or of `like`"

// way is a way to measure the size of a ring.
type way struct {
	word string
	size oilring.Size
}

var across = []way{{"surface", oilring.AcrossSurface}, {"chord", oilring.AcrossChord}, {"around", oilring.Around}}

// measurementShape is a whole file of measurements.
var measurementShape = record("measurements", measurementFields(),
	choice{keys: []string{"lane_time", "speed"}}, choice{keys: []string{"frames", "rev_rate"}},
	choice{keys: []string{"photo", "axis_rotation"}}, choice{keys: []string{"ring", "axis_tilt"}},
	choice{keys: []string{"scenario", "lane"}}, choice{keys: []string{"scenario", "ball"}},
)

func measurementFields() []field {
	fields := []field{
		{key: "title", meaning: "Free text, shown above the results", shape: freeText, note: "none"},
		{key: "name", meaning: "Name of the bowler", shape: freeText, note: "the scenario's, or `measured bowler`"},
		{key: "lane_time", meaning: "Time that the ball took from one distance to another; the release speed is found by simulation", shape: laneTimeShape, note: "not measured"},
		{key: "frames", meaning: "Video frames counted while a mark on the ball went round, in the first turns after release", shape: framesShape, note: "not measured"},
		{key: "ring", meaning: "First oil ring on the ball: points on it, which give PAP and axis tilt, or its size, which gives the tilt alone", shape: ringShape, note: "not measured"},
		{key: "photo", meaning: "Angle of the spin axis in a picture of the ball at release, with the PAP marked; gives the axis rotation", shape: photoShape, note: "not measured"},
		{key: "scenario", meaning: "Scenario file, relative to this one, whose first lane, ball and bowler are used", shape: freeText, note: "use `lane` and `ball`"},
		{key: "lane", meaning: "Lane of the timed shot", shape: laneShape, note: "the scenario's; needed with `lane_time`"},
		{key: "ball", meaning: "Ball that was measured; without `lane_time` only its size is used", shape: ballShape, note: "the scenario's, or a usual one"},
		{key: likeKey, meaning: "Built-in bowler who gives what is neither measured nor written here", shape: words(builtinBowlerWords...),
			note: "the scenario's bowler, or `" + defaultLike + "`"},
	}
	fields = append(fields, changed(bowlerFields, []string{"hand", "laydown", "laydown_distance", "angle", "pap", "speed", "rev_rate", "axis_rotation", "axis_tilt", "phase"}, func(f *field) {
		if f.required, f.fallback, f.note = false, "", unmeasured; f.key == "angle" {
			f.note = "that of the scenario's bowler, or " + defaultLine + " for the simulation, assumed"
		}
	})...)
	return append(fields, changed(scenarioShape.forms[0].fields, []string{"settings"}, func(f *field) { f.fallback, f.note = "", "those of the scenario" })...)
}

var laneTimeShape = record("a lane time", []field{
	{key: "from", meaning: "Distance of the ball's centre from the foul line where the clock started", fallback: "0 ft", shape: alongLane},
	{key: "to", meaning: "Distance where it stopped", required: true, shape: pastFoulLine},
	{key: "time", meaning: "Time between the two", required: true, shape: quantity(duration, "s", above("0 s"), atMost("1000 s"))},
	{key: "error", meaning: "Standard deviation of the time; the default is that of a watch pressed by hand", fallback: defaultTimeError, assumed: true, warned: true,
		shape: quantity(duration, "s", atLeast("0 s"), atMost("10 s"))},
	{key: "distance_error", meaning: "Standard deviation of the distance timed: how far from the marks the clock was started and stopped", fallback: "0 ft",
		shape: quantity(length, "ft", atLeast("0 ft"), atMost("60 ft"))},
})

var framesShape = record("a count of frames", []field{
	{key: "revolutions", meaning: "Revolutions counted", required: true, shape: bare(above("0"), atMost("1000"))},
	{key: "frames", meaning: "Number of frames for these revolutions", required: true, shape: bare(above("0"), atMost("1000000"))},
	{key: "rate", meaning: "Frame rate of the camera", required: true, shape: quantity(frameRate, "fps", above("0 fps"), atMost("1000000 fps"))},
	{key: "error", meaning: "Standard deviation of the count of frames", shape: bare(above("0"), atMost("1000")),
		note: "0.41: the first and the last are each read to the nearest frame"},
	{key: "revolutions_error", meaning: "Standard deviation of the revolutions", fallback: defaultRevolutionsError, assumed: true,
		shape: bare(atLeast("0"), atMost("10"))},
})

var ringShape = &shape{what: "an oil ring", forms: []form{
	{title: "a ring by points", fields: []field{
		{key: "points", meaning: "Three or more points on the middle of the ring: [over, up] from the centre of the grip, as for a PAP", required: true,
			shape: listOf(listOf(papLength, 2, 2), 1, 0)},
		{key: "error", meaning: "Standard deviation of a point's place", assumed: true,
			shape: quantity(length, "mm", above("0 mm"), atMost("2 in")), fallback: length.format(oilring.DefaultReadingError, "mm")},
	}},
	{title: "a ring by size", fields: []field{
		{key: "size", meaning: "Size of the middle of the ring, in one of the ways of `across`", required: true,
			shape: quantity(length, "in", above("0 in"), atMost("100 in"))},
		{key: "across", meaning: "How it was measured: with a tape over the ball's surface, across the side away from the PAP; straight, between the jaws of a caliper; or around the ring",
			required: true, shape: words(input.Each(across, func(a way) string { return a.word })...)},
		{key: "error", meaning: "Standard deviation of the size", assumed: true, warned: true,
			shape: quantity(length, "in", atLeast("0 in"), atMost("10 in")), fallback: defaultRingSizeError},
	}},
}}

var photoShape = record("a photo", []field{
	{key: "view", meaning: "Where the picture was taken from: straight above, or from behind the ball", required: true,
		shape: words(string(measure.FromAbove), string(measure.FromBehind))},
	{key: "angle", meaning: "From above, angle between the direction of travel and the line from the ball's centre to the PAP: 90 deg is forward roll, 180 deg side roll. " +
		"From behind, angle by which that line falls below the horizontal on the bowler's off side", required: true, shape: anyAngleWide},
	{key: "error", meaning: "Standard deviation of the angle", fallback: defaultPhotoError, assumed: true, warned: true,
		shape: quarterTurn},
	{key: "elevation", meaning: "Angle by which the camera looks down, from behind: 0 deg at the ball's own height",
		shape: quarterTurn, note: "needed from behind"},
	{key: "elevation_error", meaning: "Standard deviation of the elevation", fallback: defaultElevationError, assumed: true,
		shape: quarterTurn},
})

// anyAngleWide is an angle up to a full turn either way.
var anyAngleWide = quantity(angle, "deg", atLeast("-360 deg"), atMost("360 deg"))

// measurements writes the fields of a file of measurements.
func (r *page) measurements() {
	r.WriteString("# Fields of a file of measurements\n\n" +
		"`lanesim bowler FILE` turns what was measured of a delivery into a bowler. All deviations are standard deviations of the reading.\n\n")
	r.mapping("Measurements", "", measurementShape)
}
