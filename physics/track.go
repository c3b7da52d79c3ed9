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
		c, speed, sweep := m.contact(at.time, y)
		var met pass
		m.memory.find(&met, c.time, c.turned, c.point, true)
		m.leave(&c, m.laneFilm(c.x, c.y), &met, speed, sweep)
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

// budget says where the oil went, and writes the books if asked; lane is what it gained
// from a clean ball.
func (t *Thrower) budget(lane float64, written bool) OilBudget {
	f := &t.m.memory
	if !f.remembers() {
		return OilBudget{Lane: lane, Track: -lane}
	}
	b := f.close(written)
	return OilBudget{Lane: b.lane, Track: -(b.lane + b.rings + b.soaked), Rings: b.rings, Soaked: b.soaked}
}

// exchanges adds up the oil taken over pieces of the way of about the given
// length in m; with film memory they are no shorter than the trace's samples.
func (t *Thrower) exchanges(spacing float64) []Exchange {
	if spacing == 0 {
		spacing = defaultSpacing
	}
	var list []Exchange
	side := t.m.oilSide
	add := func(x0, y0, x1, y1, gained float64) {
		if gained != 0 {
			list = append(list, Exchange{Distance: (x0 + x1) / 2, Lateral: side * (y0 + y1) / 2, Length: x1 - x0, Volume: -gained})
		}
	}
	if t.m.memory.remembers() {
		f, from := &t.m.memory, 0
		for i := 1; i < len(f.spots); i++ {
			a, b := &f.spots[from], &f.spots[i]
			if math.Abs(b.x-a.x) >= spacing || i == len(f.spots)-1 {
				add(a.x, a.y, b.x, b.y, f.books[i].lane-f.books[from].lane)
				from = i
			}
		}
		return list
	}
	for i := range t.pieces {
		p := &t.pieces[i]
		length := math.Abs(p.Component(ix, p.End) - p.Component(ix, p.Start))
		n := max(1, int(math.Ceil(length/spacing)))
		x0, y0, o0 := p.Component(ix, p.Start), p.Component(iy, p.Start), p.Component(iLane, p.Start)
		for k := 1; k <= n; k++ {
			at := p.Start + (p.End-p.Start)*float64(k)/float64(n)
			x1, y1, o1 := p.Component(ix, at), p.Component(iy, at), p.Component(iLane, at)
			add(x0, y0, x1, y1, o1-o0)
			x0, y0, o0 = x1, y1, o1
		}
	}
	return list
}
