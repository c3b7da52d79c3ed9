package ball

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"lanesim/internal/vector"
)

// DrilledHole is a hole with its place on the ball. Its vectors are in grip axes; see
// [Frame].
type DrilledHole struct {
	Name string // "middle", "ring" or "thumb"
	Hole

	// Mouth is the unit vector from the ball's centre through the middle of
	// the hole on the surface, Axis the unit vector along the hole's axis
	// into the ball.
	Mouth, Axis r3.Vec
}

// Place returns where the holes of a grip lie on a ball of the given radius
// in m, for a hand.
//
// Thumb, middle and ring finger make a spherical triangle whose sides are the
// spans and the bridge with the half widths of the holes. The grip's centre
// line runs from the thumb to the middle of the side between the fingers; its
// centre lies half the mean span from the edge of the thumb hole; the midline
// crosses the centre line there at right angles. Without a thumb hole the
// grip's centre is, by convention, midway between the middles of the finger holes.
//
// A hole's axis makes an angle of asin(pitch/R) with the radius through its
// mouth, so that it misses the ball's centre by just the pitch.
//
// The error is a [*GripError].
func (g Grip) Place(hand Hand, radius float64) ([]DrilledHole, error) {
	if err := g.check(radius); err != nil {
		return nil, err
	}
	if g.Middle == nil {
		return nil, nil
	}
	side := hand.side()
	mouths, err := g.mouths(side, radius)
	if err != nil {
		return nil, err
	}
	var holes []DrilledHole
	for i, h := range g.named() {
		n := mouths[i]
		toward := -1.0 // the thumb, seen from a finger
		if h.name == "thumb" {
			toward = 1
		}
		holes = append(holes, DrilledHole{Name: h.name, Hole: h.Hole, Mouth: n, Axis: h.axis(n, toward, side, radius)})
	}
	return holes, nil
}

// axis returns the direction of a hole into the ball from the mouth n.
// Toward is the sign of forward along the centre line, side that of the PAP
// along the midline.
func (h Hole) axis(n r3.Vec, toward, side, radius float64) r3.Vec {
	forward := perpendicularPart(r3.Vec{Z: toward}, n)
	lateral := perpendicularPart(r3.Sub(r3.Vec{Y: side}, r3.Scale(side*forward.Y, forward)), n)
	miss := r3.Add(r3.Scale(h.Forward/radius, forward), r3.Scale(h.Lateral/radius, lateral))
	sin := vector.Norm(miss)
	return r3.Add(r3.Scale(-math.Sqrt((1-sin)*(1+sin)), n), miss)
}

// perpendicularPart returns the unit vector along the part of v that is
// perpendicular to the unit vector n.
func perpendicularPart(v, n r3.Vec) r3.Vec {
	return vector.Unit(r3.Sub(v, r3.Scale(r3.Dot(v, n), n)))
}

// mouths returns the unit vectors to the middles of the holes, in the order
// middle, ring, thumb.
func (g Grip) mouths(side, radius float64) ([]r3.Vec, error) {
	middle, ring := g.Middle.Diameter/2, g.Ring.Diameter/2
	c := (middle + g.Bridge + ring) / radius
	if c >= math.Pi {
		return nil, &GripError{"bridge", "the finger holes lie half around the ball from each other"}
	}
	if g.Thumb == nil {
		sin, cos := math.Sincos(c / 2)
		return []r3.Vec{{X: cos, Y: -side * sin}, {X: cos, Y: side * sin}}, nil
	}
	thumb := g.Thumb.Diameter / 2
	a, b := (thumb+g.MiddleSpan+middle)/radius, (thumb+g.RingSpan+ring)/radius
	// Angle at the thumb by the half-angle formula, which loses no digits:
	// tan²(A/2) = sin(s−a) sin(s−b) / (sin s sin(s−c)), s = (a+b+c)/2.
	s := (a + b + c) / 2
	if s >= math.Pi {
		return nil, &GripError{"span", "the grip reaches around the ball"}
	}
	if s <= a || s <= b {
		return nil, &GripError{"span", "the spans differ by more than the finger holes are apart"}
	}
	if s <= c {
		return nil, &GripError{"bridge", "the finger holes are farther apart than the spans reach"}
	}
	half := math.Atan(math.Sqrt(math.Sin(s-a) * math.Sin(s-b) / (math.Sin(s) * math.Sin(s-c))))
	// First in axes whose X points to the thumb.
	t := r3.Vec{X: 1}
	at := func(arc, bearing float64) r3.Vec {
		sin, cos := math.Sincos(arc)
		sinB, cosB := math.Sincos(bearing)
		return r3.Vec{X: cos, Y: sin * sinB, Z: sin * cosB}
	}
	m, r := at(a, -side*half), at(b, side*half)
	line := perpendicularPart(r3.Add(m, r), t)
	sin, cos := math.Sincos((thumb + (g.MiddleSpan+g.RingSpan)/4) / radius)
	x := r3.Add(r3.Scale(cos, t), r3.Scale(sin, line))
	z := r3.Add(r3.Scale(-sin, t), r3.Scale(cos, line))
	y := r3.Cross(z, x)
	list := []r3.Vec{m, r, t}
	for i, v := range list {
		list[i] = r3.Vec{X: r3.Dot(v, x), Y: r3.Dot(v, y), Z: r3.Dot(v, z)}
	}
	return list, nil
}
