package scenario

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

// lineKey and moveKey are the keys of the line in bowlers' terms and of its move.
const (
	lineKey = "line"
	moveKey = "move"
)

// laydownKeys are the ways to give a bowler's laydown.
var laydownKeys = []string{"laydown", lineKey}

var (
	arrowsField = field{key: "arrows", meaning: "Board at the arrows, " + length.format(lane.Arrows, "ft") + " from the foul line, over which the ball is launched", shape: anyBoard, required: true}

	lineShape = &shape{what: "a line", forms: []form{
		{title: "feet and arrows", fields: []field{
			{key: "feet", meaning: "Board under the middle of the sliding foot; the ball is laid down `foot_to_ball` boards from it", required: true,
				shape: bare(atLeast("0.5"), atMost("60"))},
			arrowsField,
		}},
		{title: "laydown and arrows", fields: []field{
			{key: "laydown", meaning: "Board under the ball's centre where it first touches the lane", shape: anyBoard, required: true},
			arrowsField,
		}},
		{title: "arrows and breakpoint", fields: []field{
			arrowsField,
			{key: "breakpoint", meaning: "Board of the breakpoint; laydown and launch angle are found for each ball and lane", shape: anyBoard, required: true},
		}},
	}}

	moveShape = &shape{what: "a move", spelt: &spelling{pattern: `^\s*(moved\s+|parallel\s+)?([0-9./ ]+(and\s*[0-9./ ]+)?)?(left|right|inside|outside)(\s+into the dry)?\s*$`, example: "2 left or 3 and 2 left", parts: moveParts},
		forms: []form{{title: "a move", fields: []field{
			{key: "feet", meaning: "Boards that the feet move, and the laydown with them", shape: boardsToSide, fallback: "0"},
			{key: "arrows", meaning: "Boards that the line moves at the arrows", shape: boardsToSide, fallback: "0"},
		}}}}

	// boardsToSide is the shape of boards to a side, as 3 left.
	boardsToSide = &shape{what: "boards to a side, as 3 left", side: true}
)

// sidePattern matches boards to a side in the schema.
const sidePattern = `^\s*[0-9.]+\s+(left|right|inside|outside)\s*$`

// ownSide marks boards to the bowler's inside or outside, which depend on the hand.
const ownSide = "own side"

// side reads boards to a side: to the left, or to the inside, is positive. 0 needs no
// side.
func (d *decoder) side(v *value, text string, s *shape) {
	number, side := text, "left"
	if words := strings.Fields(text); len(words) > 1 {
		side = words[len(words)-1]
		number = strings.TrimSuffix(strings.TrimSpace(text), side)
	}
	boards, err := parseBare(number)
	switch {
	case err != nil || !slices.Contains([]string{"left", "right", "inside", "outside"}, side) || number == text && boards != 0:
		d.fail(v, fmt.Sprintf("%q is not %s", text, s.expected()), "")
		return
	case boards < 0 || boards > lane.Boards:
		d.fail(v, fmt.Sprintf("%s: a move is 0 to %d boards to a side", strings.TrimSpace(text), lane.Boards), "")
		return
	}
	if v.number = boards; side == "right" || side == "outside" {
		v.number = -boards
	}
	if side == "inside" || side == "outside" {
		v.word = ownSide
	}
}

// intoTheDry is a move into the dry boards without numbers: boards with the feet and at
// the arrows, which are assumed.
var intoTheDry = [2]string{"5", "4"}

// moveWords match a move on one line: parallel or not, boards of the feet, boards at the
// arrows, the side.
var moveWords = regexp.MustCompile(`^\s*(?:moved\s+|(parallel)\s+)?(?:(\S.*?)\s+(?:and\s+(\S.*?)\s+)?)?(left|right|inside|outside)(\s+into\s+the\s+dry)?\s*$`)

// moveParts reads "3 and 2 left" as 3 boards with the feet and 2 at the arrows, and "2
// left" or "parallel 2 left" as 2 boards with both.
func moveParts(text string) ([][2]string, string) {
	m := moveWords.FindStringSubmatch(text)
	if m == nil {
		return nil, ""
	}
	feet, arrows, remark := m[2], m[3], ""
	switch {
	case m[1] != "" && (feet == "" || arrows != ""), feet == "" && m[5] == "":
		return nil, ""
	case feet == "":
		feet, arrows = intoTheDry[0], intoTheDry[1]
		remark = fmt.Sprintf("%q is read as %s and %s %s, which is assumed.", strings.TrimSpace(text), feet, arrows, m[4])
	case arrows == "":
		arrows = feet
	}
	return [][2]string{{"feet", feet + " " + m[4]}, {"arrows", arrows + " " + m[4]}}, remark
}

