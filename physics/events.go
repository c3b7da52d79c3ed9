package physics

import (
	"math"

	"lanesim/physics/ode"
)

// eventKind is what may end a smooth stretch of the motion.
type eventKind uint8

const (
	slipEnds   eventKind = iota // the slip falls below its floor
	gripEnds                    // a rolling ball needs more force than friction has
	edgeAhead                   // the ball reaches the next distance at which the rates jump
	edgeBehind                  // it comes back to the last one
	foulLine                    // it comes back to the foul line
	laneEdge                    // it reaches a gutter
	liftsOff                    // nothing presses it down any more
	pivotTurns                  // its turning about the vertical changes sign
	pivotSlips                  // it is held against that turning no longer
	standsStill
	eventCount

	timeIsUp // the shot takes too long
	nothing  // the stretch goes on
)

// define writes down the events as functions of the state. Each falls through
// zero where it happens.
func (t *Thrower) define() {
	m := &t.m
	// Contact forces belong to the last evaluation of the rates, which is that
	// at a step's end.
	fresh := func(at float64, y []float64) {
		if m.now.time != at {
			m.rate(at, y, t.rates[:])
		}
	}
	t.events = [eventCount]ode.Event{
		slipEnds: {Value: func(at float64, y []float64) float64 {
			if m.offCentre {
				fresh(at, y)
				return m.now.slip - t.slipFloor
			}
			ux, uy := m.slip(y[ivx], y[ivy], y[iwx], y[iwy])
			return math.Sqrt(ux*ux+uy*uy) - t.slipFloor
		}},
		gripEnds: {Spare: t.gripIsSure, Value: func(at float64, y []float64) float64 {
			fresh(at, y)
			return m.now.margin / (m.mass * m.g)
		}},
		edgeAhead: {Value: func(_ float64, y []float64) float64 { return t.edgeAhead - y[ix] }},
		// The ball may come back within the step in which it leaves an edge: an event must not
		// be zero at the start.
		edgeBehind: {Value: func(_ float64, y []float64) float64 { return y[ix] - t.edgeBehind + edgeClearance }},
		foulLine:   {Value: func(_ float64, y []float64) float64 { return y[ix] + edgeClearance }},
		laneEdge: {Samples: 1, Spare: t.farFromEdges, Value: func(_ float64, y []float64) float64 {
			return t.sideline - math.Abs(y[iy])
		}},
		liftsOff: {Samples: 2, Value: func(at float64, y []float64) float64 {
			fresh(at, y)
			return m.pressed()
		}},
		pivotTurns: {Samples: 2, Spare: turnsFast, Value: func(_ float64, y []float64) float64 {
			return y[iwz] * m.pivotSide
		}},
		pivotSlips: {Value: func(at float64, y []float64) float64 {
			fresh(at, y)
			return m.now.pivot
		}},
		standsStill: {Value: func(_ float64, y []float64) float64 {
			return m.radius*math.Sqrt(y[iwx]*y[iwx]+y[iwy]*y[iwy]) - restSpeed
		}},
	}
	for i := range t.events {
		t.events[i].Direction = ode.Falling
	}
}

// turnsFast reports that a ball turns about the vertical too fast for that to end and begin again
// within a step.
func turnsFast(y []float64) bool { return math.Abs(y[iwz]) > fastTurning }

// fastTurning is such a turning in rad/s.
const fastTurning = 2

// watch lists the events that can happen in the present mode.
func (t *Thrower) watch() []ode.Event {
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
