package physics

import (
	"fmt"
	"math"

	"lanesim/units"
)

// This file has the checks that every step must pass, whichever stepper took it. A step that fails makes the
// shot an error, never a result.

const (
	// stretchTolerance is the distance in m by which a step may end outside its smooth stretch, or begin away
	// from the end of the previous step: a few times the precision with which steps end at edges.
	stretchTolerance = 10 * edgePrecision

	// weightless is the share of the ball's weight by which the normal force may be negative by rounding
	// where the ball lifts off.
	weightless = 1e-6

	// pivotTolerance is the spin about the vertical in rad/s that may remain, with the wrong sign, where
	// pivot friction brings it to zero.
	pivotTolerance = 1e-3
)

// check checks the steps of the present stretch from index from on, which led to the state y at time now.
func (t *Thrower) check(from int, now float64, y []float64) error {
	m := &t.m
	for i := from; i < len(t.pieces); i++ {
		p := &t.pieces[i]
		x, y := p.Component(ix, p.End), p.Component(iy, p.End)
		wrong := ""
		switch {
		case !(p.Step > 0 && p.End >= p.Start):
			wrong = fmt.Sprintf("a step of %.3g s from %.9g s to %.9g s", p.Step, p.Start, p.End)
		case !(x >= t.edgeBehind-stretchTolerance && x <= t.edgeAhead+stretchTolerance):
			wrong = fmt.Sprintf("a step to %.9g m leaves the stretch from %.9g to %.9g m", x, t.edgeBehind, t.edgeAhead)
		case !(math.Abs(y) <= t.sideline+stretchTolerance):
			wrong = fmt.Sprintf("a step ends %.9g m from the lane's middle", math.Abs(y))
		case p.mode == rolling && m.contactRadius > 0 && p.Component(iwz, p.End)*p.pivotSide < -pivotTolerance:
			wrong = "pivot friction drives the ball round"
		case i > 0 && !t.follows(i):
			wrong = "a step begins elsewhere than the last one ended"
		}
		if wrong != "" {
			return fmt.Errorf("physics: at %.4g ft, after %.4g s: %s", x/units.Foot, p.End, wrong)
		}
	}
	if !m.offCentre || from == len(t.pieces) {
		return nil
	}
	if m.contact.time != now {
		m.rate(now, y, t.rates[:])
	}
	if !(m.contact.normal >= -weightless*m.mass*m.g) {
		return fmt.Errorf("physics: after %.4g s: the lane pulls with %.3g N to hold the ball down", now, -m.contact.normal)
	}
	return nil
}

// follows reports whether a step begins when and where the previous one ended.
func (t *Thrower) follows(i int) bool {
	before, p := &t.pieces[i-1], &t.pieces[i]
	return p.Start == before.End &&
		math.Abs(p.Component(ix, p.Start)-before.Component(ix, p.Start)) <= stretchTolerance &&
		math.Abs(p.Component(iy, p.Start)-before.Component(iy, p.Start)) <= stretchTolerance
}

// jammed is the yield at which the shot ends. The normal force is then about fifty times the weight.
const jammed = 0.02

// liftMargin falls through zero where the normal force on a ball with the mass centre aside vanishes, or
// where friction jams the ball and throws it up.
func (m *machine) liftMargin() float64 {
	return min(m.contact.normal/(m.mass*m.g), m.contact.yield-jammed)
}

// endsAtOnce returns the status of a shot that ends at the very start of a stretch, with the ball lifted or
// at rest, which no event would notice; empty if the shot continues.
func (t *Thrower) endsAtOnce(now float64, y []float64) Status {
	if m := &t.m; m.offCentre {
		if m.rate(now, y, t.rates[:]); !(m.liftMargin() > 0) {
			return Lifted
		}
	}
	if t.atRest(y) {
		return Stopped
	}
	return ""
}

// atRest reports whether a ball without slip is at or below the speed of rest.
func (t *Thrower) atRest(y []float64) bool {
	m := &t.m
	return m.mode != sliding && m.radius*math.Sqrt(y[iwx]*y[iwx]+y[iwy]*y[iwy]) <= restSpeed
}

// keepRelease makes the state at release a piece of the dense solution, for a shot that ends there.
func (t *Thrower) keepRelease(now float64, y []float64) {
	if len(t.pieces) > 0 {
		return
	}
	p := t.m.conditions()
	p.Start, p.Step, p.End = now, 1, now
	p.Coefficients = make([]float64, 5*dimension)
	copy(p.Coefficients, y)
	t.pieces, t.finalTime = append(t.pieces, p), now
}
