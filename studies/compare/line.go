package compare

import (
	"context"
	"errors"
	"fmt"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/studies/aim"
)

// How near, in boards, the mean entry board comes to the middle of the pocket:
// where numbers are printed, and with other assumed values, where the signs of
// differences count.
const (
	nominalLine = 0.002
	trialLine   = 0.05
)

// trialPhases is the number of phases over which a line is followed. The mean of
// three even ones is free of what goes once and twice round with the phase, which
// is nearly all.
const trialPhases = 3

// finders lists the deliveries for which an angle is found.
func (c Study) finders() []int {
	var list []int
	for i, finder := range c.Lines {
		if finder == i {
			list = append(list, i)
		}
	}
	return list
}

// aim asks for the line of a ball, as the mean over up to so many phases.
func (c Study) aim(s studies.Setup, phases int, within float64) aim.Pocket {
	s.Release.Phase = 0
	return aim.Pocket{Setup: s, Settings: studies.ForManyShots(c.Settings), Phases: min(phases, phasesOf(s.Ball)), Within: within, Work: studies.Work{Workers: c.Workers}}
}

// LineOf asks for the line of a ball as comparisons find it: by the mean entry over the
// phases of the release.
func (c Study) LineOf(s studies.Setup) aim.Pocket { return c.aim(s, Phases, nominalLine) }

// lines are those that were found, by the delivery for which they were.
type lines map[int]struct {
	aim.PocketResult
	aim.Branch
}

// aimed gives the deliveries the launch angles that they take, and returns the lines
// that were found.
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

// share gives deliveries the launch angles that were found for others.
func (c Study) share(list []studies.Undrilled) {
	for i, finder := range c.Lines {
		if finder >= 0 {
			list[i].Release.Angle = list[finder].Release.Angle
		}
	}
}

// lineOutcome says what became of a line with other assumed values.
type lineOutcome int

const (
	lineFollowed lineOutcome = iota
	lineChanged              // it ended on the way, and another took its place
	lineLost                 // it ended on the way, and none did
)

// follow returns the launch angle to which a delivery's branch leads as its values
// change to those of a set.
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
