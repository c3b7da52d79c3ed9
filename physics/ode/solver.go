package ode

import (
	"math"
	"slices"

	"lanesim/internal/portable"
)

// Solver integrates systems of a fixed number of components and reuses its memory. It is not safe for
// concurrent use.
type Solver struct {
	n                         int
	y, k1, k2, k3, k4, k5, k6 []float64
	k7, trial                 []float64
	segment                   Segment
	before                    []float64 // event values at the start of the step
	sides                     []float64 // last nonzero value of each event
	scratch                   []float64
	weights                   []float64 // weights of the components' errors
	settings                  Settings
	stats                     Stats
	problem                   *Problem
	lastError                 float64
}

// NewSolver returns a solver for systems of n components.
func NewSolver(n int) *Solver {
	block := make([]float64, 11*n)
	take := func() []float64 {
		b := block[:n:n]
		block = block[n:]
		return b
	}
	s := &Solver{n: n, y: take(), k1: take(), k2: take(), k3: take(), k4: take(), k5: take(), k6: take(),
		k7: take(), trial: take(), scratch: take(), weights: take()}
	s.segment.Coefficients = make([]float64, 5*n)
	return s
}

// Control of the step size: Hairer, Nørsett & Wanner I, II.4, with Gustafsson's
// PI controller in their constants for the 5(4) pair.
const (
	safety     = 0.9
	piBeta     = 0.04
	exponent   = 0.2 - 0.75*piBeta
	mostShrink = 5.0      // a step becomes no smaller than 1/5 of the last
	mostGrow   = 10.0     // nor larger than ten times
	leastError = 1e-4     // floor of the remembered error, so that one very accurate step does not dominate
	stretch    = 1.1      // the most by which a step may be lengthened to end at a limit
	afterNaN   = 0.1      // factor for a step in which the rate was not finite
	negligible = 1e-5     // state or rate, in tolerances, too small to guess a first step from
	shortest   = 1e-6     // first step tried where the state is zero (for times of the order of 1)
	ulps       = 16 * eps // a step below this share of the time no longer changes it reliably
	eps        = 0x1p-52
)

const (
	defaultRelative = 1e-6
	defaultAbsolute = 1e-9
	defaultMaxSteps = 1_000_000
)

// Run integrates p from time t with the state y up to time end or the first event, and stores the state there
// in y. If end is not after t it returns at once.
//
// The error is a [*NotFiniteError], a [*StepUnderflowError] or a [*TooManyStepsError]; y and the result are
// then those of the last accepted step.
func (s *Solver) Run(p *Problem, set Settings, t float64, y []float64, end float64) (Result, error) {
	s.problem, s.settings, s.stats = p, set, Stats{}
	if set.Relative == 0 && set.Absolute == 0 {
		s.settings.Relative, s.settings.Absolute = defaultRelative, defaultAbsolute
	}
	if set.MaxSteps == 0 {
		s.settings.MaxSteps = defaultMaxSteps
	}
	s.setWeights()
	copy(s.y, y)
	result, err := s.run(t, end)
	copy(y, s.y)
	result.Stats = s.stats
	return result, err
}

