package aim

import (
	"cmp"
	"fmt"
	"math"

	"lanesim/physics"
	"lanesim/studies"
	"lanesim/units"
)

const (
	// looseTolerance is the tolerance of the first throw at an angle, right within a few hundredths of a
	// board. If it comes within looseMargin boards of the pocket, it is thrown again with the tolerance of
	// the settings.
	looseTolerance = studies.ManyShotsTolerance
	looseMargin    = 0.1

	// loosePhases is the number of phases of the first throws for a mean over more phases, and
	// loosePhaseMargin the margin for it: the mean of few phases differs more from that of all.
	loosePhases      = 3
	loosePhaseMargin = 0.5
)

// curve is the entry board as a function of the launch angle in degrees.
type curve struct {
	Pocket
	target float64 // board
	margin float64 // boards
}

func (a Pocket) curve() *curve {
	pocket, _ := a.Settings.PocketOf(a.Setup.Release)
	a.Within = cmp.Or(a.Within, 1e-4)
	a.Phases = max(a.Phases, 1)
	s := &a.Settings
	s.PathSpacing, s.ExchangeSpacing, s.TrackSpacing, s.EndOnly = -1, -1, 0, true
	c := &curve{Pocket: a, target: (pocket.Min + pocket.Max) / 2, margin: looseMargin}
	if a.Phases > loosePhases {
		c.margin = loosePhaseMargin
	}
	return c
}

// trial is the result of one launch angle.
type trial struct {
	angle   float64 // degrees
	pins    bool    // the ball reached them, in every phase
	off     float64 // boards from the middle of the pocket, at the pins or where it left the lane
	reached float64 // m down-lane
}

// side returns the side of the pocket on which the ball arrived or left the lane; 0 if it did neither.
func (t trial) side() int { return cmp.Compare(t.off, 0) }

// alike reports whether two trials ended in the same way: at the pins on the
// same side of the pocket or in the same gutter.
func (t trial) alike(u trial) bool { return t.pins == u.pins && t.side() == u.side() }

// better reports whether t came nearer to the pocket than u or, if both left the lane, went farther.
func (t trial) better(u trial) bool {
	if t.pins != u.pins {
		return t.pins
	}
	if !t.pins {
		return t.reached > u.reached
	}
	return math.Abs(t.off) < math.Abs(u.off)
}

// try throws at an angle, and again with full accuracy if the ball comes near the pocket.
func (c *curve) try(thrower *physics.Thrower, degrees float64) (trial, error) {
	t, err := c.throw(thrower, degrees, false)
	if err == nil && t.pins && math.Abs(t.off) < c.margin {
		t, err = c.throw(thrower, degrees, true)
	}
	return t, err
}

// throw throws at an angle; firm means with the tolerance of the settings and in all phases.
func (c *curve) throw(thrower *physics.Thrower, degrees float64, firm bool) (trial, error) {
	r, s, phases := c.Setup.Release, c.Settings, c.Phases
	if !firm {
		s.Tolerance = max(s.Tolerance, looseTolerance)
		phases = min(phases, loosePhases)
	}
	r.Angle = degrees * units.Degree
	t := trial{angle: degrees, pins: true}
	for k := range phases {
		r.Phase = c.Setup.Release.Phase + 2*math.Pi*float64(k)/float64(phases)
		shot, err := thrower.Throw(c.Setup.Lane, c.Setup.Ball, r, s)
		if err != nil {
			return t, fmt.Errorf("at a launch angle of %.6g°: %w", degrees, err)
		}
		e := shot.Events
		if e.Pins == nil {
			t.pins, t.off = false, 0
			if e.Gutter != nil {
				t.off, t.reached = e.Gutter.Board-c.target, e.Gutter.Distance
			}
			return t, nil
		}
		t.off += (e.Pins.Board - c.target) / float64(phases)
		t.reached = e.Pins.Distance
	}
	return t, nil
}
