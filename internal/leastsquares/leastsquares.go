// Package leastsquares minimises sums of squares and robust losses like them by the
// method of Levenberg ("A method for the solution of certain non-linear problems in least
// squares", Quart. Appl. Math. 2 (1944) 164) and Marquardt ("An algorithm for
// least-squares estimation of nonlinear parameters", J. SIAM 11 (1963) 431).
package leastsquares

import "math"

// Problem is a loss over points P.
type Problem[P any] struct {
	// Loss is the function to minimise; +Inf at a point that is not allowed.
	Loss func(P) (float64, error)

	// Linearise sets up the normal equations at a point. The function that it returns
	// solves them with the diagonal multiplied by 1 + damping. It returns the point that
	// this leads to and the gain in the loss that the linear model predicts; ok is false
	// if the equations cannot be solved.
	Linearise func(P) (func(damping float64) (to P, gain float64, ok bool), error)
}

// Settings say when a search ends.
type Settings struct {
	// Enough is the predicted gain below which the search ends.
	Enough float64

	// After Patience steps in a row with a gain below Small the search also ends; 0 sets
	// no bound.
	Small    float64
	Patience int

	// Steps is the largest number of steps.
	Steps int
}

// The damping falls by a factor after a good step and rises by it after a bad one. Above
// mostDamping steps are negligible.
const (
	firstDamping  = 1e-3
	dampingFactor = 8.0
	leastDamping  = 1e-9
	mostDamping   = 1e9
)

// Minimise starts at a point and returns one from which no step gains enough, which is
// the last at which it called Linearise. settled is false if it ran out of steps or found
// no allowed point. Errors are those of the problem.
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
