package pins

import (
	"math"
	"testing"

	"lanesim/units"
)

// order returns the order of convergence in the largest step, from the values at h, h/2
// and h/4: log₂ of the ratio of their differences (Richardson's estimate; Roache,
// "Quantification of uncertainty in computational fluid dynamics", Annu. Rev. Fluid
// Mech. 29 (1997) 123, from memory).
func order(v [3]float64) float64 { return math.Log2((v[0] - v[1]) / (v[1] - v[2])) }

// The effect of friction over many steps converges to the exact formulas with first order
// in the largest step: for a pin that slides, a ball that slips until it rolls, a pin that
// falls over its edge.
func TestStepConverges(t *testing.T) {
	at := func(h float64, friction float64) Settings {
		s := atRest(friction)
		s.LargestStep = h
		return s
	}
	// The share k²/(R² + k²) of the ball's slip is lost at μg until it rolls, and it keeps
	// rolling.
	const speed, end, share = 1.0, 0.16, 2.5 * 2.5 / (4.29*4.29 + 2.5*2.5)
	const roll = share * speed / (0.20 * 9.80665) // s
	for _, c := range []struct {
		name    string
		exact   float64
		percent float64 // off at most at the default step
		value   func(h float64) float64
	}{
		{"a pin slides, m", 0.5 * 0.5 / (2 * 0.10 * 9.80665), 0.22, func(h float64) float64 {
			d, b := alone(t, at(h, 0.10), 0)
			b.v.x = 0.5
			for d.time < 0.6 {
				d.step()
			}
			return b.x.x
		}},
		{"a ball slips, m", speed*roll - 0.20*9.80665*roll*roll/2 + speed*(1-share)*(end-roll), 0.1, func(h float64) float64 {
			d, _ := alone(t, at(h, 0.25), 0)
			d.bodies[0].gone = true
			ball := Rolling(17.5, 0, speed, 15*units.Pound)
			ball.Spin = [3]float64{}
			d.place(ball)
			for d.time < end {
				d.step()
			}
			b := &d.bodies[ballIndex]
			return b.x.x - ball.Position[0] - b.v.x*(d.time-end)
		}},
		{"a pin falls from 9° to 45°, s", fallTime(9 * units.Degree), 0.07, func(h float64) float64 {
			d, b := alone(t, at(h, 2), 9*units.Degree)
			before, time := 0.0, 0.0
			for lean(b) < 45*units.Degree {
				before, time = lean(b), d.time
				d.step()
			}
			return time + (45*units.Degree-before)/(lean(b)-before)*(d.time-time)
		}},
	} {
		var v [3]float64
		for i, h := range []float64{1e-3, 0.5e-3, 0.25e-3} {
			v[i] = c.value(h)
		}
		limit := 2*v[2] - v[1]
		t.Logf("%s: %.6f %.6f %.6f at steps of 1, 0.5 and 0.25 ms, order %.2f, limit %.6f, exact %.6f", c.name, v[0], v[1], v[2], order(v), limit, c.exact)
		near(t, c.name+" at the default step", v[0], c.exact, c.percent/100*c.exact)
		near(t, c.name+" in the limit", limit, c.exact, 1e-3*c.exact)
		if o := order(v); math.Abs(o-1) > 0.15 {
			t.Errorf("%s: order %.2f", c.name, o)
		}
	}
}
