package ball

import (
	"math"
	"testing"

	"lanesim/units"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// drawHole draws a hole somewhere on a ball of the given radius, deep enough
// for its bottom to lie below the whole of its mouth.
func drawHole(t *rapid.T, radius float64) DrilledHole {
	h := Hole{
		Diameter: rapid.Float64Range(0.5, 1.5).Draw(t, "diameter in") * units.Inch,
		Depth:    rapid.Float64Range(0.5, 3.5).Draw(t, "depth in") * units.Inch,
		Forward:  rapid.Float64Range(-1, 1).Draw(t, "forward in") * units.Inch,
		Lateral:  rapid.Float64Range(-1, 1).Draw(t, "lateral in") * units.Inch,
	}
	n := r3.Unit(r3.Vec{X: 1, Y: rapid.Float64Range(-1, 1).Draw(t, "y"), Z: rapid.Float64Range(-2, 2).Draw(t, "z")})
	return DrilledHole{Hole: h, Mouth: n, Axis: h.axis(n, 1, 1, radius)}
}

// slow integrates over cylinder ∩ sphere point by point in space, on a
// Cartesian grid across the hole with u = r sin θ, unlike the package, which
// does it on rings and exactly along the axis.
func slow(c cylinder, density float64) massMoments {
	const n = 20
	x, w := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	e1 := perpendicular(c.axis)
	e2 := r3.Cross(c.axis, e1)
	var sum massMoments
	for i := range x {
		theta := x[i] * math.Pi / 2
		u := c.radius * math.Sin(theta)
		half := c.radius * math.Cos(theta)
		for j := range x {
			v := half * x[j]
			foot := r3.Add(c.mouth, r3.Add(r3.Scale(u, e1), r3.Scale(v, e2)))
			// |foot + s axis|² = R², the smaller root.
			b := r3.Dot(foot, c.axis)
			top := -b - math.Sqrt(b*b-r3.Dot(foot, foot)+c.sphere*c.sphere)
			for k := range x {
				s := top + (c.depth-top)*(x[k]+1)/2
				dm := density * w[i] * w[j] * w[k] * math.Pi / 2 * half * half * (c.depth - top) / 2
				p := r3.Add(foot, r3.Scale(s, c.axis))
				q := [3]float64{p.X, p.Y, p.Z}
				sum.mass += dm
				sum.first = r3.Add(sum.first, r3.Scale(dm, p))
				for a := range 3 {
					for b := range 3 {
						sum.second[a][b] += dm * q[a] * q[b]
					}
				}
			}
		}
	}
	return sum
}

// differ returns the largest difference of two sets of moments, relative to
// mass, mass × R and mass × R².
func differ(a, b massMoments, radius float64) float64 {
	d := a.plus(-1, b)
	worst := math.Max(math.Abs(d.mass)/b.mass, r3.Norm(d.first)/(b.mass*radius))
	for i := range 3 {
		for j := range 3 {
			worst = math.Max(worst, math.Abs(d.second[i][j])/(b.mass*radius*radius))
		}
	}
	return worst
}

// A hole's mass and moments are those of a numerical integration over its
// volume.
func TestHoleAgainstIntegration(t *testing.T) {
	const radius, bound = 4.29 * units.Inch, 1e-12
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		h := drawHole(t, radius)
		c := h.cylinder(radius, h.Diameter, h.Depth)
		d := differ(c.moments(1150, nil), slow(c, 1150), radius)
		if worst = max(worst, d); d > bound {
			t.Fatalf("moments differ by %g", d)
		}
	})
	t.Logf("moments differ by up to %.2g", worst)
}

// Without pitch the volume of cylinder ∩ sphere has a closed form:
// π r² (h − R) + (2π/3) (R³ − (R² − r²)^{3/2}).
func TestHoleVolume(t *testing.T) {
	const radius = 4.29 * units.Inch
	for _, diameter := range []float64{0.5, 1, 1.5, 2} {
		for _, depth := range []float64{0.3, 1.75, 3} {
			r, h := diameter/2*units.Inch, depth*units.Inch
			c := cylinder{radius, r, h, r3.Vec{X: radius}, r3.Vec{X: -1}}
			got := c.moments(1, nil).mass
			want := math.Pi*r*r*(h-radius) + 2*math.Pi/3*(math.Pow(radius, 3)-math.Pow(radius*radius-r*r, 1.5))
			if math.Abs(got-want) > 1e-12*want {
				t.Errorf("hole of %g in by %g in: %v m³, want %v m³", diameter, depth, got, want)
			}
		}
	}
}

