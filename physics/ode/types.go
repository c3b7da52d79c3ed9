// Package ode integrates ordinary differential equations that are smooth between events: an adaptive
// Runge–Kutta pair of order 5(4) with dense output, events located on that output, forced stops and
// statistics. It does not allocate memory while it steps.
//
// The independent variable is called time; its unit and those of the components are
// the caller's.
package ode

import (
	"fmt"
	"math"
)

// Problem is a system y' = f(t, y) with its events, stops and hooks. Only Rate is required.
type Problem struct {
	// Rate stores f(t, y) in dydt. It must not keep or change y.
	Rate func(t float64, y, dydt []float64)

	// Quadratures is the number of components at the end of y that Rate does
	// not read: integrals along the solution. They cost less than others.
	Quadratures int

	// Events end the integration where the first of them happens.
	Events []Event

	// Stops lists increasing times that no step crosses, because Rate jumps there. At a stop itself Rate
	// gives the value after the jump: the step that ends there calls Rate only for earlier times, the next
	// begins at the stop.
	Stops []float64

	// StepLimit, if not nil, bounds the next step from the present state. A
	// value that is not positive or not finite sets no bound.
	StepLimit func(t float64, y, dydt []float64) float64

	// Before, if not nil, is called before each step from t to t + h is tried, to prepare what Rate needs for
	// it. It reports whether that changes the rate at t, which is in dydt.
	Before func(t, h float64, y, dydt []float64) bool

	// Again, if not nil, is called with every step whose error is small enough, and the state y at its end.
	// It returns true to have the step tried again, after a change of what Rate uses. It must return false in
	// the end.
	Again func(s *Segment, y []float64) bool

	// Accepted, if not nil, is called with every accepted step. The segment is reused: copy what you keep.
	// The hook may express the same state in another chart, if it changes y and dydt alike.
	Accepted func(s *Segment, y, dydt []float64)
}

// Event is a zero of a function of the solution.
type Event struct {
	// Value is the function; the event happens where it passes through zero. A function that is zero at the
	// start has no event there: it must leave zero first.
	Value func(t float64, y []float64) float64

	Direction Direction

	// Within is the precision in time with which the zero is located; the time found is never before it. 0
	// means the full floating-point precision.
	Within float64

	// Samples is the number of points inside each step, besides its ends, at which Value is evaluated to find
	// double crossings. Where the samples approach zero the extremum is searched, too, which finds grazing
	// crossings unless they lie within 1/128 of the step from its ends. With 0 only the ends are evaluated.
	Samples int

	// Spare, if not nil, reports whether Value surely does not pass through zero and back within a step that
	// ends in y. The samples are then left out.
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
	// Relative and Absolute set the local error allowed per step: in component i, Relative·|y_i| +
	// Absolute·Scale_i. Zero means 1e-6 for Relative if Absolute is zero too, and 1e-9 for Absolute if
	// Relative is.
	Relative, Absolute float64

	// Scale is the natural size of each component; nil means 1 for all. +Inf excludes a component from the
	// error control.
	Scale []float64

	// InitialStep is the first step tried; 0 lets the solver choose.
	// MaxStep bounds every step; 0 is no bound. Both are in the unit of time.
	InitialStep, MaxStep float64

	// MaxSteps bounds the number of accepted and rejected steps; 0 means
	// one million.
	MaxSteps int
}

// Status is why an integration ended.
type Status int

// The ways in which an integration ends.
const (
	ReachedEnd Status = iota
	EventFound
)

// Result is how an integration ended.
type Result struct {
	Status Status
	Time   float64
	Event  int     // index of the event, if one was found
	Step   float64 // proposed for the next step
	Stats  Stats
}

// Stats counts the work done.
type Stats struct {
	Steps, Rejected, Evaluations int
}

// NotFiniteError means that the rate is NaN or infinite on the solution's path.
type NotFiniteError struct {
	Time      float64
	Component int
}

func (e *NotFiniteError) Error() string {
	return fmt.Sprintf("ode: component %d of the rate is not finite at t = %g", e.Component, e.Time)
}

// StepUnderflowError means that the tolerance cannot be met with a step that still changes the time.
type StepUnderflowError struct {
	Time, Step float64
}

func (e *StepUnderflowError) Error() string {
	return fmt.Sprintf("ode: step %g at t = %g is too small to go on", e.Step, e.Time)
}

// TooManyStepsError means that the integration did not end within MaxSteps.
type TooManyStepsError struct {
	Time  float64
	Steps int
}

func (e *TooManyStepsError) Error() string {
	return fmt.Sprintf("ode: %d steps reached only t = %g", e.Steps, e.Time)
}

// Segment is the solution over one step, as a polynomial of degree four.
type Segment struct {
	Start float64 // time
	Step  float64 // length of the step that the polynomial is based on
	End   float64 // time up to which it is valid; less than Start+Step if an event ended it

	// Coefficients are five values for each of n components, one power after the other: Coefficients[p*n+i].
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
