package studies

import (
	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// Setup is a bowler who is about to throw a drilled ball on a lane.
type Setup struct {
	Lane          lane.Lane
	Ball          ball.Ball
	Release       physics.Release
	Repeatability Repeatability
}

// Studies of many shots run at tolerances that are good for a hundredth of a
// board at the pins, where one shot asks for more: what a bowler repeats is
// coarser by far. With film on the track the error per step adds up over more
// steps, where film comes and goes.
const (
	manyShotsTolerance     = 1e-3
	manyShotsFilmTolerance = 1.5e-5
)

// ForManyShots returns the settings for studies of many shots with a ball, that
// keep no path: unless they ask for a tolerance, with one that is good for a
// hundredth of a board.
func ForManyShots(s physics.Settings, b ball.Ball) physics.Settings {
	if s.Tolerance == 0 {
		s.Tolerance = manyShotsFilmTolerance
		if b.Memory.Off {
			s.Tolerance = manyShotsTolerance
		}
	}
	s.PathSpacing, s.ExchangeSpacing, s.TrackSpacing = -1, -1, 0
	return s
}
