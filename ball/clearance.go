package ball

import (
	"math"

	"lanesim/internal/vector"
	"lanesim/units"

	"gonum.org/v1/gonum/spatial/r3"
)

// Clearances are the distances in m on a drilled ball below which a warning is given:
// from the pin to the edge of a hole, from that edge to the middle of a track and to
// a bow-tie, and the wall between two holes, usually thinnest at their bottoms.
type Clearances struct{ Pin, Track, BowTie, Bottoms float64 }

// DefaultClearances returns the assumed defaults.
func DefaultClearances() Clearances {
	return Clearances{Pin: units.Inch / 4, Track: units.Inch / 2, BowTie: units.Inch / 2, Bottoms: units.Inch / 8}
}

// EdgePoint returns the point at an angle t in rad about the hole's axis on the edge
// that it has with a diameter in m on a ball of the given radius in m, as a unit vector.
// With e₁ and e₂ perpendicular to the axis and ρ the hole's radius, the cylinder's line
// mouth + ρ (cos t e₁ + sin t e₂) + s axis meets the sphere at s = w/(a + √(a² − w)),
// a = −axis · mouth, w = ρ² + 2ρ (cos t e₁ + sin t e₂) · mouth.
func (h DrilledHole) EdgePoint(diameter, sphere, t float64) r3.Vec {
	e1 := perpendicular(h.Axis)
	e2 := r3.Cross(h.Axis, e1)
	middle := r3.Scale(sphere, h.Mouth)
	rho, a := diameter/2, -r3.Dot(h.Axis, middle)
	sin, cos := math.Sincos(t)
	out := r3.Add(r3.Scale(rho*cos, e1), r3.Scale(rho*sin, e2))
	w := rho*rho + 2*r3.Dot(out, middle)
	s := w / (a + math.Sqrt(max(a*a-w, 0)))
	return vector.Unit(r3.Add(middle, r3.Add(out, r3.Scale(s, h.Axis))))
}

// edgeSamples is the number of points of an edge at which the search for its
// nearest point starts; between neighbours the distance has one minimum.
const edgeSamples = 24

// ToEdge returns the distance in m along the surface, on a ball of the given
// radius in m, from a direction in grip axes to the edge of the hole as drilled:
// negative inside the hole.
func (h DrilledHole) ToEdge(from r3.Vec, sphere float64) float64 {
	distance := func(t float64) float64 { return vector.Angle(from, h.EdgePoint(h.Diameter, sphere, t)) }
	best, at := math.Inf(1), 0.0
	for i := range edgeSamples {
		t := 2 * math.Pi * float64(i) / edgeSamples
		if d := distance(t); d < best {
			best, at = d, t
		}
	}
	const step = 2 * math.Pi / edgeSamples
	nearest := goldenSection(distance, at-step, at+step) * sphere
	q := r3.Scale(sphere, r3.Sub(from, h.Mouth))
	across := r3.Sub(q, r3.Scale(r3.Dot(q, h.Axis), h.Axis))
	if r3.Dot(from, h.Axis) < 0 && vector.Norm(across) < h.Diameter/2 {
		return -nearest
	}
	return nearest
}

// goldenSection returns the least value of a function with one minimum between a
// and b.
func goldenSection(f func(float64) float64, a, b float64) float64 {
	const golden, steps = 0.6180339887498949, 36 // 0.618³⁶ is 3e-8 of the interval
	x1, x2 := b-golden*(b-a), a+golden*(b-a)
	f1, f2 := f(x1), f(x2)
	for range steps {
		if f1 <= f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - golden*(b-a)
			f1 = f(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + golden*(b-a)
			f2 = f(x2)
		}
	}
	return min(f1, f2)
}

// TrackToEdge returns the least distance in m along the surface from a line on
// the ball, given by closely spaced directions in grip axes, to the edge of the
// hole: negative if the line crosses the hole, +Inf without points.
func (h DrilledHole) TrackToEdge(line []r3.Vec, sphere float64) float64 {
	// The distance to the edge is at least that to the middle less half the
	// mouth's width. Pitch widens a mouth by less than half of its width.
	best, bestAt := math.Inf(1), -1
	for i, p := range line {
		if vector.Angle(p, h.Mouth)*sphere-0.75*h.Diameter > best {
			continue
		}
		if d := h.ToEdge(p, sphere); d < best {
			best, bestAt = d, i
		}
	}
	if bestAt < 0 {
		return best
	}
	for _, next := range []int{bestAt - 1, bestAt + 1} {
		if next < 0 || next >= len(line) {
			continue
		}
		a, b := line[bestAt], line[next]
		best = min(best, goldenSection(func(share float64) float64 {
			return h.ToEdge(vector.Unit(r3.Add(r3.Scale(1-share, a), r3.Scale(share, b))), sphere)
		}, 0, 1))
	}
	return best
}

const (
	// settledWall is the gain of a round, in the sphere's radius, below which the search
	// for the thinnest place of a wall ends. A distance between points about a radius
	// from the centre carries the rounding of a few operations, some 1e-16 radii; a gain
	// ten thousand times larger is not rounding.
	settledWall = 1e-12

	// mostRounds bounds the search. If every round still gained settledWall, this many
	// would gain 1e-8 radii, a nanometre: no drill is set so finely.
	mostRounds = 10000
)

// WallBetween returns the thickness in m of the thinnest wall between two holes in a
// ball of the given radius in m, 0 where they meet: the distance between their
// cylinders, from mouth to bottom. Von Neumann's alternating projections find it: from
// a point of one to the nearest point of the other and back. Both are convex, so this
// converges to the nearest pair.
func WallBetween(a, b DrilledHole, sphere float64) float64 {
	p := r3.Add(r3.Scale(sphere, a.Mouth), r3.Scale(a.Depth, a.Axis))
	var q r3.Vec
	last := math.Inf(1)
	for range mostRounds {
		q = b.nearestInside(p, sphere)
		p = a.nearestInside(q, sphere)
		d := vector.Norm(r3.Sub(p, q))
		if last-d < settledWall*sphere {
			break
		}
		last = d
	}
	return vector.Norm(r3.Sub(p, q))
}

// nearestInside returns the point of the hole's cylinder that is nearest to p.
func (h DrilledHole) nearestInside(p r3.Vec, sphere float64) r3.Vec {
	mouth := r3.Scale(sphere, h.Mouth)
	v := r3.Sub(p, mouth)
	deep := r3.Dot(v, h.Axis)
	across := r3.Sub(v, r3.Scale(deep, h.Axis))
	if n := vector.Norm(across); n > h.Diameter/2 {
		across = r3.Scale(h.Diameter/2/n, across)
	}
	return r3.Add(mouth, r3.Add(across, r3.Scale(min(max(deep, 0), h.Depth), h.Axis)))
}

// ThinnestWall returns the least of the walls between holes, +Inf if there are not two.
func ThinnestWall(holes []DrilledHole, sphere float64) float64 {
	thinnest := math.Inf(1)
	for i, h := range holes {
		for _, other := range holes[:i] {
			thinnest = min(thinnest, WallBetween(other, h, sphere))
		}
	}
	return thinnest
}
