package physics

import (
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
)

// lawRolling are the conserved quantities of a ball that rolls on a level lane
// without pivot friction, the momentum with the mass centre in the middle.
type lawRolling struct {
	energy   float64 // J, kinetic and that of height
	momentum vector  // kg m²/s, angular, about the contact
}

// lawMeasureRolling computes them independently.
func lawMeasureRolling(m *machine, y []float64) lawRolling {
	q := rotated(vector{y[itx], y[ity], y[itz]}, &m.start)
	mechanics := lawMeasure(m, y, &q)
	arm := vector{0, 0, m.radius}
	return lawRolling{mechanics.energy, add(mechanics.spin, cross(arm, mechanics.momentum))}
}

// A ball that rolls on a level lane conserves its energy, as the contact's force does no work, and with the
// mass centre in the middle its angular momentum about the contact, where that force has no lever. At the
// tolerances of studies collocation uses the momentum, and the energy shows its accuracy.
func TestLawRollingKeepsEnergyAndMomentum(t *testing.T) {
	for _, c := range []struct{ tolerance, bound float64 }{
		{1e-3, 2e-3},
		{1e-4, 3e-4},
		{1e-5, 1e-4},
		{DefaultTolerance, 1e-5},
	} {
		energy := lawBound{what: "change of the energy in a step, relative", bound: c.bound}
		momentum := lawBound{what: "change of the angular momentum in a step, relative", bound: c.bound}
		thrower := NewThrower()
		rapid.Check(t, func(t *rapid.T) {
			l := lane.Default()
			l.Edgeless = true
			l.Friction = lane.Friction{Law: lane.Constant, Mu: lawDraw(t, "mu", 0.15, 0.3)}
			s, r := lawSpecification(t), lawRelease(t)
			s.ContactRadius = 0
			b := lawPrepare(t, s, ball.Right)
			lawThrow(t, thrower, l, b, r, Settings{Tolerance: c.tolerance, MaxTime: 5, PathSpacing: -1, ExchangeSpacing: -1})
			var before lawRolling
			lawScan(thrower, 1, func(_ int, p *piece, time float64, y, _ []float64) {
				if p.mode != rolling {
					return
				}
				now := lawMeasureRolling(&thrower.m, y)
				if time == p.Start {
					before = now
					return
				}
				energy.hold(t, (now.energy-before.energy)/before.energy)
				energy.hold(t, (before.energy-now.energy)/before.energy)
				if b.Offset != [3]float64{} {
					return
				}
				momentum.hold(t, norm(add(now.momentum, scale(-1, before.momentum)))/norm(before.momentum))
			})
		})
		energy.report(t)
		momentum.report(t)
	}
}