// A narrow hole is a right circular cylinder whose tensor about the ball's
// centre follows from the textbook's m r²/2 and m (3r² + h²)/12 and the
// parallel-axis theorem.
func TestNarrowHoleIsATextbookCylinder(t *testing.T) {
	const radius, r, depth, density = 0.109, 0.0005, 0.05, 1150.0
	n := r3.Unit(r3.Vec{X: 1, Y: 0.3, Z: -0.5})
	for _, pitch := range []float64{0, 0.01} {
		h := Hole{Forward: pitch}
		axis := h.axis(n, 1, 1, radius)
		c := cylinder{radius, r, depth, r3.Scale(radius, n), axis}
		got := c.moments(density, nil).inertia()
		m := density * math.Pi * r * r * depth
		at := r3.Add(c.mouth, r3.Scale(depth/2, axis))
		want := pointInertia(m, at)
		a := [3]float64{axis.X, axis.Y, axis.Z}
		across, along := m*(3*r*r+depth*depth)/12, m*r*r/2
		for i := range 3 {
			for j := range 3 {
				want[i][j] += (along - across) * a[i] * a[j]
				if i == j {
					want[i][j] += across
				}
			}
		}
		// The sphere's cap removes up to r²/(2R), 1e-6 m of 0.05 m.
		for i := range 3 {
			for j := range 3 {
				if math.Abs(got[i][j]-want[i][j]) > 1e-4*m*radius*radius {
					t.Errorf("pitch %g: tensor is %v, want %v", pitch, got, want)
				}
			}
		}
	}
}

// Two holes that meet remove their common part once: with the same axis, the wider and the
// deeper one.
func TestHolesThatMeet(t *testing.T) {
	const radius = 0.109
	at, in := r3.Vec{X: radius}, r3.Vec{X: -1}
	wide, deep := cylinder{radius, 0.012, 0.03, at, in}, cylinder{radius, 0.01, 0.06, at, in}
	both := wide.moments(1, nil).plus(1, deep.moments(1, []cylinder{wide}))
	tip := deep.moments(1, nil).plus(-1, cylinder{radius, 0.01, 0.03, at, in}.moments(1, nil))
	want := wide.moments(1, nil).plus(1, tip)
	if d := differ(both, want, radius); d > 1e-12 {
		t.Errorf("moments differ by %g", d)
	}
	if same := wide.moments(1, []cylinder{wide}).mass; same > 1e-12*want.mass {
		t.Errorf("a hole drilled twice takes out %g m³ more", same)
	}
}

// The order of drilling does not matter, even for finger holes without lateral pitch, which
// run into each other.
func TestOrderOfDrilling(t *testing.T) {
	const radius = 4.29 * units.Inch
	g := DefaultGrip()
	g.Middle.Lateral, g.Ring.Lateral = 0, -0.1*units.Inch
	holes := placed(t, g, Right, radius)
	a, b := holes[0].cylinder(radius, g.Middle.Diameter, g.Middle.Depth), holes[1].cylinder(radius, g.Ring.Diameter, g.Ring.Depth)
	ab := a.moments(1, nil).plus(1, b.moments(1, []cylinder{a}))
	ba := b.moments(1, nil).plus(1, a.moments(1, []cylinder{b}))
	apart := a.moments(1, nil).plus(1, b.moments(1, nil))
	if !(apart.mass-ab.mass > 0.02*ab.mass) {
		t.Errorf("they share %g of their volume only", (apart.mass-ab.mass)/ab.mass)
	}
	if d := differ(ab, ba, radius); d > 1e-5 {
		t.Errorf("moments differ by %g", d)
	} else {
		t.Logf("moments differ by %.2g, they share %.3g of the volume", d, (apart.mass-ab.mass)/ab.mass)
	}
}
