package thrown

import (
	"fmt"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// gutterBoards is the distance from the edge of the lane in boards within which a path gets a warning: few
// bowlers repeat to a board, and a miss of that size loses the ball.
const gutterBoards = 1.0

// NearGutters warns of shots that stay on the lane but come near a gutter.
func NearGutters(shots []Shot) []string {
	var list []string
	for _, t := range shots {
		if t.Shot.Events.Gutter != nil {
			continue
		}
		nearest, at := gutterBoards, physics.State{}
		for _, states := range [][]physics.State{t.Shot.Path, t.Shot.Marks, statesAt(t.Shot.Events)} {
			for i := range states {
				if room := min(states[i].Board-0.5, lane.Boards+0.5-states[i].Board); room < nearest {
					nearest, at = room, states[i]
				}
			}
		}
		if nearest < gutterBoards {
			list = append(list, fmt.Sprintf("%s with %s on %s: the path comes within %.1f boards of the gutter, on board %.1f at %.0f ft.",
				t.Bowler, t.Ball, t.Lane, nearest, at.Board, at.Distance/units.Foot))
		}
	}
	return list
}

// statesAt returns the states at the breakpoint and at the pins, if they exist: the path may be missing.
func statesAt(e physics.Events) []physics.State {
	var list []physics.State
	for _, s := range []*physics.State{e.Breakpoint, e.Pins} {
		if s != nil {
			list = append(list, *s)
		}
	}
	return list
}
