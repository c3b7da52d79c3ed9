package physics

import (
	"math"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
	"lanesim/validation/jacobi"
)

// TestFreeTop: without friction a body with three different moments turns as Landau & Lifshitz, Mechanics,
// §37 write it in Jacobi elliptic functions: its spin in body axes agrees to 10⁻⁸ of its size over several
// periods.
func TestFreeTop(t *testing.T) {
	// Some hundred steps of the tolerance below add up to less.
	const relative = 1e-8
	l := lane.Default()
	l.Length, l.Edgeless = math.Inf(1), true
	l.Friction = lane.Friction{Law: lane.Constant, Mu: 0}
	for _, c := range []struct {
		name    string
		k       [3]float64 // in
		fromPSA float64    // rad
		periods float64
	}{
		{"core of a ball", [3]float64{2.48, 2.51, 2.53}, 25 * units.Degree, 1},
		{"very uneven body", [3]float64{2.0, 2.3, 2.5}, 30 * units.Degree, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			sin, cos := math.Sincos(c.fromPSA)
			b := ball.Ball{Radius: 0.108, Mass: 7, PAP: [3]float64{sin, 0, cos}, Fingers: [3]float64{0, 1, 0}}
			for i, k := range c.k {
				b.Moments[i] = b.Mass * k * k * units.Inch * units.Inch
			}
			r := Release{Speed: 8, RevRate: 300 * 2 * math.Pi / 60, AxisRotation: 45 * units.Degree, AxisTilt: 15 * units.Degree, Laydown: 20}
			top, err := jacobi.NewFreeTop(b.Moments, r.RevRate*b.PAP[0], r.RevRate*b.PAP[2])
			if err != nil {
				t.Fatal(err)
			}
			thrower := NewThrower()
			if _, err := thrower.run(l, b, r, Settings{Tolerance: 1e-11, MaxTime: c.periods * top.Period()}); err != nil {
				t.Fatal(err)
			}
			worst, moved := 0.0, 0.0
			y := make([]float64, dimension)
			for i := range thrower.pieces {
				p := &thrower.pieces[i]
				for _, at := range []float64{p.Start, (p.Start + p.End) / 2, p.End} {
					p.At(at, y)
					omega := vector{y[iwx], y[iwy], y[iwz]}
					got := p.start.transposed(turnedBack(omega, vector{y[itx], y[ity], y[itz]}))
					spin := top.Spin(at)
					want := vector{spin[0], spin[1], spin[2]}
					worst = max(worst, norm(add(got, scale(-1, want))))
					moved = max(moved, math.Abs(spin[1]))
				}
			}
			if moved < 0.1*r.RevRate {
				t.Fatalf("the spin moves over the body by %.2g rad/s only", moved)
			}
			if worst > relative*r.RevRate {
				t.Errorf("off by %.2g rad/s, bound %.2g", worst, relative*r.RevRate)
			}
			t.Logf("m = %.3f, period %.2f s, spin off by %.2g of its size at most", top.Parameter, top.Period(), worst/r.RevRate)
		})
	}
}

// turnedBack undoes the rotation of a rotation vector, by an independent form of Rodrigues' formula.
func turnedBack(v, by vector) vector {
	angle := norm(by)
	if angle == 0 {
		return v
	}
	axis := scale(-1/angle, by)
	sin, cos := math.Sincos(angle)
	return add(add(scale(cos, v), scale(sin, cross(axis, v))), scale((1-cos)*dot(axis, v), axis))
}
