package pins

import "math"

type vector struct{ x, y, z float64 }

func (a vector) add(b vector) vector  { return vector{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vector) sub(b vector) vector  { return vector{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vector) mul(k float64) vector { return vector{k * a.x, k * a.y, k * a.z} }
func (a vector) plus(k float64, b vector) vector {
	return vector{a.x + k*b.x, a.y + k*b.y, a.z + k*b.z}
}
func (a vector) dot(b vector) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vector) norm() float64        { return math.Sqrt(a.dot(a)) }
func (a vector) cross(b vector) vector {
	return vector{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// tangents returns two unit vectors at right angles to the unit vector n and to each
// other.
func tangents(n vector) (t1, t2 vector) {
	if math.Abs(n.z) < 0.7 {
		t1 = vector{-n.y, n.x, 0}
	} else {
		t1 = vector{0, -n.z, n.y}
	}
	t1 = t1.mul(1 / t1.norm())
	return t1, n.cross(t1)
}
