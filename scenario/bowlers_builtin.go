package scenario

import (
	"fmt"
	"slices"

	"lanesim/internal/input"
	"lanesim/report"
)

// builtinBowler is a bowler that comes with the program, written as in a file.
// Speed and rev rate are a published average or assumed; the rest, with the PAP,
// is assumed.
type builtinBowler struct {
	word, about             string
	published               bool // speed and rev rate
	speed, revRate          string
	rotation, tilt, laydown string
	pap                     string
}

// builtinBowlers are sorted by rev rate and speed. The published averages are
// those of the US governing body for bowlers of low, medium and high rev rate.
var builtinBowlers = []builtinBowler{
	{"low revs", "few revs at a good speed, hooks late and little", true, "19 mph", "220 rpm", "35 deg", "15 deg", "20", "{over: 5 in, up: 1/2 in}"},
	{"medium revs", "the usual one-handed delivery", true, "18 mph", "325 rpm", "45 deg", "14 deg", "22", "{over: 5 in, up: 1/2 in}"},
	{"two-handed", "two hands and no thumb; the grip is the ball's, so give the ball  grip: thumbless", false, "18 mph", "500 rpm", "50 deg", "8 deg", "33", "{over: 4 3/4 in, up: 0 in}"},
	{"high revs", "one hand and many revs", true, "19 mph", "520 rpm", "55 deg", "12 deg", "33", "{over: 5 in, up: 1/2 in}"},
}

// builtinLine is the line of a built-in bowler if the file gives none.
const builtinLine = "pocket"

// keys returns the keys that a built-in bowler fills in, with their values. The line
// is not among them.
func (b builtinBowler) keys() [][2]string {
	return [][2]string{
		{"pap", b.pap}, {"speed", b.speed}, {"rev_rate", b.revRate},
		{"axis_rotation", b.rotation}, {"axis_tilt", b.tilt}, {"laydown", b.laydown},
	}
}

var builtinBowlerWords = input.Each(builtinBowlers, func(b builtinBowler) string { return b.word })

// likeKey names the built-in bowler that a bowler is like.
const likeKey = "like"

// lineKeys are the ways to give a bowler's line.
var lineKeys = []string{"angle", "target", lineKey, "aim"}

// nameBowlers replaces every name of a built-in bowler by a mapping, so that its
// parts can be set.
func nameBowlers(root *node) {
	for _, b := range partNodes(root, "bowler") {
		if b.kind == scalar && slices.Contains(builtinBowlerWords, b.text) {
			*b = node{kind: mapping, at: b.at, entries: []entry{{textNode(likeKey, b.at), textNode(b.text, b.at)}}}
		}
	}
}

// fillBowlers adds to every bowler that is like a built-in one what the file does
// not give; without a line of its own it aims at the pocket. The places of what is
// added are those of the names.
func fillBowlers(root *node) {
	nameBowlers(root)
	for _, b := range partNodes(root, "bowler") {
		like := b.entry(likeKey)
		if like == nil || !slices.Contains(builtinBowlerWords, like.text) {
			continue // reading it lists the names
		}
		model := builtinBowlers[slices.Index(builtinBowlerWords, like.text)]
		fill := func(key, text string) {
			var own problems
			value := own.parse(text, like.at)
			value.each(func(n *node) { n.at = like.at })
			b.entries = append(b.entries, entry{textNode(key, like.at), value})
		}
		for _, k := range model.keys() {
			if b.entry(k[0]) == nil && (k[0] != "laydown" || b.entry(lineKey) == nil) {
				fill(k[0], k[1])
			}
		}
		if !slices.ContainsFunc(lineKeys, func(key string) bool { return b.entry(key) != nil }) {
			fill("aim", builtinLine)
		}
	}
}

// builtinBowlers lists the bowlers that come with the program.
func (r *page) builtinBowlers() {
	r.WriteString("## Built-in bowlers\n\nA bowler can be one of these, by name: `bowler: medium revs`, `bowlers: [low revs, high revs]`. " +
		"With `like` a bowler is one of them except for the fields given: `bowler: {like: medium revs, laydown: 24, angle: 1 deg}`. " +
		"Without a line of their own they `aim: pocket`.\n\n" +
		"Speeds and rev rates marked published are averages of the US governing body; all the rest is *assumed*. " +
		"The grip is the ball's: a two-handed bowler's ball has `grip: thumbless`.\n\n" +
		"| bowler | speed and rev rate | axis rotation and tilt | PAP | laydown |\n| --- | --- | --- | --- | --- |\n")
	for _, b := range builtinBowlers {
		mark := "*assumed*"
		if b.published {
			mark = "published"
		}
		fmt.Fprintf(r, "| `%s` | %s, %s (%s) | %s, %s | `%s` | %s |\n", b.word, b.speed, b.revRate, mark, b.rotation, b.tilt, b.pap, b.laydown)
	}
	r.WriteString("\n")
}

// BuiltinBowler is a bowler that comes with the program.
type BuiltinBowler struct {
	Word  string // the bowler's name in a scenario
	About string

	// Bowler aims at the pocket unless a scenario gives a line.
	Bowler Bowler

	// Published is set if speed and rev rate are averages published by the US
	// governing body; else they are assumed. All the rest is assumed.
	Published bool
}

// BuiltinBowlers returns the bowlers that come with the program, by rev rate.
func BuiltinBowlers() []BuiltinBowler {
	list := make([]BuiltinBowler, len(builtinBowlers))
	for i, b := range builtinBowlers {
		r := newReader(&problems{}, b.word, nil)
		root := r.tree(b.word, []byte("bowler: "+b.word))
		fillBowlers(root)
		made := r.bowler(r.decode(root.entry("bowler"), bowlerShape, "bowler"))
		if err := r.err(); err != nil {
			panic(err) // they are part of the program, and tested
		}
		made.Name = b.word
		list[i] = BuiltinBowler{b.word, b.about, made, b.published}
	}
	return list
}

// BowlerYAML returns a bowler as in a scenario file, under the key bowler: hand, PAP,
// release and line. Reading it gives the same bowler bit for bit, without
// repeatability.
func BowlerYAML(b Bowler) []byte {
	text := "bowler:\n"
	for _, m := range b.inputs() {
		text += "  " + m.Key + ": " + oneLine(m.Value) + "\n"
	}
	return []byte(text)
}

// inputs writes a bowler with the line, or with aim: pocket.
func (b Bowler) inputs() report.Object {
	o := bowlerInputs(b, b.Release.Angle)
	if b.AimAtPocket {
		o[len(o)-1] = report.Member{Key: "aim", Value: builtinLine}
	}
	return o
}

// BowlerJSON is [BowlerYAML] as a JSON object without the key.
func BowlerJSON(b Bowler) ([]byte, error) { return report.JSON(b.inputs()) }
