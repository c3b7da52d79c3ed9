package physics

import (
	"fmt"
	"math"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics/film"
	"lanesim/physics/ode"
)

// Throw computes one shot. To compute many, keep a [Thrower].
//
// How the shot ended is its Status. An error means that there is no answer: the input is impossible, with a
// [*units.FieldError] for each field, or the integration broke down, with its time.
func Throw(l lane.Lane, b ball.Ball, r Release, s Settings) (Shot, error) {
	return NewThrower().Throw(l, b, r, s)
}

// Thrower computes shots and reuses its memory from shot to shot. It is not safe for concurrent use: keep one
// for each goroutine.
type Thrower struct {
	m    machine
	lane lane.Lane

	solver  *ode.Solver
	problem ode.Problem
	control ode.Settings
	state   [dimension]float64
	rates   [dimension]float64
	scratch [dimension]float64

	precision
	bounds
	stretch
	watched
	history
	splittingStep
	rollingStep rollingStep
	frictions   frictions

	validOil *lane.OilMap // the last one that was validated
}

// precision holds what follows from the tolerance of a shot.
type precision struct {
	tolerance     float64
	coarse        bool    // tolerance of studies: at least coarseTolerance
	evenNodes     bool    // nodes along a step of a sliding ball are evenly spaced
	slipFloor     float64 // m/s
	touchSpacing  float64 // rad between touches of a ball that rolls forward
	widestSpacing float64 // rad between touches of any ball
	touchDistance float64 // m on the lane that get as many touches as a radian of turning
	frictionStep  float64
	lastStride    float64 // the most by which the last stride of a part of a step may be longer than the others, as a ratio
}

// bounds holds where a shot ends, and where its rates jump.
type bounds struct {
	maxTime  float64 // s
	sideline float64 // m, from the lane's middle to its edges
	edges    []edge
}

// stretch is the part of the lane between two edges on which the ball is now.
type stretch struct {
	edge                  int     // index of the next
	edgeBehind, edgeAhead float64 // m; between them the rates are smooth
}

// watched holds the events that may end a stretch.
type watched struct {
	events   [eventCount]ode.Event
	watching [eventCount]eventKind // kinds of the events in list, in the same order
	list     []ode.Event
}

// history is the shot so far.
type history struct {
	pieces    []piece   // the dense solution
	arena     []float64 // coefficients of the pieces
	entries   []entry
	slips     int
	stride    float64 // rad, the last one between nodes
	finalTime float64 // s
	stats     Stats
}

// entry is a moment at which the ball began to roll.
type entry struct {
	time, slipped float64
}

// piece is the dense solution over one step, with the conditions under which the step was taken.
type piece struct {
	ode.Segment
	start     matrix
	mode      mode
	oiled     bool
	patch     int
	stretch   int
	pivotSide float64
}

// NewThrower returns a Thrower ready for its first shot.
func NewThrower() *Thrower {
	t := &Thrower{solver: ode.NewSolver(dimension)}
	t.problem = ode.Problem{Rate: t.m.rate, Quadratures: quadratures, StepLimit: t.stepLimit}
	t.problem.Before, t.problem.Again, t.problem.Accepted = t.lookAhead, t.lookAgain, t.accepted
	t.defineEvents()
	return t
}

// Throw computes one shot, as the function [Throw] does. The shot keeps no
// reference to the Thrower.
func (t *Thrower) Throw(l lane.Lane, b ball.Ball, r Release, s Settings) (Shot, error) {
	status, err := t.run(l, b, r, s)
	t.stats.Evaluations = t.m.evaluations
	if err != nil {
		return Shot{}, err
	}
	return t.report(status, r, s), nil
}

// run integrates the shot to its end.
func (t *Thrower) run(l lane.Lane, b ball.Ball, r Release, s Settings) (Status, error) {
	if err := t.setUp(l, b, r, s); err != nil {
		return "", err
	}
	now, y := 0.0, t.state[:]
	t.begin(now, y)
	for changes := 0; ; changes++ {
		if changes > mostChanges {
			return "", fmt.Errorf("physics: %d events, such as changes between sliding and rolling, reached only %.4g s", changes, now)
		}
		if status := t.endsAtOnce(now, y); status != "" {
			t.keepRelease(now, y)
			return status, nil
		}
		t.findStretch()
		next, event, err := t.advance(now, y)
		if err != nil {
			return "", err
		}
		now, t.finalTime = next, next
		switch event {
		case slipEnds:
			t.beginRoll(now, y)
		case gripEnds:
			t.endRoll(now, y)
		case edgeAhead:
			y[ix] = max(y[ix], t.edges[t.edge].x)
			if t.passEdges(y[ix]) {
				return Pins, nil
			}
			t.begin(now, y)
		case edgeBehind:
			for x := min(y[ix], t.edges[t.edge-1].x); t.edge > 0 && t.edges[t.edge-1].x >= x; {
				t.pass(t.edges[t.edge-1].kind, -1)
			}
			t.begin(now, y)
		case foulLine:
			return FoulLine, nil
		case laneEdge:
			return Gutter, nil
		case liftsOff:
			return Lifted, nil
		case pivotTurns, pivotSlips:
			if event == pivotTurns {
				y[iwz] = 0
			}
			t.choosePinned(now, y)
			t.chooseMode(now, y)
		case standsStill:
			return Stopped, nil
		case timeIsUp:
			return TimeLimit, nil
		case nothing:
			changes--
		}
	}
}

