package physics

import (
	"math"

	"lanesim/physics/ode"
)

// eventKind is what may end a smooth stretch of the motion.
type eventKind uint8

const (
	slipEnds    eventKind = iota // the slip falls below its floor
	gripEnds                     // rolling needs more force than friction can give
	edgeAhead                    // the ball reaches the next distance at which the rates jump
	edgeBehind                   // it comes back to the last such distance
	foulLine                     // it comes back to the foul line
	laneEdge                     // it reaches a gutter
	liftsOff                     // the normal force vanishes
	pivotTurns                   // the spin about the vertical changes sign
	pivotSlips                   // pivot friction no longer prevents that spin
	standsStill                  // it comes to rest
	eventCount

	timeIsUp // the shot exceeds its time limit
	nothing  // the stretch goes on
)

// defineEvents sets the events as functions of the state. Each function falls through zero where its event
// happens.
func (t *Thrower) defineEvents() {
	m := &t.m
	// Contact forces are those of the last evaluation of the rates, usually at the end of a step.
	evaluate := func(at float64, y []float64) {
		if m.contact.time != at {
			m.rate(at, y, t.rates[:])
		}
	}
	t.events = [eventCount]ode.Event{
		slipEnds: {Value: func(at float64, y []float64) float64 {
			if m.offCentre {
				evaluate(at, y)
				return m.contact.slip - t.slipFloor
			}
			ux, uy := m.slip(y[ivx], y[ivy], y[iwx], y[iwy])
			return math.Sqrt(ux*ux+uy*uy) - t.slipFloor
		}},
		gripEnds: {Spare: t.gripIsSure, Value: func(at float64, y []float64) float64 {
			evaluate(at, y)
			return m.contact.margin / (m.mass * m.g)
		}},
		edgeAhead: {Value: func(_ float64, y []float64) float64 { return t.edgeAhead - y[ix] }},
		// An event must not be zero at the start, and the ball may come back within the step in which it
		// leaves an edge.
		edgeBehind: {Value: func(_ float64, y []float64) float64 { return y[ix] - t.edgeBehind + edgeClearance }},
		foulLine:   {Value: func(_ float64, y []float64) float64 { return y[ix] + edgeClearance }},
		laneEdge: {Samples: 1, Spare: t.farFromEdges, Value: func(_ float64, y []float64) float64 {
			return t.sideline - math.Abs(y[iy])
		}},
		liftsOff: {Samples: 2, Value: func(at float64, y []float64) float64 {
			evaluate(at, y)
			return m.liftMargin()
		}},
		pivotTurns: {Samples: 2, Spare: turnsFast, Value: func(_ float64, y []float64) float64 {
			return y[iwz] * m.pivotSide
		}},
		pivotSlips: {Value: func(at float64, y []float64) float64 {
			evaluate(at, y)
			return m.contact.pivot
		}},
		standsStill: {Value: func(_ float64, y []float64) float64 {
			return m.radius*math.Sqrt(y[iwx]*y[iwx]+y[iwy]*y[iwy]) - restSpeed
		}},
	}
	for i := range t.events {
		t.events[i].Direction = ode.Falling
	}
}

// turnsFast reports whether a ball turns about the vertical too fast for the spin to reach zero and return
// within a step.
func turnsFast(y []float64) bool { return math.Abs(y[iwz]) > fastTurning }

// fastTurning is such a spin in rad/s.
const fastTurning = 2

// watchedEvents lists the events that can happen in the present mode.
func (t *Thrower) watchedEvents() []ode.Event {
	m := &t.m
	list := t.list[:0]
	add := func(kind eventKind) {
		t.watching[len(list)] = kind
		list = append(list, t.events[kind])
	}
	if m.mode == sliding {
		add(slipEnds)
	} else {
		add(gripEnds)
		add(standsStill)
	}
	add(edgeAhead)
	if t.edgeBehind > 2*edgeClearance {
		add(edgeBehind)
	} else {
		add(foulLine)
	}
	if !t.lane.Edgeless {
		add(laneEdge)
	}
	if m.offCentre {
		add(liftsOff)
	}
	if m.mode == rolling && m.contactRadius > 0 {
		add(pivotTurns)
	}
	if m.mode == pinned {
		add(pivotSlips)
	}
	t.list = list
	return list
}
