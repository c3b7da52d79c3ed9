package physics

import (
	"lanesim/ball"
	"lanesim/units"
)

// Limits of a release in scenarios, far beyond what people throw. A ball slower than
// LeastSpeed takes longer to the pins than shots are followed.
const (
	LeastSpeed      = 0.5 * units.MPH
	MostSpeed       = 100 * units.MPH
	MostRevRate     = 2000 * units.RPM
	MostAxisTilt    = 89 * units.Degree
	MostLaunchAngle = 45 * units.Degree
)

// Release is the motion that the bowler gives the ball, at the instant from
// which on it is in contact with the lane.
//
// Relative to the launch direction the spin is
//
//	ω̂ = (−cos β sin α, cos β cos α, sin β)     (right-hander)
//
// with axis rotation α (0 is forward roll, 90° side roll) and axis tilt β. A
// left-hander's release is its mirror image.
type Release struct {
	Hand ball.Hand

	Speed   float64 // m/s, of the ball's centre
	RevRate float64 // rad/s; 0 is a ball that does not turn

	AxisRotation float64 // rad
	AxisTilt     float64 // rad, between −π/2 and π/2, both excluded

	// Phase is the angle in rad by which the ball is turned, about the axis
	// toward the PAP, from where the fingers point as far down as they can.
	Phase float64

	// Laydown is the board, counted from the bowler's side, over which the
	// ball's centre is at first; LaydownDistance is how far past the foul
	// line that happens, in m.
	Laydown         float64
	LaydownDistance float64

	// Angle is the launch angle in rad from straight down-lane, positive
	// toward the bowler's ball-side gutter.
	Angle float64
}
