package physics

import "math"

// vector is a struct, not an array, because the compiler keeps small structs in
// registers.
type vector struct{ x, y, z float64 }

// matrix is stored by rows.
type matrix [3]vector

func vectorOf(a [3]float64) vector { return vector{a[0], a[1], a[2]} }

func cross(a, b vector) vector {
	return vector{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

func dot(a, b vector) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }

func norm(a vector) float64 { return math.Sqrt(dot(a, a)) }

func scale(s float64, a vector) vector { return vector{s * a.x, s * a.y, s * a.z} }

func add(a, b vector) vector { return vector{a.x + b.x, a.y + b.y, a.z + b.z} }

// each multiplies component by component, as a diagonal tensor.
func each(a, b vector) vector { return vector{a.x * b.x, a.y * b.y, a.z * b.z} }

// times returns Q v: body to lane.
func (q *matrix) times(v vector) vector {
	return vector{dot(q[0], v), dot(q[1], v), dot(q[2], v)}
}

// transposed returns Qᵀ v: lane to body.
func (q *matrix) transposed(v vector) vector {
	a, b, c := q[0], q[1], q[2]
	return vector{a.x*v.x + b.x*v.y + c.x*v.z, a.y*v.x + b.y*v.y + c.y*v.z, a.z*v.x + b.z*v.y + c.z*v.z}
}

// The orientation is Q = exp([θ]×) Q₀: a rotation vector θ, in the lane's axes, from an orientation Q₀ that
// is renewed after every step. The rotation of a constant spin is then exact, and Q stays a rotation to
// rounding for any step (Munthe-Kaas, BIT 38 (1998) 92).

// rotation is a rotation vector θ of size t with sin t/t and (1 − cos t)/t².
type rotation struct {
	theta            vector
	square, sin, cos float64
}

func newRotation(theta vector) rotation {
	r := rotation{theta: theta, square: dot(theta, theta)}
	r.sin, r.cos = sinc(r.square)
	return r
}

// sinc returns sin t/t and (1 − cos t)/t² for t² = s. Its series multiply by reciprocals, since
// division is several times as slow.
func sinc(s float64) (sin, cos float64) {
	s2 := s * s
	if s < shortSeriesBelow {
		return (1 - s*(1./6)) + s2*((1./120-s*(1./5040))+s2*(1./362880-s*(1./39916800))),
			(1./2 - s*(1./24)) + s2*((1./720-s*(1./40320))+s2*(1./3628800-s*(1./479001600)))
	}
	if s < seriesBelow {
		s4 := s2 * s2
		return (1 - s*(1./6)) + s2*(1./120-s*(1./5040)) + s4*((1./362880-s*(1./39916800))+s2*(1./6227020800-s*(1./1307674368000))),
			(1./2 - s*(1./24)) + s2*(1./720-s*(1./40320)) + s4*((1./3628800-s*(1./479001600))+s2*(1./87178291200-s*(1./20922789888000)))
	}
	t := math.Sqrt(s)
	a, b := math.Sincos(t)
	return a / t, (1 - b) / s
}

// shortSeriesBelow is the squared angle below which fewer terms are enough: the first omitted term of sin
// t/t, s⁶/13!, is below 2⁻⁵³ for s < 0.09.
const shortSeriesBelow = 0.09

// seriesBelow is the squared angle below which Taylor series replace the closed forms, which are slower and
// lose digits: the first omitted term of sin t/t, s⁸/17!, is below 2⁻⁵³ for s < 0.6.
const seriesBelow = 0.6

// turnBack returns exp(−[θ]×) v = v − (sin t/t) θ×v + ((1 − cos t)/t²) θ×(θ×v), t = |θ|. sin and cos are the
// results of sinc.
func turnBack(theta vector, sin, cos float64, v vector) vector {
	once := cross(theta, v)
	twice := cross(theta, once)
	return vector{v.x - sin*once.x + cos*twice.x, v.y - sin*once.y + cos*twice.y, v.z - sin*once.z + cos*twice.z}
}

// turn stores exp([θ]×) Q₀ in q.
func (r *rotation) turn(q, q0 *matrix) {
	x, y, z := r.theta.x, r.theta.y, r.theta.z
	bx, by := r.cos*x, r.cos*y
	ax, ay, az := r.sin*x, r.sin*y, r.sin*z
	xy, xz, yz := bx*y, bx*z, by*z
	diagonal := 1 - r.cos*r.square
	e00, e11, e22 := diagonal+bx*x, diagonal+by*y, diagonal+r.cos*z*z
	e01, e10 := xy-az, xy+az
	e02, e20 := xz+ay, xz-ay
	e12, e21 := yz-ax, yz+ax
	r0, r1, r2 := q0[0], q0[1], q0[2]
	q[0] = vector{e00*r0.x + e01*r1.x + e02*r2.x, e00*r0.y + e01*r1.y + e02*r2.y, e00*r0.z + e01*r1.z + e02*r2.z}
	q[1] = vector{e10*r0.x + e11*r1.x + e12*r2.x, e10*r0.y + e11*r1.y + e12*r2.y, e10*r0.z + e11*r1.z + e12*r2.z}
	q[2] = vector{e20*r0.x + e21*r1.x + e22*r2.x, e20*r0.y + e21*r1.y + e22*r2.y, e20*r0.z + e21*r1.z + e22*r2.z}
}

// rotated returns exp([θ]×) Q₀.
func rotated(theta vector, q0 *matrix) (q matrix) {
	r := newRotation(theta)
	r.turn(&q, q0)
	return q
}

// chart returns the factor c in the rate of θ for the spin ω, from s = t² and the results of sinc,
//
//	θ' = ω − ½ θ×ω + c θ×(θ×ω),   c = (1 − (t/2) cot(t/2))/t²,  t = |θ|
//
// the inverse of the exponential map's derivative.
func chart(s, sin, cos float64) float64 {
	if s < chartSeriesBelow {
		return 1./12 + s*(1./720+s*(1./30240+s*(1./1209600+s*(1./47900160))))
	}
	return (1 - sin/(2*cos)) / s
}

// turnRate stores the rate θ' of the rotation vector for the spin ω.
func turnRate(dydt []float64, omega vector, r *rotation) {
	rate := rotationRate(r.theta, omega, -0.5, chart(r.square, r.sin, r.cos))
	dydt[itx], dydt[ity], dydt[itz] = rate.x, rate.y, rate.z
}

// rotationRate returns ω + half θ×ω + c θ×(θ×ω); half is −½ in the lane's axes and ½ in the body's.
func rotationRate(theta, omega vector, half, c float64) vector {
	once := cross(theta, omega)
	twice := cross(theta, once)
	return vector{
		omega.x + half*once.x + c*twice.x,
		omega.y + half*once.y + c*twice.y,
		omega.z + half*once.z + c*twice.z,
	}
}

// chartSeriesBelow is the squared angle below which chart uses its series: the first omitted term, 691
// s⁵/1307674368000, is below 2⁻⁵³ of the first for s < 0.4.
const chartSeriesBelow = 0.4

// renew restores the orthogonality that q loses by rounding: Gram–Schmidt on its rows.
func (q *matrix) renew() {
	a, b := q[0], q[1]
	a = scale(1/norm(a), a)
	b = add(b, scale(-dot(a, b), a))
	b = scale(1/norm(b), b)
	q[0], q[1], q[2] = a, b, cross(a, b)
}

// quaternion returns the rotation as a unit quaternion w, x, y, z, from the largest of
// its components (Shepperd, J. Guidance and Control 1 (1978) 223).
func (q *matrix) quaternion() [4]float64 {
	xx, yy, zz := q[0].x, q[1].y, q[2].z
	squares := [4]float64{1 + xx + yy + zz, 1 + xx - yy - zz, 1 - xx + yy - zz, 1 - xx - yy + zz} // four times each component's
	largest := 0
	for i, s := range squares {
		if s > squares[largest] {
			largest = i
		}
	}
	twice := math.Sqrt(squares[largest])
	wx, wy, wz := q[2].y-q[1].z, q[0].z-q[2].x, q[1].x-q[0].y // four times w x, w y and w z
	xy, xz, yz := q[0].y+q[1].x, q[0].z+q[2].x, q[1].z+q[2].y
	rest := [4][4]float64{{squares[0], wx, wy, wz}, {wx, squares[1], xy, xz}, {wy, xy, squares[2], yz}, {wz, xz, yz, squares[3]}}[largest]
	for i := range rest {
		rest[i] /= 2 * twice
	}
	return rest
}
