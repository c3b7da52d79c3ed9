package physics

import (
	"math"

	"lanesim/ball"
)

// track describes the contact's way over the ball at even angles of turning.
func (t *Thrower) track(spacing float64, end instant, hand ball.Hand) []TrackPoint {
	var list []TrackPoint
	m, y := &t.m, t.scratch[:]
	add := func(at instant) {
		p := &t.pieces[at.piece]
		t.enter(p)
		p.At(at.time, y)
		c, met := m.touch(at.time, y)
		point := TrackPoint{
			Time: at.time, Distance: y[ix], Turned: c.turned, Point: [3]float64{c.point.x, c.point.y, c.point.z},
			Found: met.own, Left: c.left, Spacing: m.radius * math.Sqrt(arc2(met.chord2)),
		}
		if hand == ball.Left {
			point.Point[1] = -point.Point[1]
		}
		list = append(list, point)
	}
	add(instant{0, 0})
	next := spacing
	for i := range t.pieces {
		p := &t.pieces[i]
		from, to := p.Component(iTurned, p.Start), p.Component(iTurned, p.End)
		for ; next <= to && to > from; next += spacing {
			// The spin hardly changes within a step.
			add(instant{i, p.Start + (p.End-p.Start)*(next-from)/(to-from)})
		}
	}
	add(end)
	return list
}

// exchanges adds up the oil taken over short pieces of the way.
func (t *Thrower) exchanges(spacing float64) []Exchange {
	if spacing == 0 {
		spacing = defaultSpacing
	}
	var list []Exchange
	side := t.m.oilSide
	for i := range t.pieces {
		p := &t.pieces[i]
		length := math.Abs(p.Component(ix, p.End) - p.Component(ix, p.Start))
		n := max(1, int(math.Ceil(length/spacing)))
		x0, o0 := p.Component(ix, p.Start), p.Component(iLane, p.Start)
		for k := 1; k <= n; k++ {
			at := p.Start + (p.End-p.Start)*float64(k)/float64(n)
			middle := p.Start + (p.End-p.Start)*(float64(k)-0.5)/float64(n)
			x1, o1 := p.Component(ix, at), p.Component(iLane, at)
			if o1 != o0 {
				list = append(list, Exchange{
					Distance: (x0 + x1) / 2,
					Lateral:  side * p.Component(iy, middle),
					Length:   x1 - x0,
					Volume:   o0 - o1,
				})
			}
			x0, o0 = x1, o1
		}
	}
	return list
}
