package physics

import (
	"math"

	"lanesim/ball"
	"lanesim/internal/portable"
	"lanesim/physics/film"
)

// track describes the contact's path over the ball at equal angles of turning.
func (t *Thrower) track(spacing float64, end instant, hand ball.Hand) []TrackPoint {
	var list []TrackPoint
	m, y := &t.m, t.scratch[:]
	add := func(at instant) {
		p := &t.pieces[at.piece]
		t.resume(p)
		p.At(at.time, y)
		m.touchIn(&m.touch, at.time, y)
		c := &m.touch
		c.Lane = m.laneFilm(c.X, c.Y)
		m.film.Meet(c)
		point := TrackPoint{
			Time: at.time, Distance: y[ix], Turned: c.Turned, Point: [3]float64{c.Point.X, c.Point.Y, c.Point.Z},
			Found: c.Found, Left: c.Left, Spacing: m.film.Spacing(c),
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

// metTouches returns the touches of the shot, all with the film that they found and took.
func (t *Thrower) metTouches() []film.Touch {
	t.m.film.MeetAll()
	return t.m.film.Touches()
}

// budget returns where the oil went; lane is the volume in m³ that the lane gained from a ball without film
// memory. The ball carries all oil that it takes, except what soaks in: with the rate of taking G, the oil B
// on the ball and the oil S soaked in,
//
//	dB/dt = G − B/τ,   dS/dt = B/τ
func (t *Thrower) budget(lane float64) OilBudget {
	if !t.m.remembers() {
		return OilBudget{Lane: lane, Ball: -lane}
	}
	touches := t.metTouches()
	taken, ball := 0.0, 0.0
	for i := 1; i < len(touches); i++ {
		a, b := &touches[i-1], &touches[i]
		time := b.Time - a.Time
		more := time * (a.Taken + b.Taken) / 2
		taken += more
		if tau := t.m.memory.SoakIn; tau > 0 {
			lasting := portable.Exp(-time / tau / 2)
			ball = (ball*lasting + more) * lasting
		} else {
			ball += more
		}
	}
	return OilBudget{Lane: -taken, Ball: ball, Soaked: taken - ball}
}

// exchanges adds up the oil taken over parts of the path of about the given length in m. With film memory a
// part is at least as long as the distance between touches.
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
	if t.m.remembers() {
		touches, from, taken := t.metTouches(), 0, 0.0
		for i := 1; i < len(touches); i++ {
			last, a, b := &touches[i-1], &touches[from], &touches[i]
			taken += (b.Time - last.Time) * (last.Taken + b.Taken) / 2
			if math.Abs(b.X-a.X) >= spacing || i == len(touches)-1 {
				add(a.X, a.Y, b.X, b.Y, -taken)
				from, taken = i, 0
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
