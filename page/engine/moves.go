package engine

import (
	"context"
	"fmt"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/thrown"
	"lanesim/studies"
)

// move answers with the effect of moves of the line: first the present line, then each move,
// with both balls.
func (e *Engine) move(ctx context.Context, s *setup, r request, progress Progress) (answer, error) {
	if len(r.Moves) > mostMoves {
		return answer{}, errTooMany("moves", mostMoves)
	}
	lines, err := e.linesOf(ctx, s, true)
	if err != nil {
		return answer{}, err
	}
	var list report.List
	for k, text := range append([]string{""}, r.Moves...) {
		if err := ctx.Err(); err != nil {
			return answer{}, err
		}
		var by studies.LineMove
		if text != "" {
			if by, err = e.readMove(r.State, text); err != nil {
				return answer{}, err
			}
		}
		o := report.ObjectOf("move", text)
		for side := range sides {
			release := by.Apply(lines[side].Release)
			moved, err := e.moved(s, side, release)
			if err != nil {
				return answer{}, err
			}
			if side == sideA {
				o = append(o, report.ObjectOf("sets", lineSets(release))...)
			}
			o = append(o, report.ObjectOf(sideNames[side], moved)...)
		}
		list = append(list, o)
		progress("move", k+1, len(r.Moves)+1)
	}
	return answer{is: "moves", members: report.ObjectOf("moves", list)}, nil
}

// readMove reads a move as in a scenario, "3 and 2 left", for the state's bowler.
func (e *Engine) readMove(of state, text string) (studies.LineMove, error) {
	d, err := e.parse(of.Base)
	if err != nil {
		return studies.LineMove{}, err
	}
	// From the middle of the lane no move leaves the lane.
	sets := append(of.Sets.without("bowler.laydown=").without("bowler.target").without("bowler.aim").without("bowler.angle"),
		"bowler.laydown=20", "bowler.aim=pocket", "bowler.move="+text)
	s, err := d.Read(sets)
	if err != nil {
		return studies.LineMove{}, err
	}
	return s.Bowlers[0].Move, nil
}

// moved throws a ball along a moved line.
func (e *Engine) moved(s *setup, side int, release physics.Release) (report.Object, error) {
	t := thrown.Shot{Lane: s.lane().Name, Ball: s.Balls[side].Name, Bowler: s.bowler().Name, Release: release, Pocket: thrown.Pocket(s.Scenario.Settings, s.bowler().Release), FootToBall: s.bowler().FootToBall}
	settings := s.settings()
	settings.PathSpacing = -1
	var err error
	if t.Shot, err = e.thrower.Throw(s.lane(), s.balls[side].Prepared, release, settings); err != nil {
		return nil, fmt.Errorf("%s: %w", t.Ball, err)
	}
	var point report.Object
	if b := t.Shot.Events.Breakpoint; b != nil {
		point = report.ObjectOf("board", b.Board, "distance", report.Foot.In(b.Distance))
	}
	board, angle := any(nil), any(nil)
	words := fmt.Sprintf("ends in: %s", t.Shot.Status)
	if t.Shot.Events.Pins != nil {
		board, angle = t.Shot.EntryBoard(), report.Degree.In(t.Shot.EntryAngle())
		words = thrown.EntryText(t.Shot.EntryBoard(), t.Shot.EntryAngle()) + ", " + t.Hit()
	}
	return report.ObjectOf("line", t.LineText(), "entryBoard", board, "entryAngle", angle,
		"breakpoint", point, "hit", t.Hit(), "text", words), nil
}
