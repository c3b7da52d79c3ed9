// Package leastsquares minimises sums of squares and robust losses like them by the
// method of Levenberg ("A method for the solution of certain non-linear problems in least
// squares", Quart. Appl. Math. 2 (1944) 164) and Marquardt ("An algorithm for
// least-squares estimation of nonlinear parameters", J. SIAM 11 (1963) 431).
package leastsquares

import "math"

// Problem is a loss over points P.
type Problem[P any] struct {
	// Loss is what is to be least; +Inf where a point will not do.
	Loss func(P) (float64, error)

	// Linearise sets the normal equations up at a point. The function that it returns
	// solves them with the diagonal 1 + damping times as large and returns the
	// point to which that leads and the gain in the loss if all were linear; false if they cannot
	// be solved.
	Linearise func(P) (func(damping float64) (to P, gain float64, ok bool), error)
}

// Settings say when a search ends.
type Settings struct {
	// Enough is the gain that is too small for another step.
	Enough float64

	// Patience is the number of steps in a row with a gain below Small that end
	// the search too; 0 sets no bound.
	Small    float64
	Patience int

	// Steps is the most that are taken.
	Steps int
}

// The damping falls by a factor after a good step and rises by it after a bad one. At
// the most there is no step left to take.
const (
	firstDamping  = 1e-3
	dampingFactor = 8.0
	leastDamping  = 1e-9
	mostDamping   = 1e9
)

// Minimise goes from a point to one from where no step gains enough, which is the last
// at which it has linearised. It is settled unless it ran out of steps or
// found no point that will do. Errors are those of the problem.
func (q Problem[P]) Minimise(p P, s Settings) (best P, settled bool, err error) {
	now, err := q.Loss(p)
	if err != nil {
		return p, false, err
	}
	damping, small := firstDamping, 0
	for range s.Steps {
		best = p
		solve, err := q.Linearise(p)
		if err != nil {
			return p, false, err
		}
		for {
			to, gain, ok := solve(damping)
			if ok && !math.IsInf(now, 1) && gain < s.Enough {
				return p, true, nil
			}
			then := math.Inf(1)
			if ok {
				if then, err = q.Loss(to); err != nil {
					return p, false, err
				}
			}
			if then < now {
				if now-then >= s.Small {
					small = 0
				} else if small++; small == s.Patience {
					return p, true, nil
				}
				p, now = to, then
				damping = max(damping/dampingFactor, leastDamping)
				break
			}
			if damping *= dampingFactor; damping > mostDamping {
				return p, !math.IsInf(now, 1), nil // nothing gains, within the numerical error
			}
		}
	}
	return best, false, nil
}