// setUp prepares a shot: it validates the input, applies the tolerance, puts the ball at its release and
// lists the edges along the lane.
func (t *Thrower) setUp(l lane.Lane, b ball.Ball, r Release, s Settings) error {
	if err := t.validate(l, b, r, s); err != nil {
		return err
	}
	m := &t.m
	t.lane = l
	if err := m.prepare(&t.lane, b, r.Hand, s.Gravity); err != nil {
		return err
	}
	t.pieces, t.arena, t.entries = t.pieces[:0], t.arena[:0], t.entries[:0]
	t.slips, t.stats, m.evaluations = 0, Stats{}, 0
	m.ahead.known, m.ahead.nodes = false, m.ahead.nodes[:0]
	m.touch = film.Touch{}
	tolerance := s.Tolerance
	if tolerance == 0 {
		tolerance = DefaultTolerance
	}
	t.evenNodes = s.EvenNodes && tolerance >= coarseTolerance
	t.setTolerance(tolerance)
	t.maxTime = s.MaxTime
	if t.maxTime == 0 {
		t.maxTime = defaultMaxTime
	}
	m.mode = sliding
	t.release(b, r)
	t.layEdges()
	t.sideline = math.Inf(1)
	if !t.lane.Edgeless {
		t.sideline = max(lane.Width/2, math.Abs(t.state[iy])+edgeClearance)
	}
	return nil
}

// release puts the ball down: position, velocity, spin and orientation.
func (t *Thrower) release(b ball.Ball, r Release) {
	m := &t.m
	phase := r.Phase
	if r.Hand == ball.Left {
		b = b.Mirror()
		phase = -phase
	}
	sinA, cosA := math.Sincos(r.AxisRotation)
	sinB, cosB := math.Sincos(r.AxisTilt)
	sinL, cosL := math.Sincos(-r.Angle) // launch direction, positive to the left
	along := vector{cosL, sinL, 0}
	left := vector{-sinL, cosL, 0}
	axis := add(add(scale(-cosB*sinA, along), scale(cosB*cosA, left)), vector{0, 0, sinB})
	omega := scale(r.RevRate, axis)

	// At phase 0 the tangent at the PAP toward the fingers points as far down as possible; the phase turns it
	// about the axis.
	down := add(vector{0, 0, -1}, scale(axis.z, axis))
	down = scale(1/norm(down), down)
	sinP, cosP := math.Sincos(phase)
	fingers := add(scale(cosP, down), scale(sinP, cross(axis, down)))
	side := cross(axis, fingers)
	pap, tangent := vectorOf(b.PAP), vectorOf(b.Fingers)
	across := cross(pap, tangent)
	row := func(a, f, s float64) vector {
		return add(add(scale(a, pap), scale(f, tangent)), scale(s, across))
	}
	q := matrix{
		row(axis.x, fingers.x, side.x),
		row(axis.y, fingers.y, side.y),
		row(axis.z, fingers.z, side.z),
	}
	q.renew()
	m.start = q

	t.state = [dimension]float64{}
	y := &t.state
	y[ix], y[iy] = r.LaydownDistance, lane.Lateral(r.Laydown)
	turning := cross(omega, m.start.times(m.offset))
	y[ivx] = r.Speed*cosL + turning.x
	y[ivy] = r.Speed*sinL + turning.y
	y[iwx], y[iwy], y[iwz] = omega.x, omega.y, omega.z
}

// accepted keeps an accepted step of the pair and makes its end orientation the reference of the next step.
func (t *Thrower) accepted(s *ode.Segment, y, dydt []float64) {
	m := &t.m
	at := len(t.arena)
	t.arena = append(t.arena, s.Coefficients...)
	p := m.conditions()
	p.Segment = *s
	p.Coefficients = t.arena[at:len(t.arena):len(t.arena)]
	t.pieces = append(t.pieces, p)
	if m.remembers() {
		t.keepTouches(s.End, y)
		m.ahead.known = false
	}
	q := rotated(vector{y[itx], y[ity], y[itz]}, &m.start)
	t.restart(q, y, dydt)
	if m.mode != sliding {
		m.constrain(y)
	}
}

// restart makes q the reference orientation of the next step and sets the rotation vector to zero.
func (t *Thrower) restart(q matrix, y, dydt []float64) {
	if len(t.pieces)%renewal == 0 {
		q.renew()
	}
	t.m.start = q
	y[itx], y[ity], y[itz] = 0, 0, 0
	dydt[itx], dydt[ity], dydt[itz] = y[iwx], y[iwy], y[iwz]
}
