package jacobi_test

import (
	"testing"

	"lanesim/validation/jacobi"
)

// TestEuler: the motion obeys Euler's equations, I₁ω₁′ = (I₂−I₃)ω₂ω₃ and so on
// round, starts as asked, keeps energy and angular momentum and comes back.
func TestEuler(t *testing.T) {
	i := [3]float64{1, 1.3, 1.7}
	const first, third = 0.6, 2.0
	top, err := jacobi.NewFreeTop(i, first, third)
	if err != nil {
		t.Fatal(err)
	}
	start := top.Spin(0)
	for axis, want := range []float64{first, 0, third} {
		near(t, "spin at the start", start[axis], want, rounding)
	}
	// A step of 10⁻⁵ leaves 10⁻¹⁰ of curvature and 10⁻¹¹ of rounding.
	const step, bound = 1e-5, 1e-9
	for time := 0.0; time < 1.5*top.Period(); time += 0.31 {
		w, before, after := top.Spin(time), top.Spin(time-step), top.Spin(time+step)
		energy, momentum := 0.0, 0.0
		for a := range 3 {
			b, c := (a+1)%3, (a+2)%3
			near(t, "Euler's equation", i[a]*(after[a]-before[a])/(2*step), (i[b]-i[c])*w[b]*w[c], bound)
			energy += i[a] * w[a] * w[a]
			momentum += i[a] * i[a] * w[a] * w[a]
		}
		near(t, "2E", energy, i[0]*first*first+i[2]*third*third, 100*rounding)
		near(t, "L²", momentum, i[0]*i[0]*first*first+i[2]*i[2]*third*third, 100*rounding)
		again := top.Spin(time + top.Period())
		for a := range 3 {
			near(t, "spin a period later", again[a], w[a], 100*rounding)
		}
	}
}

// TestOtherAxis: a body that turns about its first axis is refused, and one
// with moments out of order.
func TestOtherAxis(t *testing.T) {
	for _, moments := range [][3]float64{{1, 1.3, 1.7}, {1.7, 1.3, 1}} {
		if _, err := jacobi.NewFreeTop(moments, 2, 0.1); err == nil {
			t.Errorf("moments %v", moments)
		}
	}
}
