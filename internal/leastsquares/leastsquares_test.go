package leastsquares_test

import (
	"errors"
	"math"
	"testing"

	"lanesim/internal/leastsquares"
	"lanesim/internal/linear"
)

// problem is Σ rᵢ² with residuals and their derivatives.
func problem(residuals func([]float64) ([]float64, [][]float64)) leastsquares.Problem[[]float64] {
	loss := func(p []float64) (float64, error) {
		r, _ := residuals(p)
		return linear.Dot(r, r), nil
	}
	return leastsquares.Problem[[]float64]{Loss: loss, Linearise: func(p []float64) (func(float64) ([]float64, float64, bool), error) {
		r, j := residuals(p)
		return func(damping float64) ([]float64, float64, bool) {
			m, g := linear.New(len(p), len(p)), make([]float64, len(p))
			for k, row := range j {
				for a, x := range row {
					g[a] -= x * r[k]
					for b, y := range row {
						m.Add(a, b, x*y)
					}
				}
			}
			for a := range p {
				m.Set(a, a, m.At(a, a)*(1+damping))
			}
			f, ok := linear.Factor(m)
			if !ok {
				return nil, 0, false
			}
			step := f.Solve(g)
			to := make([]float64, len(p))
			for a := range p {
				to[a] = p[a] + step[a]
			}
			return to, linear.Dot(step, g), true
		}, nil
	}}
}

// TestRosenbrock: Rosenbrock's curved valley, from the usual start ("An automatic
// method for finding the greatest or least value of a function", Comput. J. 3 (1960) 175).
func TestRosenbrock(t *testing.T) {
	looks := 0
	q := problem(func(p []float64) ([]float64, [][]float64) {
		looks++
		return []float64{10 * (p[1] - p[0]*p[0]), 1 - p[0]}, [][]float64{{-20 * p[0], 10}, {-1, 0}}
	})
	p, settled, err := q.Minimise([]float64{-1.2, 1}, leastsquares.Settings{Enough: 1e-25, Steps: 100})
	if err != nil || !settled || math.Abs(p[0]-1) > 1e-9 || math.Abs(p[1]-1) > 1e-9 {
		t.Errorf("%v, settled %v, %v", p, settled, err)
	}
	if looks > 80 {
		t.Errorf("%d looks", looks)
	}
	if _, settled, _ := q.Minimise([]float64{-1.2, 1}, leastsquares.Settings{Enough: 1e-25, Steps: 3}); settled {
		t.Error("settled in three steps")
	}
}

// TestEdges: the search leaves a point that is not allowed for one that is; a loss that
// does not change is settled; errors are passed on.
func TestEdges(t *testing.T) {
	q := problem(func(p []float64) ([]float64, [][]float64) { return []float64{p[0] - 3}, [][]float64{{1}} })
	loss := q.Loss
	q.Loss = func(p []float64) (float64, error) {
		if p[0] < 1 || p[0] > 2 {
			return math.Inf(1), nil
		}
		return loss(p)
	}
	p, settled, err := q.Minimise([]float64{1}, leastsquares.Settings{Steps: 100})
	if err != nil || !settled || p[0] < 1.5 || p[0] > 2 {
		t.Errorf("%v, settled %v, %v", p, settled, err)
	}
	q.Loss = func([]float64) (float64, error) { return math.Inf(1), nil }
	if _, settled, _ := q.Minimise([]float64{1}, leastsquares.Settings{Steps: 100}); settled {
		t.Error("settled where no point will do")
	}
	wrong := errors.New("wrong")
	q.Loss = func([]float64) (float64, error) { return 0, wrong }
	if _, _, err := q.Minimise([]float64{1}, leastsquares.Settings{Steps: 100}); err != wrong {
		t.Error(err)
	}
}

// TestPatience: small gains in a row end a search with patience.
func TestPatience(t *testing.T) {
	steps := 0
	q := leastsquares.Problem[float64]{
		Loss: func(p float64) (float64, error) { return -p, nil },
		Linearise: func(p float64) (func(float64) (float64, float64, bool), error) {
			steps++
			return func(float64) (float64, float64, bool) { return p + 1, 1, true }, nil
		},
	}
	if _, settled, _ := q.Minimise(0, leastsquares.Settings{Enough: 0.5, Small: 2, Patience: 3, Steps: 50}); !settled || steps != 3 {
		t.Errorf("settled %v after %d steps", settled, steps)
	}
	steps = 0
	if _, settled, _ := q.Minimise(0, leastsquares.Settings{Enough: 0.5, Small: 2, Steps: 50}); settled || steps != 50 {
		t.Errorf("settled %v after %d steps", settled, steps)
	}
}
