package plots

import (
	"math"

	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
)

// ballView is a view of the ball from outside, in Lambert's azimuthal
// equal-area projection (Lambert, 1772): areas on the ball keep their share of
// the picture, so that holes and rings keep their size up to the rim, and great
// circles through the middle are straight. With c the cosine of the angle from
// the middle,
//
//	(x, y) = (right · v, up · v) / √(1 + c)
//
// in radii of the rim, where c is 0. What lies on the far side is drawn as seen
// through the ball, with |c| in place of c.
type ballView struct {
	toward, up, right r3.Vec // unit vectors: to the viewer, and in the picture
	middle            point
	radius            float64 // of the rim, in points
}

// lookingAt returns the view from a direction with another direction pointing up.
func lookingAt(toward, up r3.Vec) ballView {
	up = r3.Unit(r3.Sub(up, r3.Scale(r3.Dot(up, toward), toward)))
	return ballView{toward: toward, up: up, right: r3.Cross(up, toward)}
}

// at returns the place of a unit vector on the picture; near is false on the far side.
func (v ballView) at(p r3.Vec) (q point, near bool) {
	c := r3.Dot(p, v.toward)
	k := v.radius / math.Sqrt(1+math.Abs(c))
	return point{v.middle.x + k*r3.Dot(p, v.right), v.middle.y - k*r3.Dot(p, v.up)}, c >= 0
}

// near reports whether a unit vector lies on the side shown.
func (v ballView) near(p r3.Vec) bool { return r3.Dot(p, v.toward) >= 0 }

// ballCurve is a line on the ball cut at the rim.
type ballCurve struct{ near, far [][]point }

// curve places a line through unit vectors on the picture.
func (v ballView) curve(points []r3.Vec) ballCurve {
	var c ballCurve
	var run []point
	side := true
	end := func() {
		if len(run) > 1 && side {
			c.near = append(c.near, run)
		} else if len(run) > 1 {
			c.far = append(c.far, run)
		}
		run = nil
	}
	for i, p := range points {
		q, near := v.at(p)
		if i > 0 && near != side {
			// Where the chord meets the plane of the rim.
			a, b := r3.Dot(points[i-1], v.toward), r3.Dot(p, v.toward)
			rim := r3.Add(points[i-1], r3.Scale(a/(a-b), r3.Sub(p, points[i-1])))
			edge, _ := v.at(r3.Unit(rim))
			run = append(run, edge)
			end()
			run = append(run, edge)
		}
		side = near
		run = append(run, q)
	}
	end()
	return c
}

// curveStep is the angle in rad between the points of a drawn circle or arc:
// 2°, where the chord leaves the arc by a fiftieth of a point on a sheet.
const curveStep = 2 * units.Degree

// greatCircle returns the great circle through two perpendicular unit vectors, once round.
func greatCircle(a, b r3.Vec) []r3.Vec { return sweep(a, b, 2*math.Pi) }

// sweep returns the points cos t a + sin t b for t from 0 to an angle in rad.
func sweep(a, b r3.Vec, to float64) []r3.Vec {
	n := max(1, int(math.Ceil(math.Abs(to)/curveStep)))
	list := make([]r3.Vec, n+1)
	for i := range list {
		sin, cos := math.Sincos(to * float64(i) / float64(n))
		list[i] = r3.Add(r3.Scale(cos, a), r3.Scale(sin, b))
	}
	return list
}

// sameDirection is the sine of the angle below which two directions have no
// arc between them that could be drawn: a thousandth of the ball's radius.
const sameDirection = 1e-3

// tangentToward returns the unit tangent at a that points along the great circle to b,
// false if they coincide or lie opposite each other.
func tangentToward(a, b r3.Vec) (r3.Vec, bool) {
	t := r3.Sub(b, r3.Scale(r3.Dot(a, b), a))
	if r3.Norm(t) < sameDirection {
		return r3.Vec{}, false
	}
	return r3.Unit(t), true
}

// arcBetween is the angle in rad between unit vectors.
func arcBetween(a, b r3.Vec) float64 { return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) }

// greatArc returns the shorter arc of the great circle from a to b, nil if
// there is none.
func greatArc(a, b r3.Vec) []r3.Vec {
	t, ok := tangentToward(a, b)
	if !ok {
		return nil
	}
	return sweep(a, t, arcBetween(a, b))
}

// aroundPoint returns the part of the small circle at an angular distance from a unit
// vector that runs from one tangent through an angle in rad toward a perpendicular tangent.
func aroundPoint(centre, from, toward r3.Vec, distance, angle float64) []r3.Vec {
	sin, cos := math.Sincos(distance)
	list := sweep(from, toward, angle)
	for i, t := range list {
		list[i] = r3.Add(r3.Scale(cos, centre), r3.Scale(sin, t))
	}
	return list
}
