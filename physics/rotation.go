package physics

import "math"

type (
	vector [3]float64
	matrix [3][3]float64 // rows
)

func cross(a, b vector) vector {
	return vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func dot(a, b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func norm(a vector) float64 { return math.Sqrt(dot(a, a)) }

func scale(s float64, a vector) vector { return vector{s * a[0], s * a[1], s * a[2]} }

func add(a, b vector) vector { return vector{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// times returns Q v: body to lane.
func (q *matrix) times(v vector) vector {
	return vector{
		q[0][0]*v[0] + q[0][1]*v[1] + q[0][2]*v[2],
		q[1][0]*v[0] + q[1][1]*v[1] + q[1][2]*v[2],
		q[2][0]*v[0] + q[2][1]*v[1] + q[2][2]*v[2],
	}
}

// transposed returns Qᵀ v: lane to body.
func (q *matrix) transposed(v vector) vector {
	return vector{
		q[0][0]*v[0] + q[1][0]*v[1] + q[2][0]*v[2],
		q[0][1]*v[0] + q[1][1]*v[1] + q[2][1]*v[2],
		q[0][2]*v[0] + q[1][2]*v[1] + q[2][2]*v[2],
	}
}

// The orientation is Q = exp([θ]×) Q₀: a rotation vector θ, in the lane's
// axes, from an orientation Q₀ that is renewed after every step. The rotation
// of an even spin is then carried exactly, and Q is a rotation to rounding
// whatever the step (Munthe-Kaas, BIT 38 (1998) 92).

// sinc returns sin t / t and (1 − cos t)/t² for t² = s.
func sinc(s float64) (a, b float64) {
	if s < seriesBelow {
		// Taylor series; the next terms are below 2⁻⁵³ there.
		a = 1 - s/6*(1-s/20*(1-s/42*(1-s/72)))
		b = 0.5 * (1 - s/12*(1-s/30*(1-s/56*(1-s/90))))
		return a, b
	}
	t := math.Sqrt(s)
	sin, cos := math.Sincos(t)
	return sin / t, (1 - cos) / s
}

// seriesBelow is the squared angle below which series replace closed forms
// that lose digits: the first omitted term of sinc is s⁵/11! < 2⁻⁵³ relative
// for s < 0.02.
const seriesBelow = 0.02

// advance stores exp([θ]×) Q₀ in q.
func advance(q *matrix, theta vector, q0 *matrix) {
	s := dot(theta, theta)
	a, b := sinc(s)
	x, y, z := theta[0], theta[1], theta[2]
	bx, by := b*x, b*y
	ax, ay, az := a*x, a*y, a*z
	xy, xz, yz := bx*y, bx*z, by*z
	diagonal := 1 - b*s
	e00, e11, e22 := diagonal+bx*x, diagonal+by*y, diagonal+b*z*z
	e01, e10 := xy-az, xy+az
	e02, e20 := xz+ay, xz-ay
	e12, e21 := yz-ax, yz+ax
	for j := range 3 {
		c0, c1, c2 := q0[0][j], q0[1][j], q0[2][j]
		q[0][j] = e00*c0 + e01*c1 + e02*c2
		q[1][j] = e10*c0 + e11*c1 + e12*c2
		q[2][j] = e20*c0 + e21*c1 + e22*c2
	}
}

// chartRate returns θ' for the spin ω:
//
//	θ' = ω − ½ θ×ω + c θ×(θ×ω),   c = (1 − (t/2) cot(t/2))/t²,  t = |θ|
//
// the inverse of the exponential map's derivative.
func chartRate(theta, omega vector) vector {
	s := dot(theta, theta)
	var c float64
	if s < chartSeriesBelow {
		c = 1./12 + s*(1./720+s*(1./30240+s*(1./1209600+s*(1./47900160))))
	} else {
		a, b := sinc(s)
		c = (1 - a/(2*b)) / s
	}
	first := cross(theta, omega)
	second := cross(theta, first)
	return vector{
		omega[0] - 0.5*first[0] + c*second[0],
		omega[1] - 0.5*first[1] + c*second[1],
		omega[2] - 0.5*first[2] + c*second[2],
	}
}

// chartSeriesBelow: the first omitted term, 691 s⁵/1307674368000, is below
// 2⁻⁵³ of the first for s < 0.4.
const chartSeriesBelow = 0.4

// renew makes q a rotation again to rounding: Gram–Schmidt on its rows.
func (q *matrix) renew() {
	a, b := vector(q[0]), vector(q[1])
	a = scale(1/norm(a), a)
	b = add(b, scale(-dot(a, b), a))
	b = scale(1/norm(b), b)
	q[0], q[1], q[2] = a, b, cross(a, b)
}

// solve stores in x the solution of m x = b by Cramer's rule. The matrices
// solved here are inertia tensors and small changes of them, far from
// singular.
func (m *matrix) solve(b vector) vector {
	c01, c12, c20 := cross(m[1], m[2]), cross(m[2], m[0]), cross(m[0], m[1])
	det := dot(m[0], c01)
	// The rows of the inverse's transpose are the cross products of m's rows.
	return scale(1/det, add(add(scale(b[0], c01), scale(b[1], c12)), scale(b[2], c20)))
}
