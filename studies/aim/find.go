package aim

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lanesim/physics"
	"lanesim/studies"
)

const (
	// scanSteps divides the angles into steps of a tenth of a degree, 1.2 boards at the pins for a ball that
	// goes straight.
	scanSteps = 120

	// edgeWidth is the width in degrees to which the last angle at which the ball stays on the lane is
	// located, and an extremum. A ball that goes straight moves by a hundredth of a board over it.
	edgeWidth = 1e-3

	// narrowest is the width in degrees at which a change of sign counts as a jump of the computed entry
	// board: a ball that goes straight moves by 10⁻⁵ board over it, far less than the accuracy of a shot.
	narrowest = 1e-6

	// The search for a root stops after mostIdle trials without improvement, if the best is within jumpSize
	// boards: with film on the ball the entry board jumps by about as much.
	mostIdle = 2
	jumpSize = 1e-3
)

// find returns the roots in ascending order, and all trials.
func (c *curve) find(ctx context.Context) (roots, all []trial, err error) {
	all, err = studies.Gather(ctx, c.Workers, scanSteps+1, c.Progress, func(thrower *physics.Thrower, i int) (trial, error) {
		return c.try(thrower, widestAngle*(2*float64(i)/scanSteps-1))
	})
	// First angles between gutters, then the edges of the lane, then turning points, also between an edge and
	// its neighbour.
	for _, add := range []func(*search, []trial) []trial{(*search).betweenGutters, (*search).findEdge, (*search).findTurningPoint} {
		if err != nil {
			return nil, all, err
		}
		all, err = c.everywhere(ctx, all, add)
	}
	if err != nil {
		return nil, all, err
	}
	found, err := studies.Gather(ctx, c.Workers, len(all), nil, func(thrower *physics.Thrower, i int) (found []trial, err error) {
		s := search{curve: c, thrower: thrower}
		switch t := all[i]; {
		case t.pins && t.off == 0:
			found = []trial{t}
		case i > 0 && all[i-1].pins && t.pins && all[i-1].side() == -t.side():
			found = s.roots(all[i-1], t)
		}
		return found, s.err
	})
	roots = slices.Concat(found...)
	if err == nil && len(roots) == 0 {
		s := search{curve: c, thrower: physics.NewThrower()}
		all, err = merge(all, s.nearest(all)...), s.err
	}
	return roots, all, err
}

// nearest searches between the neighbours of the best trial at the pins for one nearer to the pocket.
func (s *search) nearest(list []trial) []trial {
	best := 0
	for k, t := range list {
		if t.better(list[best]) {
			best = k
		}
	}
	if best == 0 || best == len(list)-1 || !list[best].pins || !mayTurn(list[best-1], list[best], list[best+1]) {
		return nil
	}
	return s.bestTrial(list[best-1], list[best], list[best+1])
}

// everywhere calls add for each trial of a sorted list with up to two that follow it, and adds the trials
// that it returns.
func (c *curve) everywhere(ctx context.Context, list []trial, add func(*search, []trial) []trial) ([]trial, error) {
	more, err := studies.Gather(ctx, c.Workers, max(len(list)-1, 0), nil, func(thrower *physics.Thrower, i int) ([]trial, error) {
		s := search{curve: c, thrower: thrower}
		tried := add(&s, list[i:min(i+3, len(list))])
		return tried, s.err
	})
	return merge(list, slices.Concat(more...)...), err
}

// merge inserts trials into a list sorted by angle.
func merge(list []trial, more ...trial) []trial {
	list = slices.Concat(list, more)
	slices.SortStableFunc(list, func(p, q trial) int { return cmp.Compare(p.angle, q.angle) })
	return slices.CompactFunc(list, func(p, q trial) bool { return p.angle == q.angle })
}

// search searches angles of a curve with one thrower.
type search struct {
	*curve
	thrower *physics.Thrower
	err     error // of the first shot that failed
}

func (s *search) throwAt(degrees float64) (t trial) {
	if s.err == nil {
		t, s.err = s.try(s.thrower, degrees)
	}
	return t
}

func (s *search) middle(p, q trial) trial { return s.throwAt(p.angle + (q.angle-p.angle)/2) }

// worthThrowing reports whether an angle between two trials is still worth a throw.
func (s *search) worthThrowing(p, q trial) bool { return s.err == nil && q.angle-p.angle > narrowest }

// betweenGutters searches an angle at which the ball stays on the lane, between two that end in opposite
// gutters, and returns the trials.
func (s *search) betweenGutters(list []trial) (tried []trial) {
	p, q := list[0], list[1]
	if p.pins || q.pins || p.side()*q.side() >= 0 {
		return nil
	}
	for !p.pins && !q.pins && s.worthThrowing(p, q) {
		m := s.middle(p, q)
		tried = append(tried, m)
		if m.pins || m.side() == p.side() {
			p = m
		} else {
			q = m
		}
	}
	return tried
}

