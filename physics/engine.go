package physics

import (
	"fmt"
	"math"

	"lanesim/physics/film"
	"lanesim/physics/ode"
	"lanesim/units"
)

// advance moves the ball within a smooth stretch from time now to the next event, and returns the time and
// the event. The table gives the stepper:
//
//	the ball  | tolerance | and                                         | stepper
//	slides    | ≥ 1e-5    | no rolling resistance, slip left to spare   | splitting
//	rolls     | ≥ 1e-5    | no rolling resistance, no oil               | collocation
//	is pinned | any       |                                             | embedded pair of order 5(4)
//	otherwise |           |                                             | embedded pair of order 5(4)
//
// Splitting and collocation stop where their conditions end, near the gutters, at low speed and where the
// normal force is small; the pair continues from there. Collocation itself ends the stretch where the ball
// breaks away. A step that ends outside the stretch is an error.
func (t *Thrower) advance(now float64, y []float64) (float64, eventKind, error) {
	known, event := len(t.pieces), nothing
	switch t.chooseStepper() {
	case splitting:
		now, event = t.split(now, y)
	case collocating:
		now, event = t.collocate(now, y)
	}
	if err := t.check(known, now, y); err != nil {
		return now, nothing, err
	}
	if event != nothing {
		return now, event, nil
	}
	known = len(t.pieces)
	t.problem.Events = t.watchedEvents()
	result, err := t.solver.Run(&t.problem, t.control, now, y, t.pairEnd(now))
	t.stats.Steps += result.Stats.Steps
	t.stats.Rejected += result.Stats.Rejected
	now, t.control.InitialStep = result.Time, result.Step
	if err != nil {
		return now, nothing, fmt.Errorf("physics: at %.4g ft, after %.4g s: %w", y[ix]/units.Foot, now, err)
	}
	t.finalTime = now
	if err := t.check(known, now, y); err != nil {
		return now, nothing, err
	}
	switch {
	case result.Status != ode.ReachedEnd:
		return now, t.watching[result.Event], nil
	case now < t.maxTime:
		return now, nothing, nil
	}
	return now, timeIsUp, nil
}

// stepper is the method that takes the steps of a stretch.
type stepper uint8

const (
	embeddedPair stepper = iota
	splitting
	collocating
)

// chooseStepper chooses the stepper by the table of [Thrower.advance].
func (t *Thrower) chooseStepper() stepper {
	m := &t.m
	switch {
	case !t.coarse || m.resistance != 0:
	case m.mode == sliding:
		return splitting
	case m.mode == rolling && !m.oiled:
		return collocating
	}
	return embeddedPair
}

// pairEnd returns the time at which a run of the pair ends: after about half a turn if collocation may then
// take over again, else the time limit.
func (t *Thrower) pairEnd(now float64) float64 {
	if spin := t.rates[iTurned]; t.chooseStepper() == collocating && spin > 0 {
		return min(t.maxTime, now+collocationTurn/spin)
	}
	return t.maxTime
}

// setTolerance sets everything that depends on the tolerance.
func (t *Thrower) setTolerance(tolerance float64) {
	m := &t.m
	t.control = ode.Settings{Absolute: tolerance, Scale: scales[:]}
	t.tolerance, t.coarse = tolerance, tolerance >= coarseTolerance
	switch {
	case t.coarse && m.offCentre:
		t.control.Absolute *= offsetToleranceCoarse
	case t.coarse:
	case m.offCentre:
		t.control.Absolute *= offsetTolerance
	case m.remembers():
		t.control.Absolute *= filmTolerance
	}
	t.events[gripEnds].Samples, t.events[gripEnds].Within = 2, 0
	if t.coarse {
		t.events[gripEnds].Within = gripPrecision
	}
	if t.slipFloor = max(slipFloorPerTolerance*tolerance, leastSlipFloor); t.coarse {
		t.slipFloor = min(coarseSlipFloor*tolerance, mostSlipFloor)
	}
	refined := math.Sqrt(math.Sqrt(max(tolerance, finestFilm) / DefaultTolerance))
	t.widestSpacing = coarsestTouches * min(refined, 1)
	angle := touchAngle * refined
	if t.evenNodes {
		angle *= evenTouches
	}
	t.touchSpacing = min(angle, t.widestSpacing)
	if m.remembers() {
		t.touchSpacing = min(t.touchSpacing, narrowTouches*refined*refined*m.memory.ContactWidth/m.radius)
	}
	strips := film.MostStrips
	t.lastStride = 1
	if t.coarse {
		strips, t.lastStride = coarseStrips, longestLast
	}
	t.touchDistance = max(touchDistance*min(max(refined, 1), farthestTouches), leastTouchDistance*refined*refined/t.touchSpacing)
	m.filmless = math.Inf(1)
	if full, dry, onFilm := m.law.limits(); onFilm && dry >= full {
		m.filmless = full + filmNotice*tolerance
	} else if onFilm {
		m.filmless = math.Inf(-1) // a film with more friction than dry boards always matters
	}
	t.frictionStep = frictionStep * refined * refined * refined
	t.stride = t.touchSpacing
	m.film.Reset(m.memory, m.radius, t.touchSpacing, strips)
}
