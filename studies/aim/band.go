package aim

import (
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
)

// Band is a line's shot without deviations, and the shots farthest to either side at the arrows that still
// end in the pocket. All keep their paths.
type Band struct {
	Line, Outside, Inside physics.Shot
}

// band throws the shots of a line and of its room. A room without a found end counts as mostMissedBoards.
func (s *lineSearch) band(line Line, room Room) (Band, error) {
	var b Band
	arrows := studies.BoardAtArrows(line.Release)
	outside, inside := room.sides(line.Release)
	thrower := physics.NewThrower()
	for _, one := range []struct {
		shot *physics.Shot
		by   float64
	}{{&b.Line, 0}, {&b.Outside, -outside}, {&b.Inside, inside}} {
		r := line.Release
		r.Angle = studies.AngleOverArrows(r, r.Laydown, arrows+one.by)
		var err error
		settings := s.Settings
		settings.EndOnly, settings.PathSpacing = false, 0
		if *one.shot, err = thrower.Throw(s.Setup.Lane, s.Setup.Ball, r, settings); err != nil {
			return b, err
		}
		s.thrown++
	}
	return b, nil
}

// sides returns the room at the arrows toward the ball side and away from it, in boards.
func (r Room) sides(release physics.Release) (outside, inside float64) {
	outside, inside = r.Right, r.Left
	if release.Hand == ball.Left {
		outside, inside = inside, outside
	}
	for _, v := range []*float64{&outside, &inside} {
		if math.IsNaN(*v) {
			*v = mostMissedBoards
		}
	}
	return outside, inside
}

// nearEdge is the distance in boards from a limit within which the best line counts as on the edge of the
// search.
const nearEdge = 0.25

// edges returns the limits on which a line lies: a line beyond one may be better.
func (s *lineSearch) edges(l Line) []Edge {
	var on []Edge
	if w := s.Limits.Laydown; l.Release.Laydown <= w.Min+nearEdge && w.Min > 1 {
		on = append(on, Edge{Board: w.Min})
	}
	if w := s.Limits.Laydown; l.Release.Laydown >= w.Max-nearEdge && w.Max < lane.Boards {
		on = append(on, Edge{Board: w.Max})
	}
	if w := s.Limits.Arrows; l.Arrows <= w.Min+nearEdge {
		on = append(on, Edge{true, w.Min})
	}
	if w := s.Limits.Arrows; l.Arrows >= w.Max-nearEdge {
		on = append(on, Edge{true, w.Max})
	}
	return on
}
