package studies

import (
	"cmp"
	"math"
	"slices"
)

const (
	// aimAccuracy is how near to the middle of the pocket, in boards, the
	// search is content: 27 nm, far below what a shot is computed to.
	aimAccuracy = 1e-6

	// edgeWidth is the width in degrees to which the last angle is narrowed
	// at which the ball stays on the lane, and that of an extremum. A ball
	// that goes straight moves by a hundredth of a board over it.
	edgeWidth = 1e-3

	// narrowest is the width in degrees at which a change of sign is a jump
	// of the computed entry board and no root: a ball that goes straight moves
	// by 10⁻⁷ board over it, a tenth of aimAccuracy.
	narrowest = 1e-8
)

// trial is what became of one launch angle.
type trial struct {
	angle   float64 // degrees
	pins    bool    // whether the ball got there
	off     float64 // boards from the middle of the pocket, at the pins or where it left the lane
	reached float64 // m down-lane
}

// side is that of the pocket on which the ball arrived or left the lane; 0 if
// it did neither.
func (t trial) side() int { return cmp.Compare(t.off, 0) }

// alike reports whether two trials ended in the same way: at the pins on the
// same side of the pocket or in the same gutter.
func (t trial) alike(u trial) bool { return t.pins == u.pins && t.side() == u.side() }

// better reports whether t came nearer to the pocket than u or, both being off
// the lane, got farther.
func (t trial) better(u trial) bool {
	if t.pins != u.pins {
		return t.pins
	}
	if !t.pins {
		return t.reached > u.reached
	}
	return math.Abs(t.off) < math.Abs(u.off)
}

// crest reports whether something better still may hide beside the middle one
// of three trials that are alike.
func crest(p, q, r trial) bool {
	return p.alike(q) && q.alike(r) && q.side() != 0 && !p.better(q) && !r.better(q)
}

// dull reports whether a run of trials promises neither a root nor a way onto
// the lane.
func dull(list []trial) bool {
	for k := 1; k < len(list); k++ {
		if !list[k-1].alike(list[k]) || list[k].side() == 0 {
			return false
		}
		if k > 1 && crest(list[k-2], list[k-1], list[k]) {
			return false
		}
	}
	return true
}

// refine adds trials to a run of them until each change from one kind of end
// to another is narrowed down, so that the roots lie between neighbours.
func (a *aim) refine(list []trial) []trial {
	list = a.crests(list)
	var more []trial
	for k := 1; k < len(list); k++ {
		p, q := list[k-1], list[k]
		if p.pins || q.pins || p.side()*q.side() >= 0 {
			continue
		}
		// From one gutter to the other there is a lane between.
		for !p.pins && !q.pins && a.wide(p, q) {
			m := a.middle(p, q)
			more = append(more, m)
			if m.pins || m.side() == p.side() {
				p = m
			} else {
				q = m
			}
		}
	}
	list = merge(list, more)
	more = nil
	for k := 1; k < len(list); k++ {
		for p, q := list[k-1], list[k]; p.pins != q.pins && q.angle-p.angle > edgeWidth && a.err == nil; {
			m := a.middle(p, q)
			more = append(more, m)
			if m.pins == p.pins {
				p = m
			} else {
				q = m
			}
		}
	}
	return a.crests(merge(list, more))
}

// crests adds the best of what hides between the trials of a run.
func (a *aim) crests(list []trial) []trial {
	const golden = 0.6180339887498949 // (√5 − 1)/2
	var more []trial
	for k := 2; k < len(list); k++ {
		p, q, r := list[k-2], list[k-1], list[k]
		if !crest(p, q, r) {
			continue
		}
		left, right := p.angle, r.angle
		x1, x2 := a.try(right-golden*(right-left)), a.try(left+golden*(right-left))
		for {
			best := x1
			if x2.better(x1) {
				best = x2
			}
			if !best.alike(q) || right-left < edgeWidth || a.err != nil {
				more = append(more, x1, x2)
				break
			}
			if best == x1 {
				right, x2 = x2.angle, x1
				x1 = a.try(right - golden*(right-left))
			} else {
				left, x1 = x1.angle, x2
				x2 = a.try(left + golden*(right-left))
			}
		}
	}
	return merge(list, more)
}

// roots returns the roots between neighbours.
func (a *aim) roots(list []trial) []trial {
	var roots []trial
	for k, q := range list {
		switch {
		case q.pins && math.Abs(q.off) <= aimAccuracy:
			roots = append(roots, q)
		case k > 0 && list[k-1].pins && q.pins && list[k-1].side() == -q.side():
			roots = append(roots, a.narrow(list[k-1], q)...)
		}
	}
	return roots
}

// narrow returns a root between two trials at the pins on both sides of the
// pocket: by the secant, in the variant known as Illinois, and by halves where
// that is slow.
func (a *aim) narrow(p, q trial) []trial {
	best := p
	fp, fq := p.off, q.off
	halve := false
	for a.wide(p, q) {
		m := p.angle + (q.angle-p.angle)/2
		if s := (p.angle*fq - q.angle*fp) / (fq - fp); !halve && s > p.angle && s < q.angle {
			m = s
		}
		width := q.angle - p.angle
		t := a.throw(m, true)
		if t.better(best) {
			best = t
		}
		switch {
		case !t.pins:
			return a.roots(a.refine([]trial{p, t, q}))
		case math.Abs(t.off) <= aimAccuracy:
			return []trial{t}
		case t.side() == q.side():
			q, fq, fp = t, t.off, fp/2
		default:
			p, fp, fq = t, t.off, fq/2
		}
		halve = q.angle-p.angle > width/2
	}
	return []trial{best}
}

// wide reports whether it is worth looking between two trials.
func (a *aim) wide(p, q trial) bool { return a.err == nil && q.angle-p.angle > narrowest }

func (a *aim) middle(p, q trial) trial { return a.try(p.angle + (q.angle-p.angle)/2) }

// merge sorts trials into a run.
func merge(list, more []trial) []trial {
	list = slices.Concat(list, more)
	slices.SortStableFunc(list, func(p, q trial) int { return cmp.Compare(p.angle, q.angle) })
	return slices.CompactFunc(list, func(p, q trial) bool { return p.angle == q.angle })
}
