package studies

import (
	"math"

	"lanesim/lane"
	"lanesim/physics"
)

// DefaultFootToBall is the distance in boards from the sliding foot to the ball's centre at the laydown; the
// foot is on the side away from the throwing hand. It is assumed: six to eight boards are common practice.
const DefaultFootToBall = 7.0

// LineMove is a move of a line in boards, positive away from the bowler's own side: to the left for a
// right-hander, to the right for a left-hander.
type LineMove struct{ Feet, Arrows float64 }

// Apply returns the release on the moved line. The laydown moves with the feet.
func (m LineMove) Apply(r physics.Release) physics.Release {
	if m == (LineMove{}) {
		return r
	}
	return OverArrows(r, r.Laydown+m.Feet, BoardAtArrows(r)+m.Arrows)
}

// BoardAtArrows returns the board at the arrows, 15 ft from the foul line, at which the launch direction
// points; NaN if the laydown is beyond the arrows.
func BoardAtArrows(r physics.Release) float64 {
	if r.LaydownDistance >= lane.Arrows {
		return math.NaN()
	}
	return r.Laydown - (lane.Arrows-r.LaydownDistance)*math.Tan(r.Angle)/lane.BoardWidth
}

// OverArrows returns the release on the line from a laydown over a board at the arrows. The arrows must lie
// beyond the laydown.
func OverArrows(r physics.Release, laydown, arrows float64) physics.Release {
	r.Laydown, r.Angle = laydown, AngleOverArrows(r, laydown, arrows)
	return r
}

// AngleOverArrows returns the launch angle in rad of the line from a laydown over a board at the arrows.
func AngleOverArrows(r physics.Release, laydown, arrows float64) float64 {
	return math.Atan((laydown - arrows) / ReachOfArrows(r))
}

// ReachOfArrows returns the distance from the laydown to the arrows along the lane, in widths of a board.
func ReachOfArrows(r physics.Release) float64 {
	return (lane.Arrows - r.LaydownDistance) / lane.BoardWidth
}
