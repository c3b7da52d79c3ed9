package physics

import (
	"lanesim/ball"
	"lanesim/units"
)

// Limits of a release in scenarios, far beyond what people throw. A ball slower than LeastSpeed would need
// more than the default time limit to reach the pins.
const (
	LeastSpeed      = 0.5 * units.MPH
	MostSpeed       = 100 * units.MPH
	MostRevRate     = 2000 * units.RPM
	MostAxisTilt    = 89 * units.Degree
	MostLaunchAngle = 45 * units.Degree
)

// Release is the motion of the ball at the instant at which it first touches the lane.
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
	RevRate float64 // rad/s; 0 for a ball that does not turn

	AxisRotation float64 // rad
	AxisTilt     float64 // rad, between −π/2 and π/2, both excluded

	// Phase is the angle in rad by which the ball is turned about the axis toward the PAP. At 0 the fingers
	// point as far down as possible.
	Phase float64

	// Laydown is the board under the ball's centre at release, counted from the bowler's side;
	// LaydownDistance is its distance past the foul line in m.
	Laydown         float64
	LaydownDistance float64

	// Angle is the launch angle in rad from straight down-lane, positive
	// toward the bowler's ball-side gutter.
	Angle float64
}
