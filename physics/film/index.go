package film

// index finds the pieces of the contact's way over the ball that may cover a point: the
// cube around the unit sphere is cut into boxes, each with a list of the pieces that come
// within a contact's width of it, the latest first.
type index struct {
	heads []int32 // by box: the first link, or none
	links []link
	boxes int     // along each edge of the cube
	scale float64 // boxes per unit length
	reach float64
}

const none = -1

type link struct{ place, next int32 }

// fewest and most boxes along an edge of the cube.
const (
	fewestBoxes = 8
	mostBoxes   = 20
)

// reset empties the index for pieces of about the given length and a width to reach over,
// both on the unit sphere.
func (x *index) reset(spacing, width float64) {
	x.boxes = min(max(int(2/spacing), fewestBoxes), mostBoxes)
	x.scale, x.reach = float64(x.boxes)/2, width
	n := x.boxes * x.boxes * x.boxes
	if cap(x.heads) < n {
		x.heads = make([]int32, n)
	}
	x.heads = x.heads[:n]
	for i := range x.heads {
		x.heads[i] = none
	}
	x.links = x.links[:0]
}

// box is the index of the box along one axis that holds a coordinate.
func (x *index) box(v float64) int {
	return min(max(int((v+1)*x.scale), 0), x.boxes-1)
}

// first is the first link of the box that holds a point.
func (x *index) first(p *Vector) int32 {
	return x.heads[(x.box(p.Z)*x.boxes+x.box(p.Y))*x.boxes+x.box(p.X)]
}

// add enters the piece from place j to the next. On the way between them it strays from
// the chord by no more than a circle of half the sphere's size: angle²/4.
func (x *index) add(j int32, from, to *Vector) {
	d := Vector{to.X - from.X, to.Y - from.Y, to.Z - from.Z}
	reach := x.reach + dot(d, d)/4
	x0, x1 := x.box(min(from.X, to.X)-reach), x.box(max(from.X, to.X)+reach)
	y0, y1 := x.box(min(from.Y, to.Y)-reach), x.box(max(from.Y, to.Y)+reach)
	z0, z1 := x.box(min(from.Z, to.Z)-reach), x.box(max(from.Z, to.Z)+reach)
	for z := z0; z <= z1; z++ {
		for y := y0; y <= y1; y++ {
			row := (z*x.boxes + y) * x.boxes
			for i := row + x0; i <= row+x1; i++ {
				x.links = append(x.links, link{j, x.heads[i]})
				x.heads[i] = int32(len(x.links) - 1)
			}
		}
	}
}
