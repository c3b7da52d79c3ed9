package ode

import (
	"math"

	"lanesim/internal/root"
)

// probe is the distance from either end of a step, as a share of the step, of an extra sample. It shows the
// slope of an event function at the end, for extrema between the end and the next sample.
const probe = 1. / 64

// locate finds the first event within the accepted step from t to next. It returns its index and time, or -1,
// and keeps the event values for the next step.
func (s *Solver) locate(t, next float64) (int, float64) {
	found, at := -1, next
	for i := range s.problem.Events {
		if when, ok := s.crossing(i, t, next); ok && (found < 0 || when < at) {
			found, at = i, when
		}
	}
	return found, at
}

// crossing finds the first zero of event i within the step.
func (s *Solver) crossing(i int, t, next float64) (float64, bool) {
	e := &s.problem.Events[i]
	end := e.Value(next, s.y)
	left, gLeft := t, s.before[i]
	s.before[i] = end
	if e.Samples > 0 && (e.Spare == nil || !e.Spare(s.y)) {
		n := e.Samples + 1
		last, gLast := left, gLeft // the sample before left
		visit := func(u float64) (float64, bool) {
			p := t + u*(next-t)
			g := end
			if u == 1 {
				p = next
			} else {
				g = s.value(e, p)
			}
			if when, ok := s.zeroBetween(i, left, p, gLeft, g); ok {
				return when, true
			}
			// A dip toward zero between last and p?
			if side := s.sides[i]; last < left && side*gLeft > 0 && side*gLast > 0 && e.counts(side) &&
				math.Abs(gLeft) <= math.Abs(gLast) && math.Abs(gLeft) <= math.Abs(g) {
				if dip, ok := s.dip(e, last, left, p, gLast, gLeft, g, side); ok {
					return s.root(e, last, dip, gLast, s.value(e, dip)), true
				}
			}
			last, gLast = left, gLeft
			left, gLeft = p, g
			return 0, false
		}
		if when, ok := visit(probe); ok {
			return when, true
		}
		for k := 1; k < n; k++ {
			if when, ok := visit(float64(k) / float64(n)); ok {
				return when, true
			}
		}
		if when, ok := visit(1 - probe); ok {
			return when, true
		}
		return visit(1)
	}
	return s.zeroBetween(i, left, next, gLeft, end)
}

// zeroBetween finds a zero of event i between two neighbouring samples, by the side of zero on which its
// value last was.
func (s *Solver) zeroBetween(i int, left, right, gLeft, gRight float64) (float64, bool) {
	e := &s.problem.Events[i]
	side := s.sides[i]
	if gRight != 0 && !math.IsNaN(gRight) {
		s.sides[i] = gRight
	}
	if side == 0 || side*gRight > 0 || math.IsNaN(gRight) || !e.counts(side) || gLeft == 0 {
		return 0, false
	}
	if gRight == 0 {
		return right, true
	}
	return s.root(e, left, right, gLeft, gRight), true
}

// counts reports whether a crossing from the given side of zero counts.
func (e *Event) counts(side float64) bool {
	return e.Direction == Either || (e.Direction == Rising) == (side < 0)
}

func (s *Solver) value(e *Event, t float64) float64 {
	s.segment.At(t, s.scratch)
	return e.Value(t, s.scratch)
}

// root finds the zero of an event in a bracket.
func (s *Solver) root(e *Event, a, b, ga, gb float64) float64 {
	return root.Find(func(t float64) float64 { return s.value(e, t) }, a, b, ga, gb, e.Within)
}

// dip looks for a point beyond zero of an event function that is on the given side at a, m and b and nearest
// to zero at m. It locates the extremum by parabolas, or by golden section where they fail, and stops as soon
// as the parabola stays clear of zero.
func (s *Solver) dip(e *Event, a, m, b, ga, gm, gb, side float64) (float64, bool) {
	const golden = 0.3819660112501051 // (3 − √5)/2
	sign := math.Copysign(1, side)
	ga, gm, gb = sign*ga, sign*gm, sign*gb
	// An extremum can be located only to the square root of the precision.
	least := math.Sqrt(eps) * max(math.Abs(a), math.Abs(b))
	for look := 0; b-a > least; look++ {
		// Vertex and its value on the parabola through the three points.
		left, right := (gm-ga)/(m-a), (gb-gm)/(b-m)
		bend := (right - left) / (b - a)
		x := (a+m)/2 - left/(2*bend)
		lowest := ga + (x-a)*(left+(x-m)*bend)
		if look >= surelyClear && lowest > gm/2 {
			return 0, false
		}
		if !(x > a && x < b) || x == m || look%3 == 2 {
			x = m + golden*(b-m)
			if m-a > b-m {
				x = m - golden*(m-a)
			}
		}
		g := sign * s.value(e, x)
		if g < 0 {
			return x, true
		}
		switch {
		case g < gm && x < m:
			b, gb, m, gm = m, gm, x, g
		case g < gm:
			a, ga, m, gm = m, gm, x, g
		case x < m:
			a, ga = x, g
		default:
			b, gb = x, g
		}
	}
	return 0, false
}

// surelyClear is the number of iterations after which a parabola that stays clear of zero ends the search.
const surelyClear = 3
