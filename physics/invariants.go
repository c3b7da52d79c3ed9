package physics

import (
	"fmt"
	"math"

	"lanesim/units"
)

// What must hold of every step, whatever the method that took it. A step for which it does
// not hold makes the shot an error, never a result.

const (
	// stretchTolerance is by how much, in m, a step may end beyond the stretch in which the rates are
	// smooth, or begin elsewhere than the last one ended: some of what it may be off where it
	// ends at an edge.
	stretchTolerance = 10 * edgePrecision

	// weightless is the share of the ball's weight by which rounding may leave the
	// normal force below nothing where the ball lifts off.
	weightless = 1e-6

	// pivotTolerance is the turning about the vertical, in rad/s, in the direction of pivot friction that the
	// place where the turning ends may be off by.
	pivotTolerance = 1e-3
)

// check returns what is wrong with the steps from a given one on, which belong to
// the present stretch and led to a state.
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
	if m.now.time != now {
		m.rate(now, y, t.rates[:])
	}
	if !(m.now.normal >= -weightless*m.mass*m.g) {
		return fmt.Errorf("physics: after %.4g s: the lane pulls with %.3g N to hold the ball down", now, -m.now.normal)
	}
	return nil
}

// follows reports that a step begins when and where the one before ended.
func (t *Thrower) follows(i int) bool {
	before, p := &t.pieces[i-1], &t.pieces[i]
	return p.Start == before.End &&
		math.Abs(p.Component(ix, p.Start)-before.Component(ix, p.Start)) <= stretchTolerance &&
		math.Abs(p.Component(iy, p.Start)-before.Component(iy, p.Start)) <= stretchTolerance
}

// jammed is the yield at which the shot ends: the normal force is some
// hundred times the weight there.
const jammed = 0.02

// pressed falls through nothing where nothing presses an off-centre ball down, or where
// friction jams it and throws it up.
func (m *machine) pressed() float64 {
	return min(m.now.normal/(m.mass*m.g), m.now.yield-jammed)
}

// endsAtOnce is how the shot ends where the ball goes on in another mode or stretch with nothing to press it
// down, or at rest, which no event would notice; empty where it goes on.
func (t *Thrower) endsAtOnce(now float64, y []float64) Status {
	if m := &t.m; m.offCentre {
		if m.rate(now, y, t.rates[:]); !(m.pressed() > 0) {
			return Lifted
		}
	}
	if t.stands(y) {
		return Stopped
	}
	return ""
}

// stands reports that a ball that goes on rolling does so too slowly for an event to notice.
func (t *Thrower) stands(y []float64) bool {
	m := &t.m
	return m.mode != sliding && m.radius*math.Sqrt(y[iwx]*y[iwx]+y[iwy]*y[iwy]) <= restSpeed
}

// rest makes the state at release, of a shot that ends there, a piece of the dense
// solution.
func (t *Thrower) rest(now float64, y []float64) {
	if len(t.pieces) > 0 {
		return
	}
	p := t.m.conditions()
	p.Start, p.Step, p.End = now, 1, now
	p.Coefficients = make([]float64, 5*dimension)
	copy(p.Coefficients, y)
	t.pieces, t.finalTime = append(t.pieces, p), now
}
