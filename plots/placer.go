package plots

import (
	"math"
	"slices"
	"sort"
)

// box is a rectangle on a drawing; top is the smaller number.
type box struct{ left, top, right, bottom float64 }

func (b box) corners() []point {
	return []point{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}
}

func (b box) width() float64  { return b.right - b.left }
func (b box) height() float64 { return b.bottom - b.top }
func (b box) centre() point   { return point{(b.left + b.right) / 2, (b.top + b.bottom) / 2} }

// bounds is the smallest box around points.
func bounds(points []point) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		b = box{min(b.left, p.x), min(b.top, p.y), max(b.right, p.x), max(b.bottom, p.y)}
	}
	return b
}

// around is the box that reaches as far as rim from a point.
func around(p point, rim float64) box { return box{p.x, p.y, p.x, p.y}.grown(rim) }

// grown returns the box with a rim of the given width around it.
func (b box) grown(rim float64) box {
	return box{b.left - rim, b.top - rim, b.right + rim, b.bottom + rim}
}

// overlaps reports whether the boxes share an area.
func (b box) overlaps(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

// within reports whether b lies inside o.
func (b box) within(o box) bool {
	return b.left >= o.left && b.right <= o.right && b.top >= o.top && b.bottom <= o.bottom
}

// nearest returns the point of the box that is nearest to p.
func (b box) nearest(p point) point {
	return point{min(max(p.x, b.left), b.right), min(max(p.y, b.top), b.bottom)}
}

// leaderEnd returns the end of a leader line from p to a label in the box: at its side
// unless p is above or below.
func (b box) leaderEnd(p point) point {
	end := b.nearest(p)
	if end.x != p.x {
		middle := b.centre().y
		end.y = min(max(p.y, middle-b.height()/5), middle+b.height()/5)
	}
	return end
}

func (b box) holds(p point) bool {
	return p.x >= b.left && p.x <= b.right && p.y >= b.top && p.y <= b.bottom
}

// crosses reports whether the segment from p to q meets the box (Liang and
// Barsky's clipping).
func (b box) crosses(p, q point) bool {
	from, to := 0.0, 1.0
	clip := func(direction, room float64) bool {
		switch {
		case direction == 0:
			return room >= 0
		case direction < 0:
			from = max(from, room/direction)
		default:
			to = min(to, room/direction)
		}
		return from <= to
	}
	dx, dy := q.x-p.x, q.y-p.y
	return clip(-dx, p.x-b.left) && clip(dx, b.right-p.x) &&
		clip(-dy, p.y-b.top) && clip(dy, b.bottom-p.y)
}

// meets reports whether a path meets the box.
func (b box) meets(path []point) bool {
	for i := 1; i < len(path); i++ {
		if b.crosses(path[i-1], path[i]) {
			return true
		}
	}
	return false
}

func distance(p, q point) float64 { return math.Hypot(p.x-q.x, p.y-q.y) }

// placer places labels one after the other. A label never overlaps a taken box or leaves
// the frame, and crosses a path only if it would otherwise be far away.
type placer struct {
	frame box
	taken []box     // labels and marks
	paths [][]point // lines better not covered
	clear bool      // any other place is better than one over a path
}

// Costs of a place, in points of distance from what the label names.
const (
	crossingCost = 90  // for each path that the label covers
	leaderCost   = 35  // for each path that the leader line crosses
	throughCost  = 160 // for each other label or mark that it crosses
	farthest     = 170 // beyond this it is unclear what a label belongs to
)

// clearance is kept free around a label, in points.
const clearance = 3

// place chooses the best place for a label of the given size that names one of the anchors,
// and marks it as taken. It returns the label's box and the anchor, or false if there is no
// room.
func (p *placer) place(width, height float64, anchors []point) (box, point, bool) {
	type option struct {
		box    box
		anchor point
		cost   float64
	}
	var options []option
	for _, a := range anchors {
		for _, b := range p.candidates(width, height, a) {
			options = append(options, option{b, a, distance(b.nearest(a), a)})
		}
	}
	// Costs of paths only add to that of the distance, so the search goes from near places
	// outward and stops when no farther one can be better.
	sort.SliceStable(options, func(i, j int) bool { return options[i].cost < options[j].cost })
	best := option{cost: math.Inf(1)}
	for _, o := range options {
		if o.cost >= best.cost || o.cost > farthest {
			break
		}
		if !p.free(o.box) {
			continue
		}
		o.cost += p.pathCost(o.box, o.anchor)
		if o.cost < best.cost {
			best = o
		}
	}
	if math.IsInf(best.cost, 1) {
		return box{}, point{}, false
	}
	p.take(best.box)
	return best.box, best.anchor, true
}

// take keeps a box free of labels.
func (p *placer) take(b box) { p.taken = append(p.taken, b) }

// free reports whether a label may stand at b.
func (p *placer) free(b box) bool {
	return b.within(p.frame) && !slices.ContainsFunc(p.taken, b.grown(clearance).overlaps)
}

func (p *placer) pathCost(b box, anchor point) float64 {
	cost, crossing, leader, around := 0.0, float64(crossingCost), float64(leaderCost), float64(clearance)
	if p.clear {
		crossing, leader, around = 10*farthest, 2*leaderCost, 0.01
	}
	rim := b.grown(clearance)
	end := b.leaderEnd(anchor)
	for _, t := range p.taken {
		if !t.grown(around).holds(anchor) && t.crosses(anchor, end) {
			cost += throughCost
		}
	}
	for _, path := range p.paths {
		if rim.meets(path) {
			cost += crossing
		}
		for i := 1; i < len(path); i++ {
			if near(path[i-1], path[i], anchor) {
				continue // the path that the anchor lies on
			}
			if intersect(path[i-1], path[i], anchor, end) {
				cost += leader
				break
			}
		}
	}
	return cost
}

// covers reports whether a label at b lies over a path.
func (p *placer) covers(b box) bool {
	return slices.ContainsFunc(p.paths, b.meets)
}

// near reports whether the anchor lies on the segment, within a line's width.
func near(p, q, anchor point) bool {
	const lineWidth = 3 // points
	return around(anchor, lineWidth).crosses(p, q)
}

// intersect reports whether the segments ab and cd cross.
func intersect(a, b, c, d point) bool {
	side := func(p, q, r point) float64 { return (q.x-p.x)*(r.y-p.y) - (q.y-p.y)*(r.x-p.x) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// candidates lists places for a label around an anchor: on rings about it,
// each with the label centred and shifted to either side.
func (p *placer) candidates(width, height float64, a point) []box {
	const rings, first, step = 18, 5, 9 // distances in points
	var all []box
	at := func(left, top float64) {
		all = append(all, box{left, top, left + width, top + height})
	}
	for r := range rings {
		gap := float64(first + step*r)
		for _, shift := range [...]float64{0.5, 0.25, 0.75, 0, 1} {
			left := a.x - shift*width
			at(left, a.y-gap-height)
			at(left, a.y+gap)
		}
		for _, down := range [...]float64{0.5, 0, 1} {
			top := a.y - down*height
			at(a.x+gap, top)
			at(a.x-gap-width, top)
		}
		// Corners of the ring.
		at(a.x+gap, a.y-gap-height)
		at(a.x-gap-width, a.y-gap-height)
		at(a.x+gap, a.y+gap)
		at(a.x-gap-width, a.y+gap)
	}
	return all
}

// spreadLabels returns tops for labels of the given heights, one below the other in the
// order of their targets, kept between top and bottom, with their centres as near to the
// targets as possible: a least squares fit by pooling touching neighbours. It returns false
// if they do not fit.
func spreadLabels(targets, heights []float64, top, bottom float64) ([]float64, bool) {
	n := len(targets)
	order := make([]int, n)
	total := 0.0
	for i := range order {
		order[i] = i
		total += heights[i]
	}
	if total > bottom-top {
		return nil, false
	}
	sort.SliceStable(order, func(a, b int) bool { return targets[order[a]] < targets[order[b]] })

	// A block is a run of labels that touch; its best top is the mean of those best for each
	// label.
	type block struct {
		members      []int
		wish, height float64 // sum of the wishes for the block's top; height
		topPlace     float64
	}
	settle := func(b *block) {
		b.topPlace = min(max(b.wish/float64(len(b.members)), top), bottom-b.height)
	}
	var blocks []block
	for _, i := range order {
		b := block{members: []int{i}, wish: targets[i] - heights[i]/2, height: heights[i]}
		settle(&b)
		for len(blocks) > 0 {
			a := blocks[len(blocks)-1]
			if a.topPlace+a.height <= b.topPlace {
				break
			}
			// Each of b's labels stands a.height lower in the joint
			// block.
			b.wish += a.wish - a.height*float64(len(b.members))
			b.members = append(a.members, b.members...)
			b.height += a.height
			blocks = blocks[:len(blocks)-1]
			settle(&b)
		}
		blocks = append(blocks, b)
	}
	tops := make([]float64, n)
	for _, b := range blocks {
		at := b.topPlace
		for _, i := range b.members {
			tops[i] = at
			at += heights[i]
		}
	}
	return tops, true
}
