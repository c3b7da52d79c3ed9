package aim

import (
	"errors"
	"slices"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/studies"
)

// LinesFollowed counts the setups whose line ended while values changed: Changed if another line replaced it,
// Lost if none did.
type LinesFollowed struct{ Changed, Lost int }

// AssumedSetups returns setups with a set's values. The line of a setup that aims at the pocket is followed
// by [Branch.Follow]; a lost line keeps its angle, as a given line does. The error is that of
// [physics.Throw].
func AssumedSetups(set studies.AssumedSet, list []studies.Setup, aims []bool, s physics.Settings) ([]studies.Setup, LinesFollowed, error) {
	var lines LinesFollowed
	made := slices.Clone(list)
	set.Lanes(studies.Pointers(made, func(s *studies.Setup) *lane.Lane { return &s.Lane })...)
	set.Balls(studies.Pointers(made, func(s *studies.Setup) *ball.Ball { return &s.Ball })...)
	thrower := physics.NewThrower()
	for i := range made {
		if !aims[i] {
			continue
		}
		aim := Pocket{Setup: list[i], Settings: studies.ForManyShots(s)}
		branch, err := aim.Branch(thrower, list[i].Release.Angle)
		if err != nil {
			return nil, lines, err
		}
		followed, err := branch.Follow(thrower, func(share float64) (Pocket, error) {
			return Pocket{Setup: made[i].Between(list[i], share), Settings: aim.Settings}, nil
		})
		if lost := (*LostLineError)(nil); errors.As(err, &lost) {
			lines.Lost++
			continue
		}
		if err != nil {
			return nil, lines, err
		}
		if followed.Changed {
			lines.Changed++
		}
		made[i].Release.Angle = followed.Angle
	}
	return made, lines, nil
}
