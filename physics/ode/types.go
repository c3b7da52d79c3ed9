// Package ode integrates ordinary differential equations that are smooth
// between events: an adaptive Runge–Kutta pair of order 5(4) with dense
// output, events located on that output, forced stops and statistics. It does
// not allocate while it steps.
//
// The independent variable is called time; its unit and those of the components are
// the caller's.
package ode

import (
	"fmt"
	"math"
)

// Problem is a system y' = f(t, y) with what is to be watched while it is
// integrated. Rate is required.
type Problem struct {
	// Rate stores f(t, y) in dydt. It must not keep or change y.
	Rate func(t float64, y, dydt []float64)

	// Quadratures is the number of components at the end of y that Rate does
	// not read: integrals along the solution. They cost less than others.
	Quadratures int

	// Events end the integration where one of them happens.
	Events []Event

	// Stops lists increasing times that no step crosses, because Rate jumps
	// there. At a stop itself Rate gives the value behind the jump: the step
	// that ends there asks only earlier times, the next begins at the stop.
	Stops []float64

	// StepLimit, if not nil, bounds the next step from the present state. A
	// value that is not positive or not finite sets no bound.
	StepLimit func(t float64, y, dydt []float64) float64

	// Before, if not nil, is called with every step from t to t + h before it is
	// tried, to prepare what Rate needs to know of it. It reports whether that
	// changes the rate at t, which dydt holds.
	Before func(t, h float64, y, dydt []float64) bool

	// Again, if not nil, sees every step of which the error is small enough,
	// with the state y at its end. It asks by true for the step to be tried once
	// more after having changed what Rate knows of it, and has to end this.
	Again func(s *Segment, y []float64) bool

	// Accepted, if not nil, sees every accepted piece of the solution. The
	// segment is reused: copy what is to be kept. The hook may move y to
	// another chart of the same state as long as it changes dydt to match.
	Accepted func(s *Segment, y, dydt []float64)
}

// Event is a zero of a function of the solution.
type Event struct {
	// Value is the function; the event happens where it passes through
	// zero. A function that is zero at the start has no event there: it
	// has to leave zero first.
	Value func(t float64, y []float64) float64

	Direction Direction

	// Within is how near in time the zero is located, always behind it. 0 means to
	// neighbouring numbers.
	Within float64

	// Samples is the number of points inside each step at which Value is
	// looked at, beside the ends, so that a double crossing is not missed;
	// where the samples approach zero the extremum is searched, so that a
	// grazing one is not missed either, unless it lies within 1/128 of the
	// step from its ends. 0 looks at the ends alone.
	Samples int

	// Spare, if not nil, spares the samples in a step that ends in y by
	// reporting that Value cannot pass through zero and back within it.
	Spare func(y []float64) bool
}

// Direction selects the crossings of an event.
type Direction int

// Directions of crossing, as time increases.
const (
	Either  Direction = iota
	Rising            // from negative to positive
	Falling           // from positive to negative
)

// Settings control the integration. The zero value works.
type Settings struct {
	// Relative and Absolute are the tolerated local error per step: in
	// component i, Relative·|y_i| + Absolute·Scale_i. Zero means 1e-6 for
	// Relative if Absolute is zero too, and 1e-9 for Absolute if Relative is.
	Relative, Absolute float64

	// Scale holds the natural size of each component; nil means 1 for all.
	// +Inf takes a component out of the error control.
	Scale []float64

	// InitialStep is the first step tried; 0 lets the solver choose.
	// MaxStep bounds every step; 0 is no bound. Both are in the unit of time.
	InitialStep, MaxStep float64

	// MaxSteps bounds the number of accepted and rejected steps; 0 means
	// one million.
	MaxSteps int
}

// Status says why an integration ended.
type Status int

// The ends of an integration.
const (
	ReachedEnd Status = iota
	EventFound
)

// Result says how an integration ended.
type Result struct {
	Status Status
	Time   float64
	Event  int     // index of the event, if one was found
	Step   float64 // proposed for going on
	Stats  Stats
}

// Stats counts the work done.
type Stats struct {
	Steps, Rejected, Evaluations int
}

// NotFiniteError says that the rate is NaN or infinite where the solution
// must pass.
type NotFiniteError struct {
	Time      float64
	Component int
}

func (e *NotFiniteError) Error() string {
	return fmt.Sprintf("ode: component %d of the rate is not finite at t = %g", e.Component, e.Time)
}

// StepUnderflowError says that the tolerance cannot be met with a step that
// still changes the time.
type StepUnderflowError struct {
	Time, Step float64
}

func (e *StepUnderflowError) Error() string {
	return fmt.Sprintf("ode: step %g at t = %g is too small to go on", e.Step, e.Time)
}

// TooManyStepsError says that the bound on steps was reached first.
type TooManyStepsError struct {
	Time  float64
	Steps int
}

func (e *TooManyStepsError) Error() string {
	return fmt.Sprintf("ode: %d steps led only to t = %g", e.Steps, e.Time)
}

// Segment is the solution over one step, as a polynomial of degree four.
type Segment struct {
	Start float64 // time
	Step  float64 // length on which the polynomial is based
	End   float64 // time up to which it counts; less than Start+Step if an event ended it

	// Coefficients holds five values for each component, one power after
	// the other: Coefficients[p*n+i].
	Coefficients []float64
}

// At stores the solution at time t in y.
func (s *Segment) At(t float64, y []float64) { s.Leading(t, y[:len(s.Coefficients)/5]) }

// Leading stores the first len(y) components of the solution at time t in y.
func (s *Segment) Leading(t float64, y []float64) {
	n := len(s.Coefficients) / 5
	u := (t - s.Start) / s.Step
	v := 1 - u
	r1, r2, r3, r4, r5 := s.rows(n)
	r1, r2, r3, r4, r5 = r1[:len(y)], r2[:len(y)], r3[:len(y)], r4[:len(y)], r5[:len(y)]
	for i := range y {
		y[i] = r1[i] + u*(r2[i]+v*(r3[i]+u*(r4[i]+v*r5[i])))
	}
}

// Component returns component i of the solution at time t.
func (s *Segment) Component(i int, t float64) float64 {
	n := len(s.Coefficients) / 5
	u := (t - s.Start) / s.Step
	v := 1 - u
	c := s.Coefficients
	return c[i] + u*(c[n+i]+v*(c[2*n+i]+u*(c[3*n+i]+v*c[4*n+i])))
}

func (s *Segment) rows(n int) (r1, r2, r3, r4, r5 []float64) {
	c := s.Coefficients
	return c[:n:n], c[n : 2*n : 2*n], c[2*n : 3*n : 3*n], c[3*n : 4*n : 4*n], c[4*n : 5*n : 5*n]
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
