package scenario

import (
	"lanesim/ball"
	"lanesim/ball/rules"
)

var defaultGrip = ball.DefaultGrip()

// listedFor returns the rule book's limits of a value of a ball, in the unit in which
// they are published.
func listedFor(name string) *listed {
	l, ok := rules.Listed().Listed(name)
	if !ok {
		panic("scenario: no limit is listed for " + name)
	}
	text := func(v *float64) string {
		if v == nil {
			return ""
		}
		return formatBare(*v) + " " + l.Unit
	}
	return &listed{text(l.Least), text(l.Most)}
}

// none is the word for a hole or an insert that is absent.
const none = "none"

// gripShape is a grip by name, or with every hole; values left out are those of the
// usual fingertip grip.
var gripShape = &shape{what: "a grip", words: spelled(ball.GripKinds()), forms: []form{{title: "a grip", fields: gripNumbers(&defaultGrip).usual(
	field{key: "span", meaning: "Cut span: distance along the surface from the edge of the thumb hole to the edges of the finger holes, as drilled", shape: spanShape,
		fallback: inches(defaultGrip.MiddleSpan), assumed: true},
	field{key: "fitted_span", meaning: "Fitted span, instead of the cut one: between the inner edges of the inserts", shape: spanShape, note: "use `span`"},
	field{key: "bridge", meaning: "Distance along the surface between the edges of the finger holes", shape: upToThreeInches, assumed: true},
	field{key: "shell_density", meaning: "Density of the material drilled out", shape: anyDensity, assumed: true},
	field{key: "middle", meaning: "Hole of the middle finger", shape: holeShape("middle finger's hole", *defaultGrip.Middle, fingerInsert, "{}"), fallback: "{}"},
	field{key: "ring", meaning: "Hole of the ring finger", shape: holeShape("ring finger's hole", *defaultGrip.Ring, fingerInsert, "{}"), fallback: "{}"},
	field{key: "thumb", meaning: "Hole of the thumb, or `none`", shape: thumbShape(), fallback: "{}"},
), choices: []choice{{keys: []string{"span", "fitted_span"}}}}}}

var (
	anyDensity = quantity(density, "g/cm3", above("0 g/cm3"), atMost("25 g/cm3"))

	fingerInsert = insertShape("an insert", "insert", ball.DefaultFingerInsert())
	thumbInsert  = insertShape("a slug or sleeve", "slug or sleeve", ball.DefaultThumbInsert())
)

var spanShape = &shape{
	what:   "spans",
	number: upToTenInches.number,
	forms: []form{{title: "spans", fields: []field{
		{key: "middle", meaning: "To the hole of the middle finger", shape: upToTenInches, required: true},
		{key: "ring", meaning: "To the hole of the ring finger", shape: upToTenInches, required: true},
	}}},
}

func thumbShape() *shape {
	s := holeShape("thumb hole", *defaultGrip.Thumb, thumbInsert, none)
	s.words = []string{none}
	return s
}

// holeShape is the shape of a hole with the defaults of another hole. The fallback is
// the default of its insert, as in a file.
func holeShape(name string, h ball.Hole, inserts *shape, fallback string) *shape {
	pitch := quantity(length, "in", atLeast("-3 in"), atMost("3 in"))
	return record("a hole", holeNumbers(&h).usual(
		field{key: "diameter", meaning: "Width of the " + name + " as drilled", shape: holeWidth, assumed: true},
		field{key: "depth", meaning: "Depth of the " + name + " along its axis, from the surface to the flat bottom", shape: upToTenInches, assumed: true},
		field{key: "forward", meaning: "Pitch of the " + name + " toward the other end of the grip, by which its axis misses the ball's centre; negative for reverse",
			shape: pitch, assumed: true},
		field{key: "reverse", meaning: "Reverse pitch of the " + name + ", instead of a forward one", shape: upToThreeInches, note: "use `forward`"},
		field{key: "lateral", meaning: "Pitch of the " + name + " toward the side of the PAP: to the right for a right-hander", shape: pitch, assumed: true},
		field{key: "left", meaning: "Left lateral pitch of the " + name + " as seen with the fingers up, instead of `lateral`", shape: upToThreeInches, note: "use `lateral`"},
		field{key: "right", meaning: "Right lateral pitch of the " + name + " as seen with the fingers up, instead of `lateral`", shape: upToThreeInches, note: "use `lateral`"},
		field{key: "insert", meaning: "Insert of the " + name + ": " + inserts.what + ", or `none`", shape: inserts, fallback: fallback},
		field{key: "oval", meaning: "Note on the oval of the " + name + ", for the sheet", shape: freeText, note: "none"},
		field{key: "bevel", meaning: "Note on the bevel of the " + name + ", for the sheet", shape: freeText, note: "none"},
	), choice{keys: []string{"forward", "reverse"}}, choice{keys: []string{"lateral", "left", "right"}})
}

// insertShape is the shape of the insert of a hole.
func insertShape(what, name string, i ball.Insert) *shape {
	s := record(what, insertNumbers(&i).usual(
		field{key: "outer", meaning: "Outer diameter of the " + name, shape: holeWidth, note: "the hole's"},
		field{key: "inner", meaning: "Inner diameter of the " + name + "; 0 in for a solid one", shape: upToThreeInches, assumed: true},
		field{key: "length", meaning: "Length of the " + name + ", from the surface down", shape: upToTenInches, assumed: true},
		field{key: "density", meaning: "Density of the " + name, shape: anyDensity, assumed: true},
	))
	s.words = []string{none}
	return s
}
