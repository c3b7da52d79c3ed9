package ode_test

import (
	"testing"

	"lanesim/physics/ode"
)

func benchmark(b *testing.B, p *ode.Problem, set ode.Settings, start []float64, end float64) {
	b.Helper()
	s := ode.NewSolver(len(start))
	y := make([]float64, len(start))
	var stats ode.Stats
	b.ReportAllocs()
	for b.Loop() {
		copy(y, start)
		r, err := s.Run(p, set, 0, y, end)
		if err != nil {
			b.Fatal(err)
		}
		stats = r.Stats
	}
	b.ReportMetric(float64(stats.Steps), "steps/op")
	b.ReportMetric(float64(stats.Evaluations), "evaluations/op")
}

func BenchmarkArenstorf(b *testing.B) {
	benchmark(b, &ode.Problem{Rate: arenstorf}, ode.Settings{Relative: 1e-9, Absolute: 1e-9}, arenstorfStart(), arenstorfPeriod)
}

func BenchmarkPendulum(b *testing.B) {
	benchmark(b, &ode.Problem{Rate: pendulum}, ode.Settings{Relative: 1e-9, Absolute: 1e-9}, []float64{2, 0}, 20)
}

// BenchmarkPendulumWatched adds events, stops and a hook.
func BenchmarkPendulumWatched(b *testing.B) {
	benchmark(b, busy(), ode.Settings{Relative: 1e-9, Absolute: 1e-9}, []float64{2, 0}, 20)
}
