package film

import "math"

// index finds the pieces of the contact's way over the ball that may cover a point: the
// cube around the unit sphere is cut into boxes, each with a list of the pieces that come
// within a contact's width of it, the latest first.
type index struct {
	heads []int32 // by box: the first link, or none
	used  []int32 // boxes with a link
	last  []int32 // boxes of the last piece
	links []link
	boxes int     // along each edge of the cube
	scale float64 // boxes per unit length
	reach float64
}

const none = -1

type link struct{ place, next int32 }

// A box is somewhat wider than the contact's reach and as long as a piece: in wider ones a
// list holds many pieces that are out of reach, and of smaller ones a piece enters many.
const (
	boxesReach  = 1.2
	boxesPiece  = 2
	fewestBoxes = 4 // along an edge of the cube
	mostBoxes   = 96
)

// reset empties the index for pieces of about the given length and a width to reach over,
// both on the unit sphere.
func (x *index) reset(spacing, width float64) {
	x.empty()
	x.boxes = min(max(int(min(boxesReach/width, boxesPiece/spacing)), fewestBoxes), mostBoxes)
	x.scale, x.reach = float64(x.boxes)/2, width
	for n := x.boxes * x.boxes * x.boxes; len(x.heads) < n; {
		x.heads = append(x.heads, none)
	}
}

// empty takes all pieces out.
func (x *index) empty() {
	for _, i := range x.used {
		x.heads[i] = none
	}
	x.used, x.last, x.links = x.used[:0], x.last[:0], x.links[:0]
}

// box is the index of the box along one axis that holds a coordinate.
func (x *index) box(v float64) int {
	return min(max(int((v+1)*x.scale), 0), x.boxes-1)
}

// first is the first link of the box that holds a point.
func (x *index) first(p *Vector) int32 {
	return x.heads[(x.box(p.Z)*x.boxes+x.box(p.Y))*x.boxes+x.box(p.X)]
}

// add enters the piece of way from place j to the next into the boxes where it covers
// points: up to a contact's width to either side. On the way between them the contact strays from
// the chord by no more than a circle of half the sphere's size, angle²/4, and to the sides the sphere
// curves away by width²/2.
func (x *index) add(j int32, from, to *place) {
	x.last = x.last[:0]
	a, b := &from.point, &to.point
	d := Vector{b.X - a.X, b.Y - a.Y, b.Z - a.Z}
	stray := dot(d, d)/4 + x.reach*x.reach/2
	aside, next := cross(from.along, *a), cross(to.along, *b)
	x0, x1 := x.span(a.X, aside.X, b.X, next.X, stray)
	y0, y1 := x.span(a.Y, aside.Y, b.Y, next.Y, stray)
	z0, z1 := x.span(a.Z, aside.Z, b.Z, next.Z, stray)
	for z := z0; z <= z1; z++ {
		for y := y0; y <= y1; y++ {
			row := (z*x.boxes + y) * x.boxes
			for i := row + x0; i <= row+x1; i++ {
				if x.heads[i] == none {
					x.used = append(x.used, int32(i))
				}
				x.last = append(x.last, int32(i))
				x.links = append(x.links, link{j, x.heads[i]})
				x.heads[i] = int32(len(x.links) - 1)
			}
		}
	}
}

// span is the range of boxes along one axis for the coordinates of two places and of the
// directions to their sides.
func (x *index) span(a, aside, b, next, stray float64) (low, high int) {
	aside, next = x.reach*math.Abs(aside), x.reach*math.Abs(next)
	return x.box(min(a-aside, b-next) - stray), x.box(max(a+aside, b+next) + stray)
}

// removeLast takes the piece that was added last out again.
func (x *index) removeLast() {
	first := len(x.links) - len(x.last)
	for k, i := range x.last {
		x.heads[i] = x.links[first+k].next
	}
	x.links, x.last = x.links[:first], x.last[:0]
}