// findEdge locates the angle between a ball that stays on the lane and one that does not. Between two balls in
// the same gutter it searches the angle at which the ball goes farthest, and the edges on both sides of it.
func (s *search) findEdge(list []trial) []trial {
	_, _, tried := s.locateEdge(list[0], list[1])
	if len(list) < 3 {
		return tried
	}
	if p, q, r := list[0], list[1], list[2]; !q.pins && mayTurn(p, q, r) {
		for _, t := range s.bestTrial(p, q, r) {
			tried = append(tried, t)
			if t.pins {
				_, _, before := s.locateEdge(p, t)
				_, _, after := s.locateEdge(t, r)
				tried = slices.Concat(tried, before, after)
			}
		}
	}
	return tried
}

// locateEdge locates the edge of the lane between two trials, and returns the trials on both sides of it and all
// others.
func (s *search) locateEdge(p, q trial) (before, after trial, tried []trial) {
	for p.pins != q.pins && q.angle-p.angle > edgeWidth && s.err == nil {
		m := s.middle(p, q)
		tried = append(tried, m)
		if m.pins == p.pins {
			p = m
		} else {
			q = m
		}
	}
	return p, q, tried
}

// findTurningPoint searches the turning point of the entry board among three trials at the pins, if it may
// reach the pocket.
func (s *search) findTurningPoint(list []trial) []trial {
	if len(list) < 3 || !list[1].pins || !mayTurn(list[0], list[1], list[2]) {
		return nil
	}
	p, q, r := list[0], list[1], list[2]
	// If they are evenly spaced, the extremum of the parabola through the three is at most this much nearer;
	// allow for a curve that is no parabola.
	const doubt, least = 4, 0.1
	a, b, c := math.Abs(p.off), math.Abs(q.off), math.Abs(r.off)
	even := math.Abs((r.angle-q.angle)-(q.angle-p.angle)) < edgeWidth
	if gain := (a - c) * (a - c) / (8 * (a - 2*b + c)); b > doubt*gain+least && even {
		return nil
	}
	return s.bestTrial(p, q, r)
}

// mayTurn reports whether there may be a better trial beside the middle one of three that are alike.
func mayTurn(p, q, r trial) bool {
	return p.alike(q) && q.alike(r) && q.side() != 0 && !p.better(q) && !r.better(q)
}

// bestTrial searches the best trial near the middle one of three by golden section, until one ends in another way.
func (s *search) bestTrial(p, q, r trial) []trial {
	const golden = 0.6180339887498949 // (√5 − 1)/2
	left, right := p.angle, r.angle
	x1, x2 := s.throwAt(right-golden*(right-left)), s.throwAt(left+golden*(right-left))
	for {
		best := x1
		if x2.better(x1) {
			best = x2
		}
		if !best.alike(q) || right-left < edgeWidth || s.err != nil {
			return []trial{x1, x2}
		}
		if best == x1 {
			right, x2 = x2.angle, x1
			x1 = s.throwAt(right - golden*(right-left))
		} else {
			left, x1 = x1.angle, x2
			x2 = s.throwAt(left + golden*(right-left))
		}
	}
}

// roots locates a root between two trials at the pins on opposite sides of the pocket: by secants, and by
// bisection where they are slow. If the ball leaves the lane between them, there may be none or two.
func (s *search) roots(p, q trial) []trial {
	best, last, slow, idle := p, q, 0, 0
	if q.better(p) {
		best, last = q, p
	}
	before := best
	for s.worthThrowing(p, q) && idle < mostIdle {
		at := before.angle - before.off*(before.angle-last.angle)/(before.off-last.off)
		if slow > 1 || !(at > p.angle && at < q.angle) {
			at, slow = p.angle+(q.angle-p.angle)/2, 0
		}
		t := s.throwAt(at)
		switch {
		case !t.pins:
			return s.rootsBeside(p, t, q)
		case math.Abs(t.off) <= s.Within:
			return []trial{t}
		case t.side() == q.side():
			q = t
		default:
			p = t
		}
		if math.Abs(t.off) > math.Abs(before.off)/2 {
			slow++
		}
		last, before = before, t
		switch {
		case t.better(best):
			best, idle = t, 0
		case math.Abs(best.off) <= jumpSize:
			idle++
		}
	}
	return []trial{best}
}

// rootsBeside searches roots between two trials at the pins if the ball leaves the lane at an angle between them.
func (s *search) rootsBeside(p, gutter, q trial) (list []trial) {
	before, _, _ := s.locateEdge(p, gutter)
	_, after, _ := s.locateEdge(gutter, q)
	for _, pair := range [][2]trial{{p, before}, {after, q}} {
		if pair[0].side() == -pair[1].side() {
			list = append(list, s.roots(pair[0], pair[1])...)
		}
	}
	return list
}
