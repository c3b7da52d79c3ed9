package ode_test

import (
	"math"
	"testing"

	"lanesim/physics/ode"
)

// Arenstorf's orbit of a satellite round earth and moon, in the rotating frame:
// Hairer, Nørsett & Wanner, Solving Ordinary Differential Equations I, II.0.
const (
	moonMass        = 0.012277471
	arenstorfPeriod = 17.0652165601579625588917206249
)

func arenstorfStart() []float64 { return []float64{0.994, 0, 0, -2.00158510637908252240537862224} }

// arenstorf has the state x, y, vx, vy.
func arenstorf(_ float64, y, dydt []float64) {
	const earthMass = 1 - moonMass
	earth, moon := y[0]+moonMass, y[0]-earthMass
	d1 := earth*earth + y[1]*y[1]
	d2 := moon*moon + y[1]*y[1]
	d1 *= math.Sqrt(d1)
	d2 *= math.Sqrt(d2)
	dydt[0], dydt[1] = y[2], y[3]
	dydt[2] = y[0] + 2*y[3] - earthMass*earth/d1 - moonMass*moon/d2
	dydt[3] = y[1] - 2*y[2] - earthMass*y[1]/d1 - moonMass*y[1]/d2
}

func TestArenstorfOrbitCloses(t *testing.T) {
	// Its close passes of the moon magnify the tolerated errors a hundredfold.
	for _, tolerance := range []float64{1e-8, 1e-11, 1e-13} {
		y := arenstorfStart()
		r := run(t, &ode.Problem{Rate: arenstorf}, ode.Settings{Relative: tolerance, Absolute: tolerance}, 0, y, arenstorfPeriod)
		t.Logf("tolerance %.0e: %+v", tolerance, r.Stats)
		within(t, "position after one period", distance(y[:2], arenstorfStart()[:2]), 1000*tolerance)
	}
}

func TestArenstorfOrbitReturnsThroughItsAxis(t *testing.T) {
	// The orbit crosses the axis of symmetry upright halfway through.
	y := arenstorfStart()
	p := &ode.Problem{Rate: arenstorf, Events: []ode.Event{{
		Value: func(_ float64, y []float64) float64 { return y[1] }, Samples: 2}}}
	set := ode.Settings{Relative: 1e-13, Absolute: 1e-13}
	solver := ode.NewSolver(4)
	at, best, upright := 0.0, math.Inf(1), 0.0
	for range 40 {
		r, err := solver.Run(p, set, at, y, arenstorfPeriod-1)
		if err != nil {
			t.Fatal(err)
		}
		if r.Status == ode.ReachedEnd {
			break
		}
		at, y[1] = r.Time, 0
		if d := math.Abs(at - arenstorfPeriod/2); d < best {
			best, upright = d, math.Abs(y[2])
		}
	}
	within(t, "time of the middle crossing against half the period", best, 1e-9)
	within(t, "speed along the axis there", upright, 1e-9)
}

// threeBodies has the positions of three unit masses, then their velocities.
func threeBodies(_ float64, y, dydt []float64) {
	copy(dydt[:6], y[6:])
	clear(dydt[6:])
	for i := range 3 {
		for j := range i {
			dx, dy := y[2*j]-y[2*i], y[2*j+1]-y[2*i+1]
			r2 := dx*dx + dy*dy
			f := 1 / (r2 * math.Sqrt(r2))
			dydt[6+2*i] += f * dx
			dydt[7+2*i] += f * dy
			dydt[6+2*j] -= f * dx
			dydt[7+2*j] -= f * dy
		}
	}
}

// figureEight are the initial values of Simó in Chenciner & Montgomery, Ann. of
// Math. 152 (2000) 881, given to eight decimals (from memory).
func figureEight() []float64 {
	const x, y, vx, vy = 0.97000436, -0.24308753, -0.93240737, -0.86473146
	return []float64{x, y, -x, -y, 0, 0, -vx / 2, -vy / 2, -vx / 2, -vy / 2, vx, vy}
}

const figureEightPeriod = 6.32591398

func TestThreeBodiesOnAFigureEight(t *testing.T) {
	set := ode.Settings{Relative: 1e-12, Absolute: 1e-12}
	y := figureEight()
	run(t, &ode.Problem{Rate: threeBodies}, set, 0, y, figureEightPeriod)
	// The initial values have eight decimals.
	const digits = 1e-7
	within(t, "difference after one period", distance(y, figureEight()), 10*digits)

	// After a third of the period each stands where another stood.
	y, start := figureEight(), figureEight()
	run(t, &ode.Problem{Rate: threeBodies}, set, 0, y, figureEightPeriod/3)
	best := math.Inf(1)
	for _, order := range [][3]int{{1, 2, 0}, {2, 0, 1}} {
		worst := 0.0
		for i, j := range order {
			worst = max(worst, distance(y[2*i:2*i+2], start[2*j:2*j+2]), distance(y[6+2*i:8+2*i], start[6+2*j:8+2*j]))
		}
		best = min(best, worst)
	}
	within(t, "difference of the permuted bodies after a third", best, 10*digits)

	px, py := y[6]+y[8]+y[10], y[7]+y[9]+y[11]
	within(t, "momentum", max(math.Abs(px), math.Abs(py)), 1e-13)
}
