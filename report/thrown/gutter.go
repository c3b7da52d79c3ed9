package thrown

import (
	"fmt"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// gutterBoards is how near in boards to the edge of the lane a path is warned about:
// few bowlers repeat to a board, and what misses by as much is lost.
const gutterBoards = 1.0

// NearGutters warns of shots that stay on the lane, but only just.
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

// statesAt are the states at the breakpoint and at the pins, as far as there are any: a
// path may not have been asked for.
func statesAt(e physics.Events) []physics.State {
	var list []physics.State
	for _, s := range []*physics.State{e.Breakpoint, e.Pins} {
		if s != nil {
			list = append(list, *s)
		}
	}
	return list
}