// line resolves a line in bowlers' terms.
func (r *reader) line(v *value, b *Bowler) {
	line := v.field(lineKey)
	if !line.sound() || !v.good("laydown_distance", "foot_to_ball") {
		return
	}
	arrows := line.field("arrows")
	if r.beyondArrows(v, line) {
		return
	}
	if line.has("breakpoint") && r.sweeps {
		r.fail(line, "a sweep does not find a line by its breakpoint: give feet or laydown, and arrows", "")
		return
	}
	if line.has("breakpoint") {
		b.Breakpoint = &Breakpoint{Arrows: arrows.number, Board: line.field("breakpoint").number}
		b.Release.Laydown = arrows.number
		return
	}
	laydown := line.field("laydown").number
	if feet := line.field("feet"); line.has("feet") {
		laydown = feet.number - b.FootToBall
		if !onLane(laydown) {
			r.fail(feet, fmt.Sprintf("puts the ball down on board %.4g: that is not on the lane", laydown), "the ball is `foot_to_ball` boards from the foot, here "+formatBare(b.FootToBall))
			return
		}
	}
	b.Release = studies.OverArrows(b.Release, laydown, arrows.number)
	r.steep(arrows, b.Release.Angle)
}

// move moves a line that is known, and stores the move for a line still to be found.
func (r *reader) move(v *value, b *Bowler) {
	move := v.field(moveKey)
	if !move.sound() {
		return
	}
	if b.AimAtPins != 0 {
		r.fail(move, "the line of a bowler who aims at pins cannot be moved: give the laydown", "")
		return
	}
	boards := func(key string) float64 {
		m := move.field(key)
		if b.Release.Hand == ball.Left && m.word != ownSide {
			return 0 - m.number // not −m.number, which may be −0
		}
		return m.number
	}
	b.Move = studies.LineMove{Feet: boards("feet"), Arrows: boards("arrows")}
	if !v.good("laydown_distance") || r.beyondArrows(v, move) {
		return
	}
	if b.AimAtPocket && r.sweeps {
		r.fail(move, "a sweep cannot move a line aimed at the pocket: give feet or laydown, and arrows", "")
		return
	}
	if b.AimAtPocket || b.Breakpoint != nil || !onLane(b.Release.Laydown) {
		return
	}
	b.Release, b.Move = b.Move.Apply(b.Release), studies.LineMove{}
	if !onLane(b.Release.Laydown) {
		r.fail(move, fmt.Sprintf("moves the laydown to board %.4g: that is not on the lane", b.Release.Laydown), "")
		return
	}
	r.steep(move, b.Release.Angle)
}

// beyondArrows reports whether the ball is laid down beyond the arrows, which is an error.
func (r *reader) beyondArrows(v, line *value) bool {
	beyond := v.field("laydown_distance").number >= lane.Arrows
	if beyond {
		r.fail(line, "the ball is laid down beyond the arrows, which are "+feet(lane.Arrows)+" out", "")
	}
	return beyond
}

// onLane reports whether a laydown is on the lane.
func onLane(board float64) bool { return anyBoard.number.holds(board) }

// steep reports a launch angle beyond its limit as an error.
func (r *reader) steep(v *value, angle float64) {
	if most := launchAngle.number.most.text; math.Abs(angle) > physics.MostLaunchAngle {
		r.fail(v, fmt.Sprintf("needs a launch angle of %.3g deg, beyond %s", angle/units.Degree, most), "")
	}
}

// Found returns a release whose line was found, moved by the bowler's Move. It is an error
// if the laydown is then off the lane.
func (b Bowler) Found(r physics.Release) (physics.Release, error) {
	r = b.Move.Apply(r)
	if !onLane(r.Laydown) {
		return r, fmt.Errorf("the move puts the laydown on board %.4g, which is not on the lane", r.Laydown)
	}
	return r, nil
}

// LineToFind reports whether the line is found by its breakpoint or moved after it is
// found.
func (b Bowler) LineToFind() bool {
	return b.Breakpoint != nil || b.Move != studies.LineMove{}
}
