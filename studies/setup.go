package studies

import (
	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
)

// Setup is a bowler's release and repeatability with a drilled ball on a lane.
type Setup struct {
	Lane          lane.Lane
	Ball          ball.Ball
	Release       physics.Release
	Repeatability Repeatability
}

// Pocketed throws n deliveries, numbered from from on, and returns which end in the pocket.
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

// Undrilled is a setup with the undrilled ball's specification, grip and PAP, for studies that drill it in
// several ways. The study replaces the setup's ball.
type Undrilled struct {
	Setup
	Specification ball.Specification
	Grip          ball.Grip
	PAP           ball.PAP
}

// Drill returns the drilled ball.
func (u Undrilled) Drill() (ball.Ball, error) {
	b, _, err := u.Specification.Drill(u.PAP, u.Release.Hand, u.Grip)
	return b, err
}

// ManyShotsTolerance is the tolerance of studies of many shots. Half of random shots are then right within
// 0.01 board at the pins, half of those that hook on their own film within 0.02; a bowler's scatter is far
// larger. The tests of package physics check this.
const ManyShotsTolerance = 1e-4

// ForManyShots returns the settings for studies of many shots: without paths, with [ManyShotsTolerance]
// unless s has a tolerance, and with even nodes, so that the mean of many shots is right within 0.01 board.
func ForManyShots(s physics.Settings) physics.Settings {
	if s.Tolerance == 0 {
		s.Tolerance = ManyShotsTolerance
	}
	s.EvenNodes = true
	s.PathSpacing, s.ExchangeSpacing, s.TrackSpacing = -1, -1, 0
	return s
}