func (s *Solver) run(t, end float64) (Result, error) {
	stops := s.problem.Stops
	for len(stops) > 0 && stops[0] <= t {
		stops = stops[1:]
	}
	if err := s.start(t); err != nil {
		return Result{Time: t}, err
	}
	h := s.settings.InitialStep
	if h <= 0 && t < end {
		h = s.firstStep(t, end-t)
	}
	s.lastError = leastError
	rejected := false
	for t < end {
		limit := end
		if len(stops) > 0 && stops[0] < end {
			limit = stops[0]
		}
		// End the step at the limit. If the remainder is less than a tenth of a step and the bounds allow it,
		// lengthen the step instead.
		longest := s.bound(t, stretch*h)
		h = min(h, longest)
		step, proposed := h, h
		last := false
		if t+longest >= limit-ulps*math.Abs(limit) {
			step, last = limit-t, true
		}
		if step <= ulps*math.Abs(t) && !last {
			return Result{Time: t, Step: h}, &StepUnderflowError{t, step}
		}
		if s.stats.Steps+s.stats.Rejected >= s.settings.MaxSteps {
			return Result{Time: t, Step: h}, &TooManyStepsError{t, s.settings.MaxSteps}
		}
		// A step that ends at a jump does not evaluate Rate after the jump.
		next := t + step
		arrival := next
		if last {
			next, arrival = limit, limit
			if len(stops) > 0 && limit == stops[0] {
				arrival = math.Nextafter(limit, t)
			}
		}
		if s.problem.Before != nil && s.problem.Before(t, step, s.y, s.k1) {
			s.rate(t, s.y, s.k1)
		}
		size := s.attempt(t, step, arrival)
		if again := s.problem.Again; again != nil {
			for size <= 1 {
				s.dense(t, step)
				s.segment.End = next
				if !again(&s.segment, s.trial) {
					break
				}
				s.rate(t, s.y, s.k1)
				size = s.attempt(t, step, arrival)
			}
		}
		if bad := !finite(size); bad || size > 1 {
			s.stats.Rejected++
			rejected = true
			if bad {
				h = step * afterNaN
			} else {
				h = step / min(mostShrink, portable.Exp(exponent*portable.Log(size))/safety)
			}
			if t+h == t || h <= ulps*math.Abs(t) {
				if bad {
					return Result{Time: t, Step: h}, &NotFiniteError{t + step, s.notFinite()}
				}
				return Result{Time: t, Step: h}, &StepUnderflowError{t, h}
			}
			continue
		}
		s.stats.Steps++
		// size^exponent / last^β
		factor := portable.Exp(exponent*portable.Log(size) - piBeta*portable.Log(s.lastError))
		h = step / max(1/mostGrow, min(mostShrink, factor/safety))
		if last {
			h = max(h, proposed)
		}
		if rejected {
			h = min(h, step)
		}
		rejected = false
		s.lastError = max(size, leastError)

		if s.problem.Again == nil {
			s.dense(t, step)
			s.segment.End = next
		}
		s.y, s.trial = s.trial, s.y
		s.k1, s.k7 = s.k7, s.k1
		event, at := s.locate(t, next)
		if event >= 0 {
			s.segment.End = at
			if at < next {
				s.segment.At(at, s.y)
			}
			if s.problem.Accepted != nil {
				if at < next {
					s.rate(at, s.y, s.k1)
				}
				s.problem.Accepted(&s.segment, s.y, s.k1)
			}
			return Result{Status: EventFound, Time: at, Event: event, Step: h}, nil
		}
		t = next
		if s.problem.Accepted != nil {
			s.problem.Accepted(&s.segment, s.y, s.k1)
		}
		if len(stops) > 0 && t == stops[0] {
			stops = stops[1:]
			if t < end {
				if err := s.start(t); err != nil {
					return Result{Time: t, Step: h}, err
				}
			}
		}
	}
	return Result{Status: ReachedEnd, Time: t, Step: h}, nil
}

// start evaluates the rate and the events at the beginning of a smooth part.
func (s *Solver) start(t float64) error {
	s.rate(t, s.y, s.k1)
	for i, v := range s.k1 {
		if !finite(v) {
			return &NotFiniteError{t, i}
		}
	}
	events := s.problem.Events
	s.before = slices.Grow(s.before[:0], len(events))[:len(events)]
	s.sides = slices.Grow(s.sides[:0], len(events))[:len(events)]
	for i := range events {
		s.before[i] = events[i].Value(t, s.y)
		s.sides[i] = s.before[i]
	}
	return nil
}

func (s *Solver) rate(t float64, y, dydt []float64) {
	s.stats.Evaluations++
	s.problem.Rate(t, y, dydt)
}

// bound applies the limits on a step to h.
func (s *Solver) bound(t, h float64) float64 {
	if m := s.settings.MaxStep; m > 0 {
		h = min(h, m)
	}
	if s.problem.StepLimit != nil {
		if m := s.problem.StepLimit(t, s.y, s.k1); m > 0 {
			h = min(h, m)
		}
	}
	return h
}

