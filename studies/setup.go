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

// Pocketed says which of n deliveries, from a number on, end in the pocket.
func (s Setup) Pocketed(thrower *physics.Thrower, settings physics.Settings, seed, from uint64, n int) ([]bool, error) {
	deliverer, err := s.Repeatability.Deliverer(s.Release)
	if err != nil {
		return nil, err
	}
	list := make([]bool, n)
	for k := range list {
		shot, err := thrower.Throw(s.Lane, s.Ball, deliverer.Delivery(DrawDeviates(seed, from+uint64(k))), settings)
		if err != nil {
			return nil, err
		}
		list[k] = shot.Summary.Pocket
	}
	return list, nil
}

// Undrilled is a setup with what its ball is drilled from, for studies that try other
// ways to drill it. The ball of the setup does not matter: the study makes it.
type Undrilled struct {
	Setup
	Specification ball.Specification
	Grip          ball.Grip
	PAP           ball.PAP
}

// Drill makes the ball.
func (u Undrilled) Drill() (ball.Ball, error) {
	b, _, err := u.Specification.Drill(u.PAP, u.Release.Hand, u.Grip)
	return b, err
}

// ManyShotsTolerance is that of studies of many shots: half of random ones are within a
// hundredth of a board at the pins, half of those that hook on their own film within two. What a bowler
// repeats is coarser by far. The tests of package physics hold how good it is.
const ManyShotsTolerance = 1e-4

// ForManyShots returns the settings for studies of many shots, that keep no
// path: unless they ask for a tolerance, with [ManyShotsTolerance], and with even nodes, so that the mean of
// many is within a hundredth of a board.
func ForManyShots(s physics.Settings) physics.Settings {
	if s.Tolerance == 0 {
		s.Tolerance = ManyShotsTolerance
	}
	s.EvenNodes = true
	s.PathSpacing, s.ExchangeSpacing, s.TrackSpacing = -1, -1, 0
	return s
}
