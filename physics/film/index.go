package film

import "math"

// index finds the pieces of the contact's path over the ball that may cover a point. The cube around the unit
// sphere is divided into boxes; each has a list of the pieces that come within a contact's width of it, the
// latest first.
type index struct {
	heads []int32 // by box: the latest run, or none
	used  []int32 // boxes with a run
	last  boxes   // of the last piece
	runs  []run
	boxes int     // number along each edge of the cube
	scale float64 // boxes per unit length
	reach float64 // width of the contact on the unit sphere
}

const none = -1

// run is a run of consecutive pieces; next is the index of the previous run in the same box.
type run struct{ first, last, next int32 }

// boxes are the boxes between two corners.
type boxes struct{ low, high [3]int }

// A box is somewhat wider than the contact's reach and about as long as a piece. In wider boxes a list has
// many pieces that are out of reach; with smaller boxes a piece enters many.
const (
	boxesReach  = 1.2
	boxesPiece  = 2
	fewestBoxes = 4 // along an edge of the cube
	mostBoxes   = 96
)

// reset empties the index for pieces of about the length spacing and a contact of the given width, both on
// the unit sphere.
func (x *index) reset(spacing, width float64) {
	x.empty()
	x.boxes = min(max(int(min(boxesReach/width, boxesPiece/spacing)), fewestBoxes), mostBoxes)
	x.scale, x.reach = float64(x.boxes)/2, width
	for n := x.boxes * x.boxes * x.boxes; len(x.heads) < n; {
		x.heads = append(x.heads, none)
	}
}

// empty removes all pieces.
func (x *index) empty() {
	for _, i := range x.used {
		x.heads[i] = none
	}
	x.used, x.runs = x.used[:0], x.runs[:0]
}

// box returns the index along one axis of the box that contains a coordinate.
func (x *index) box(v float64) int {
	return min(max(int((v+1)*x.scale), 0), x.boxes-1)
}

// latest returns the latest run of the box that contains a point.
func (x *index) latest(p *Vector) int32 {
	return x.heads[(x.box(p.Z)*x.boxes+x.box(p.Y))*x.boxes+x.box(p.X)]
}

// add enters the piece of the path from a, place j, to b, the next place, into the boxes where it covers
// points: up to a contact's width to either side of the directions fromAlong and toAlong in which the contact
// moves. The path deviates from the chord by no more than a circle of half the sphere's radius, angle²/4, and
// to the sides the sphere curves away by width²/2.
func (x *index) add(j int32, a, fromAlong, b, toAlong *Vector) {
	d := Vector{b.X - a.X, b.Y - a.Y, b.Z - a.Z}
	deviation := dot(d, d)/4 + x.reach*x.reach/2
	aside, next := cross(*fromAlong, *a), cross(*toAlong, *b)
	l := &x.last
	l.low[0], l.high[0] = x.span(a.X, aside.X, b.X, next.X, deviation)
	l.low[1], l.high[1] = x.span(a.Y, aside.Y, b.Y, next.Y, deviation)
	l.low[2], l.high[2] = x.span(a.Z, aside.Z, b.Z, next.Z, deviation)
	for z := l.low[2]; z <= l.high[2]; z++ {
		for y := l.low[1]; y <= l.high[1]; y++ {
			row := (z*x.boxes + y) * x.boxes
			for i := row + l.low[0]; i <= row+l.high[0]; i++ {
				latest := x.heads[i]
				if latest == none {
					x.used = append(x.used, int32(i))
				} else if x.runs[latest].last == j-1 {
					x.runs[latest].last = j
					continue
				}
				x.runs = append(x.runs, run{j, j, latest})
				x.heads[i] = int32(len(x.runs) - 1)
			}
		}
	}
}

// span returns the range of boxes along one axis, from the coordinates of two places and of the directions to
// their sides.
func (x *index) span(a, aside, b, next, deviation float64) (low, high int) {
	if a > b {
		a, aside, b, next = b, next, a, aside
	}
	reach := x.reach * math.Abs(aside)
	if other := x.reach * math.Abs(next); other > reach {
		reach = other
	}
	return x.box(a - reach - deviation), x.box(b + reach + deviation)
}

// removeLast removes the piece that was added last.
func (x *index) removeLast() {
	l := &x.last
	for z := l.high[2]; z >= l.low[2]; z-- {
		for y := l.high[1]; y >= l.low[1]; y-- {
			row := (z*x.boxes + y) * x.boxes
			for i := row + l.high[0]; i >= row+l.low[0]; i-- {
				if r := &x.runs[x.heads[i]]; r.last > r.first {
					r.last--
				} else {
					x.heads[i] = r.next
					x.runs = x.runs[:len(x.runs)-1]
				}
			}
		}
	}
}
