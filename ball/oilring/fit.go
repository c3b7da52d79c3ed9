package oilring

import (
	"math"

	"lanesim/internal/leastsquares"
	"lanesim/internal/linear"
	"lanesim/internal/vector"

	"gonum.org/v1/gonum/spatial/r3"
)

// sphereCircle is the circle of the points at an angular distance, in rad, from
// a unit axis.
type sphereCircle struct {
	axis  r3.Vec
	angle float64
}

const (
	// mostFitSteps bounds the iterations of a fit. Well spread points take
	// three or four.
	mostFitSteps = 200

	// fitSettled is the step in rad below which a fit has converged: a
	// billionth of the ball's radius, a ten-millionth of a reading error.
	fitSettled = 1e-9
)

// fitCircle minimises Σ (arc(axis, p) − angle)² over axis and angle, by steps in the
// tangent plane of the axis. It starts from the plane that fits best in space, whose
// normal is the eigenvector of the least eigenvalue of Σ (p − p̄)(p − p̄)ᵀ: the minimum
// of Σ (axis·p − c)².
func fitCircle(points []r3.Vec) sphereCircle {
	fit := leastsquares.Problem[sphereCircle]{
		Loss: func(c sphereCircle) (float64, error) { return c.squares(points), nil },
		Linearise: func(c sphereCircle) (func(float64) (sphereCircle, float64, bool), error) {
			first, second := tangents(c.axis)
			normal, gradient := c.normal(points, first, second)
			return func(damping float64) (sphereCircle, float64, bool) {
				damped := normal.Clone()
				for i := range gradient {
					damped.Set(i, i, normal.At(i, i)*(1+damping))
				}
				factor, ok := linear.Factor(damped)
				if !ok {
					return c, 0, false
				}
				step := factor.Solve(gradient)
				axis := r3.Add(c.axis, r3.Add(r3.Scale(-step[0], first), r3.Scale(-step[1], second)))
				return sphereCircle{vector.Unit(axis), c.angle - step[2]}, linear.Dot(step, gradient), true
			}, nil
		},
	}
	c, _, _ := fit.Minimise(fitPlane(points), leastsquares.Settings{Enough: fitSettled * fitSettled, Steps: mostFitSteps})
	return c
}

// fitPlane returns the circle in which the best plane cuts the sphere.
func fitPlane(points []r3.Vec) sphereCircle {
	var mean r3.Vec
	for _, p := range points {
		mean = r3.Add(mean, r3.Scale(1/float64(len(points)), p))
	}
	scatter := linear.New(3, 3)
	for _, p := range points {
		d := r3.Sub(p, mean)
		addSquare(scatter, [3]float64{d.X, d.Y, d.Z})
	}
	_, v := linear.Eigen(scatter)
	axis := vector.Unit(r3.Vec{X: v.At(0, 0), Y: v.At(1, 0), Z: v.At(2, 0)}) // eigenvalues rise
	return sphereCircle{axis, math.Acos(max(-1, min(r3.Dot(axis, mean), 1)))}
}

// addSquare adds v vᵀ.
func addSquare(m *linear.Matrix, v [3]float64) {
	for i, x := range v {
		for j, y := range v {
			m.Add(i, j, x*y)
		}
	}
}

// squares is the sum of the squared distances of points from the circle, in
// rad².
func (c sphereCircle) squares(points []r3.Vec) float64 {
	sum := 0.0
	for _, p := range points {
		d := vector.Angle(c.axis, p) - c.angle
		sum += d * d
	}
	return sum
}

// normal returns JᵀJ and Jᵀd for the distances d = arc(axis, p) − angle and
// their derivatives J by a step of the axis along two tangents,
// −tangent·p / sin arc, and by the angle, −1.
func (c sphereCircle) normal(points []r3.Vec, first, second r3.Vec) (normal *linear.Matrix, gradient []float64) {
	normal, gradient = linear.New(3, 3), make([]float64, 3)
	for _, p := range points {
		j := [3]float64{2: -1}
		if sine := vector.Norm(r3.Cross(c.axis, p)); sine > 0 {
			j[0], j[1] = -r3.Dot(first, p)/sine, -r3.Dot(second, p)/sine
		}
		addSquare(normal, j)
		for i, slope := range j {
			gradient[i] += slope * (vector.Angle(c.axis, p) - c.angle)
		}
	}
	return normal, gradient
}

// covariance returns (JᵀJ)⁻¹, for steps of the axis along two tangents and for
// the angle, and false if the points do not determine them.
func (c sphereCircle) covariance(points []r3.Vec, first, second r3.Vec) (v [3][3]float64, ok bool) {
	normal, _ := c.normal(points, first, second)
	factor, ok := linear.Factor(normal)
	if !ok {
		return v, false
	}
	inverse := factor.Inverse()
	for i := range v {
		for j := range v {
			v[i][j] = inverse.At(i, j)
		}
	}
	return v, true
}

// tangents returns the unit tangents at a direction in grip axes: parallel to the
// midline, and perpendicular to that toward the fingers.
func tangents(v r3.Vec) (over, up r3.Vec) {
	over = r3.Vec{X: -v.Y, Y: v.X}
	if over == (r3.Vec{}) {
		over = r3.Vec{Y: 1}
	}
	over = vector.Unit(over)
	return over, r3.Cross(v, over)
}
