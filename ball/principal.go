package ball

import (
	"errors"
	"math"

	"lanesim/internal/linear"
	"lanesim/internal/vector"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// sameMoments is the difference of two principal moments, relative to
	// the largest, below which their axes are not distinguished: the rounding
	// of the tensor, some 1e-15, turns the axes by itself over the
	// difference, here at most 1e-6.
	sameMoments = 1e-9

	// undecided is the cosine below which a direction counts as perpendicular to
	// an axis and does not decide which way the axis points: the turn that
	// sameMoments allows.
	undecided = 1e-6
)

// errMoments is the error for a tensor that no body can have.
var errMoments = errors.New("ball: no body has the moments of inertia that the holes leave")

// principal returns the principal moments of a tensor in ascending order and
// the frame with its axes in place of pin, intermediate axis and PSA.
//
// Pin and PSA point to the same side as the frame's own or, if these are
// perpendicular to them, to that of the PAP. Where moments are equal the frame's
// own axes are kept as nearly as the others allow.
func (f Frame) principal(tensor [3][3]float64) ([3]float64, Frame, error) {
	t := linear.New(3, 3)
	for i := range 3 {
		for j := range 3 {
			t.Set(i, j, (tensor[i][j]+tensor[j][i])/2)
		}
	}
	values, v := linear.Eigen(t)
	moments := [3]float64(values)
	if !(moments[0] > 0) || moments[2] > moments[0]+moments[1] {
		return moments, f, errMoments
	}
	axis := func(i int) r3.Vec { return vector.Unit(r3.Vec{X: v.At(0, i), Y: v.At(1, i), Z: v.At(2, i)}) }
	same := func(i int) bool { return moments[i+1]-moments[i] <= sameMoments*moments[2] }
	low, high := axis(0), axis(2)
	switch {
	case same(0) && same(1):
		low, high = f.Pin, f.PSA
	case same(1):
		high = f.perpendicularTo(low, f.PSA, f.Intermediate)
	case same(0):
		low = f.perpendicularTo(high, f.Pin, f.Intermediate)
	}
	g := f
	g.Pin, g.PSA = f.toward(low, f.Pin), f.toward(high, f.PSA)
	g.Intermediate = r3.Cross(g.PSA, g.Pin)
	return moments, g, nil
}

// perpendicularTo returns the unit vector perpendicular to n that is nearest to v
// or, if v is along n, nearest to the other vector, which is perpendicular to v.
func (f Frame) perpendicularTo(n, v, other r3.Vec) r3.Vec {
	if vector.Norm(r3.Cross(n, v)) < undecided {
		v = other
	}
	return perpendicularPart(v, n)
}

// toward returns v or −v, whichever points more along the wanted direction. If
// that is perpendicular, the PAP decides, then the fingers and the grip.
func (f Frame) toward(v, wanted r3.Vec) r3.Vec {
	for _, w := range []r3.Vec{wanted, f.PAP, f.Fingers, f.TowardGrip} {
		if c := r3.Dot(v, w); math.Abs(c) > undecided {
			return r3.Scale(math.Copysign(1, c), v)
		}
	}
	return v
}
