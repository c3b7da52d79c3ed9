package scenario

import (
	"math"
	"strings"
	"testing"

	"lanesim/studies"
)

const linesScenario = `
lane: {oil: house}
ball: {weight: 15 lb, diameter: 8.58 in, rg: 2.5 in, differential: 0 in, roughness: 14 uin}
bowlers:
  - {name: Rhea, like: medium revs, line: {feet: 29, arrows: 15}}
  - {name: Lew, like: medium revs, hand: left, laydown: 22, angle: 2 deg, move: 1 inside}
lines:
  - {name: own line}
  - {name: out, move: 3 and 2 outside}
  - {name: right, move: 2 right}
  - {name: from 30, laydown: 30, aim: pocket}
  - {name: by arrows, line: {laydown: 20, arrows: 12}}
`

// Every bowler throws on every line. The line replaces the bowler's own.
func TestListedLines(t *testing.T) {
	s := mustRead(t, "lines.yaml", []byte(linesScenario), nil)
	at := func(laydown, arrows float64) [2]float64 { return [2]float64{laydown, arrows} }
	own := studies.BoardAtArrows(s.Bowlers[5].Release) // 2 deg from board 22, moved inside by a board
	want := []struct {
		name string
		line [2]float64
		aims bool
	}{
		{"Rhea, own line", at(22, 15), false},
		{"Rhea, out", at(19, 13), false},
		{"Rhea, right", at(20, 13), false},
		{"Rhea, from 30", at(30, 0), true},
		{"Rhea, by arrows", at(20, 12), false},
		{"Lew, own line", at(23, own), false},
		{"Lew, out", at(19, own-3), false}, // replaces the bowler's own move
		{"Lew, right", at(24, own+1), false},
		{"Lew, from 30", at(30, 0), true},
		{"Lew, by arrows", at(20, 12), false},
	}
	if len(s.Bowlers) != len(want) || len(s.BowlersWritten) != len(want) {
		t.Fatalf("%d bowlers, %d as written", len(s.Bowlers), len(s.BowlersWritten))
	}
	for i, w := range want {
		b := s.Bowlers[i]
		if b.Name != w.name || b.Person+", "+b.Line != w.name || b.AimAtPocket != w.aims || b.Release.Laydown != w.line[0] {
			t.Errorf("bowler %d is %q (%q on %q) from board %g, aims: %v; not %+v", i, b.Name, b.Person, b.Line, b.Release.Laydown, b.AimAtPocket, w)
		}
		if arrows := studies.BoardAtArrows(b.Release); !w.aims && math.Abs(arrows-w.line[1]) > 1e-9 {
			t.Errorf("%s crosses board %g at the arrows, not %g", b.Name, arrows, w.line[1])
		}
	}
}

// With a listed laydown, a bowler who gave feet and arrows aims at the pocket.
func TestListedLaydownAims(t *testing.T) {
	text := strings.Replace(linesScenario, ", aim: pocket}", "}", 1)
	s := mustRead(t, "lines.yaml", []byte(text), nil)
	if b := s.Bowlers[3]; !b.AimAtPocket || b.Release.Laydown != 30 {
		t.Errorf("%+v", b)
	}
	if b := s.Bowlers[8]; b.AimAtPocket || b.Release.Laydown != 30 || b.Release.Angle == 0 {
		t.Errorf("who gave an angle keeps it: %+v", b)
	}
}

// Errors in listed lines are placed in the list.
func TestFaultsOfListedLines(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"{name: own line}", "{move: 2 left}", "lines[0].name: is missing"},
		{"name: right,", "name: out,", `another line already has the name "out"`},
		{"move: 2 right", "move: 2 upward", "lines[2].move"},
		{"move: 3 and 2 outside", "move: 25 and 2 outside", "moves the laydown to board"},
		{"laydown: 30, aim: pocket", "laydown: 30, line: {laydown: 3, arrows: 4}", "is there already"},
	} {
		_, err := Read("lines.yaml", []byte(strings.Replace(linesScenario, c.old, c.new, 1)), nil, nil)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, without %q", c.new, err, c.want)
		}
	}
}
