package scenario

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/physics"
	"lanesim/studies"

	"github.com/google/go-cmp/cmp"
)

// lineOfBowler reads a bowler with the given keys of the line.
func lineOfBowler(t *testing.T, keys string) Bowler {
	t.Helper()
	return readText(t, aLane+"bowler: {speed: 18 mph, rev_rate: 0 rpm, "+keys+"}").Bowlers[0]
}

// A line given by feet and arrows becomes a laydown and a launch angle, by the triangle
// from the laydown to the arrows: 15 ft are 169.15 boards of 27.028 mm.
func TestLineOfFeetAndArrows(t *testing.T) {
	const boardsToArrows = 15 * 12 * 39 / 41.5
	near := func(got Bowler, laydown, arrows float64) {
		t.Helper()
		angle := math.Atan((laydown - arrows) / boardsToArrows)
		if r := got.Release; math.Abs(r.Laydown-laydown) > 1e-12 || math.Abs(r.Angle-angle) > 1e-9 || got.LineToFind() {
			t.Errorf("laydown %v and angle %v, want %v and %v; to find: %v", r.Laydown, r.Angle, laydown, angle, got.LineToFind())
		}
	}
	for _, hand := range []string{"right", "left"} {
		keys := "hand: " + hand + ", "
		near(lineOfBowler(t, keys+"line: {feet: 29, arrows: 14}"), 22, 14)
		near(lineOfBowler(t, keys+"line: {feet: 29, arrows: 14}, foot_to_ball: 6"), 23, 14)
		near(lineOfBowler(t, keys+"line: {laydown: 20, arrows: 12}"), 20, 12)
	}
	// Moves are as the bowler sees them: a right-hander's boards count up to the left, a
	// left-hander's to the right.
	for _, c := range []struct {
		hand, move   string
		feet, arrows float64
	}{
		{"right", "{feet: 3 left, arrows: 2 left}", 3, 2}, {"right", "3 and 2 left", 3, 2}, {"right", "3 and 2 right", -3, -2},
		{"right", "2 left", 2, 2}, {"right", "2.5 right", -2.5, -2.5}, {"right", "{feet: 3 left}", 3, 0}, {"right", "{feet: 1 left, arrows: 1 right}", 1, -1},
		{"right", "{feet: 0, arrows: 1 1/2 right}", 0, -1.5},
		{"right", "parallel 2 left", 2, 2}, {"right", "moved 4 and 3 right into the dry", -4, -3}, {"right", "moved right into the dry", -5, -4}, {"left", "right into the dry", 5, 4},
		{"left", "{feet: 3 left, arrows: 2 left}", -3, -2}, {"left", "3 and 2 right", 3, 2}, {"left", "2 left", -2, -2},
	} {
		keys := "hand: " + c.hand + ", move: " + c.move + ", "
		near(lineOfBowler(t, keys+"line: {feet: 29, arrows: 14}"), 22+c.feet, 14+c.arrows)
		angle := math.Atan(8 / boardsToArrows)
		near(lineOfBowler(t, keys+fmt.Sprintf("laydown: 22, angle: %.17g rad", angle)), 22+c.feet, 14+c.arrows)
		near(lineOfBowler(t, keys+"laydown: 22, target: {board: 14, distance: 15 ft}"), 22+c.feet, 14+c.arrows)
	}
	// The laydown distance shortens the distance to the arrows.
	b := lineOfBowler(t, "laydown_distance: 3 ft, line: {laydown: 20, arrows: 12}")
	if want := math.Atan(8 / (boardsToArrows * 12 / 15)); math.Abs(b.Release.Angle-want) > 1e-9 {
		t.Errorf("angle %v, want %v", b.Release.Angle, want)
	}
}

// A line that has to be found is kept together with its move.
func TestLineToBeFound(t *testing.T) {
	b := lineOfBowler(t, "hand: left, line: {arrows: 14, breakpoint: 8}, move: 3 and 2 left")
	if diff := cmp.Diff(&Breakpoint{Arrows: 14, Board: 8}, b.Breakpoint); diff != "" || !b.LineToFind() {
		t.Error(diff, b.LineToFind())
	}
	if b.Release.Hand != ball.Left || b.Move != (studies.LineMove{Feet: -3, Arrows: -2}) {
		t.Errorf("%+v", b.Move)
	}
	moved := lineOfBowler(t, "laydown: 24, aim: pocket, move: 2 left")
	found, err := moved.Found(studies.OverArrows(moved.Release, 24, 15))
	if err != nil || math.Abs(found.Laydown-26) > 1e-12 || math.Abs(studies.BoardAtArrows(found)-17) > 1e-9 {
		t.Errorf("laydown %v, arrows %v, %v", found.Laydown, studies.BoardAtArrows(found), err)
	}
	if _, err := moved.Found(physics.Release{Laydown: 38}); err == nil || !strings.Contains(err.Error(), "board 40") {
		t.Error(err)
	}
}

// A line replaces a built-in bowler's laydown, and --set replaces lines.
func TestLineReplacesWhatIsThere(t *testing.T) {
	b := readText(t, aLane+"bowler: {like: medium revs, line: {feet: 30, arrows: 15}}").Bowlers[0]
	if b.Release.Laydown != 23 || b.AimAtPocket {
		t.Errorf("%+v", b)
	}
	text := aLane + "bowler: {speed: 18 mph, rev_rate: 0 rpm, laydown: 20, angle: 1 deg}"
	for _, sets := range [][]string{{"bowler.line={feet: 29, arrows: 14}"}, {"bowler.line.feet=29", "bowler.line.arrows=14"}} {
		s := mustRead(t, "set.yaml", []byte(text), nil, sets...)
		if r := s.Bowlers[0].Release; r.Laydown != 22 || math.Abs(studies.BoardAtArrows(r)-14) > 1e-9 {
			t.Errorf("%v: %+v", sets, r)
		}
	}
	s, err := Read("set.yaml", []byte(aLane+"bowler: {like: low revs, line: {feet: 29, arrows: 14}, move: 3 and 2 left}"), nil, []string{"bowler.move.feet=1 right"})
	if err != nil || s.Bowlers[0].Release.Laydown != 21 || math.Abs(studies.BoardAtArrows(s.Bowlers[0].Release)-16) > 1e-9 {
		t.Error(err, s)
	}
}

// Inputs contain the line that was found.
func TestInputsOfAFoundLine(t *testing.T) {
	s := readText(t, aLane+"bowler: {speed: 18 mph, rev_rate: 0 rpm, line: {arrows: 14, breakpoint: 8}, foot_to_ball: 6.5}")
	list := deliveriesOf(t, s)
	text, err := s.InputsFrom(list[0], 21.25, 0.04)
	if err != nil {
		t.Fatal(err)
	}
	again := mustRead(t, "inputs.json", text, nil)
	b := again.Bowlers[0]
	if b.Release.Laydown != 21.25 || b.Release.Angle != 0.04 || b.FootToBall != 6.5 || b.LineToFind() {
		t.Errorf("%+v", b)
	}
}
