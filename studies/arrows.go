package studies

import (
	"math"

	"lanesim/lane"
	"lanesim/physics"
)

// DefaultFootToBall is how far, in boards, the sliding foot is from the ball's centre
// at the laydown, on the side away from the throwing hand. It is assumed: six to
// eight boards are common practice.
const DefaultFootToBall = 7.0

// LineMove is by how much a line is moved, in boards away from the bowler's own side:
// to the left for a right-hander and to the right for a left-hander.
type LineMove struct{ Feet, Arrows float64 }

// Apply returns the release on the moved line. The laydown goes with the feet.
func (m LineMove) Apply(r physics.Release) physics.Release {
	if m == (LineMove{}) {
		return r
	}
	return OverArrows(r, r.Laydown+m.Feet, BoardAtArrows(r)+m.Arrows)
}

// BoardAtArrows is the board at the arrows, 15 ft from the foul line, for which a ball
// heads as it is launched; NaN if it is launched beyond them.
func BoardAtArrows(r physics.Release) float64 {
	if r.LaydownDistance >= lane.Arrows {
		return math.NaN()
	}
	return r.Laydown - (lane.Arrows-r.LaydownDistance)*math.Tan(r.Angle)/lane.BoardWidth
}

// OverArrows returns the release on the line from a laydown over a board at the
// arrows, which must lie beyond the laydown.
func OverArrows(r physics.Release, laydown, arrows float64) physics.Release {
	r.Laydown, r.Angle = laydown, AngleOverArrows(r, laydown, arrows)
	return r
}

// AngleOverArrows is the launch angle in rad of a line from a laydown to a board at the
// arrows.
func AngleOverArrows(r physics.Release, laydown, arrows float64) float64 {
	return math.Atan((laydown - arrows) / ReachOfArrows(r))
}

// ReachOfArrows is in boards the distance from a laydown to the arrows.
func ReachOfArrows(r physics.Release) float64 {
	return (lane.Arrows - r.LaydownDistance) / lane.BoardWidth
}
