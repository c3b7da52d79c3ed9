package compare

import (
	"context"
	"errors"
	"fmt"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// Allowed distances in boards of the mean entry board from the middle of the pocket: for numbers that are
// printed, and for other assumed values, of which only the signs of differences are used.
const (
	nominalLine = 0.002
	trialLine   = 0.05
)

// trialPhases is the number of phases over which a line is followed. The mean of three even phases is free of
// the first and second harmonic in the phase, which are nearly all of its effect.
const trialPhases = 3

// finders lists the deliveries for which an angle must be found.
func (c Study) finders() []int {
	var list []int
	for i, finder := range c.Lines {
		if finder == i {
			list = append(list, i)
		}
	}
	return list
}

// aim returns the search for the line of a ball, by the mean entry over up to the given number of phases.
func (c Study) aim(s studies.Setup, phases int, within float64) aim.Pocket {
	s.Release.Phase = 0
	return aim.Pocket{Setup: s, Settings: studies.ForManyShots(c.Settings), Phases: min(phases, phasesOf(s.Ball)), Within: within, Work: studies.Work{Workers: c.Workers}}
}

// LineOf returns the search for the line of a ball that comparisons use: by the mean entry over the phases of
// the release.
func (c Study) LineOf(s studies.Setup) aim.Pocket { return c.aim(s, Phases, nominalLine) }

// lines are the lines found, by the index of their delivery.
type lines map[int]struct {
	aim.PocketResult
	aim.Branch
}

// aimed finds the lines and sets the launch angles of the deliveries.
func (c Study) aimed(ctx context.Context) (lines, error) {
	all := lines{}
	finders := c.finders()
	thrower := physics.NewThrower()
	for k, i := range finders {
		d := &c.Deliveries[i]
		aim := c.LineOf(d.Setup)
		line, err := all[i], error(nil)
		if line.PocketResult, err = aim.Run(ctx); err == nil {
			d.Release.Angle = line.PocketResult.Angle()
			aim.Phases = min(trialPhases, aim.Phases)
			line.Branch, err = aim.Branch(thrower, d.Release.Angle)
			all[i] = line
		}
		if err != nil {
			return nil, fmt.Errorf("%s on %s: %w", d.Specification.Name, d.Lane.Name, err)
		}
		c.Report(k+1, len(finders))
	}
	c.share(c.Deliveries)
	return all, nil
}

// share copies launch angles to the deliveries that use those of others.
func (c Study) share(list []studies.Undrilled) {
	for i, finder := range c.Lines {
		if finder >= 0 {
			list[i].Release.Angle = list[finder].Release.Angle
		}
	}
}

// lineOutcome is the result of following a line to other assumed values.
type lineOutcome int

const (
	lineFollowed lineOutcome = iota
	lineChanged              // it ended on the way, and another replaced it
	lineLost                 // it ended on the way, and no other replaced it
)

// follow returns the launch angle of a delivery's branch after its values have changed from old to d.
func (c Study) follow(thrower *physics.Thrower, branch aim.Branch, old, d studies.Undrilled) (float64, lineOutcome, error) {
	followed, err := branch.Follow(thrower, func(share float64) (aim.Pocket, error) {
		return c.aim(d.Between(old.Setup, share), trialPhases, trialLine), nil
	})
	lost := (*aim.LostLineError)(nil)
	switch {
	case errors.As(err, &lost):
		return branch.Angle, lineLost, nil
	case err != nil:
		return 0, lineLost, fmt.Errorf("%s on %s: %w", d.Specification.Name, d.Lane.Name, err)
	case followed.Changed:
		return followed.Angle, lineChanged, nil
	}
	return followed.Angle, lineFollowed, nil
}