// attempt tries a step of length h from t and returns its scaled error; a step with at most 1 can be
// accepted. It leaves the state at the end in trial and its rate, evaluated at the time arrival, in k7.
func (s *Solver) attempt(t, h, arrival float64) float64 {
	n := s.n
	y, w := s.y[:n], s.trial[:n]
	k1, k2, k3, k4, k5, k6, k7 := s.k1[:n], s.k2[:n], s.k3[:n], s.k4[:n], s.k5[:n], s.k6[:n], s.k7[:n]
	// Quadratures need no intermediate values.
	v := w[:n-s.problem.Quadratures]
	for i := range v {
		v[i] = y[i] + h*a21*k1[i]
	}
	s.rate(t+c2*h, w, k2)
	for i := range v {
		v[i] = y[i] + h*(a31*k1[i]+a32*k2[i])
	}
	s.rate(t+c3*h, w, k3)
	for i := range v {
		v[i] = y[i] + h*(a41*k1[i]+a42*k2[i]+a43*k3[i])
	}
	s.rate(t+c4*h, w, k4)
	for i := range v {
		v[i] = y[i] + h*(a51*k1[i]+a52*k2[i]+a53*k3[i]+a54*k4[i])
	}
	s.rate(t+c5*h, w, k5)
	for i := range v {
		v[i] = y[i] + h*(a61*k1[i]+a62*k2[i]+a63*k3[i]+a64*k4[i]+a65*k5[i])
	}
	s.rate(arrival, w, k6)
	for i := range w {
		w[i] = y[i] + h*(a71*k1[i]+a73*k3[i]+a74*k4[i]+a75*k5[i]+a76*k6[i])
	}
	s.rate(arrival, w, k7)

	largest := 0.0
	weights := s.weights[:n]
	relative := s.settings.Relative > 0
	for i := range w {
		e := math.Abs(h * (e1*k1[i] + e3*k3[i] + e4*k4[i] + e5*k5[i] + e6*k6[i] + e7*k7[i]))
		if relative {
			e *= s.weight(i, max(math.Abs(y[i]), math.Abs(w[i])))
		} else {
			e *= weights[i]
		}
		if !(e <= largest) { // also NaN, which then stays
			largest = e
		}
	}
	return largest
}

// setWeights computes the weights of the components' errors without their relative part.
func (s *Solver) setWeights() {
	for i := range s.weights {
		s.weights[i] = s.weight(i, 0)
	}
}

// weight returns the reciprocal of the error allowed in component i of the given size, 0 for a component
// without error control. NaN is still detected in such a component.
func (s *Solver) weight(i int, size float64) float64 {
	allowed := s.settings.Absolute
	if scale := s.settings.Scale; scale != nil {
		if math.IsInf(scale[i], 1) {
			return 0
		}
		allowed *= scale[i]
	}
	allowed += s.settings.Relative * size
	// A finite bound, so that a component that stays zero has no error even if none is allowed.
	return min(1/allowed, math.MaxFloat64)
}

// dense computes the segment of a step from its stages.
func (s *Solver) dense(t, h float64) {
	n := s.n
	g := &s.segment
	g.Start, g.Step = t, h
	r1, r2, r3, r4, r5 := g.rows(n)
	y, w := s.y[:n], s.trial[:n]
	k1, k3, k4, k5, k6, k7 := s.k1[:n], s.k3[:n], s.k4[:n], s.k5[:n], s.k6[:n], s.k7[:n]
	for i := range y {
		difference := w[i] - y[i]
		bend := h*k1[i] - difference
		r1[i] = y[i]
		r2[i] = difference
		r3[i] = bend
		r4[i] = difference - h*k7[i] - bend
		r5[i] = h * (d1*k1[i] + d3*k3[i] + d4*k4[i] + d5*k5[i] + d6*k6[i] + d7*k7[i])
	}
}

// notFinite returns the first component whose rate was not finite in the last attempt.
func (s *Solver) notFinite() int {
	for _, k := range [][]float64{s.k2, s.k3, s.k4, s.k5, s.k6, s.k7} {
		for i, v := range k {
			if !finite(v) {
				return i
			}
		}
	}
	return 0
}

// firstStep estimates the first step from the size of the rate and of its change: Hairer, Nørsett & Wanner I,
// II.4.
func (s *Solver) firstStep(t, room float64) float64 {
	size := func(v []float64) float64 {
		largest := 0.0
		for i := range v {
			allowed := s.settings.Absolute
			if s.settings.Scale != nil {
				allowed *= s.settings.Scale[i]
			}
			allowed += s.settings.Relative * math.Abs(s.y[i])
			if v[i] != 0 && allowed > 0 {
				largest = max(largest, math.Abs(v[i])/allowed)
			}
		}
		return largest
	}
	d0, d1 := size(s.y), size(s.k1)
	h := min(room, shortest)
	if min(d0, d1) > negligible {
		h = min(room, 0.01*d0/d1)
	}
	if s.settings.MaxStep > 0 {
		h = min(h, s.settings.MaxStep)
	}
	for i := range s.trial {
		s.trial[i] = s.y[i] + h*s.k1[i]
	}
	s.rate(t+h, s.trial, s.k2)
	for i := range s.scratch {
		s.scratch[i] = (s.k2[i] - s.k1[i]) / h
	}
	d2 := size(s.scratch)
	if !finite(d2) {
		return h
	}
	h1 := max(shortest, h*1e-3)
	if d := max(d1, d2); d > 0 {
		h1 = portable.Pow(0.01/d, 0.2)
	}
	// A large time needs a step that still changes it.
	return max(min(100*h, h1, room), 2*ulps*math.Abs(t))
}
