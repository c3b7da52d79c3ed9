package physics

import (
	"math"
	"sort"

	"lanesim/internal/root"
	"lanesim/units"
)

// This file finds where the ball reads the friction. Oil that the ball carries makes the friction vary within
// each turn, so its mean over one turn counts,
//
//	M(θ) = 1/(θ₂ − θ₁) ∫ μ dθ from θ₁ to θ₂,   θ₁ = θ − π, θ₂ = θ + π,
//
// with θ = ∫|ω|dt the angle turned. The window is cut at release and at the end.

// readShare is the share of the difference between dry boards and a full film by which the mean friction must
// exceed that of a full film to count as read.
const readShare = 0.1

// span is a part of the shot in which the friction is interpolated by a parabola in the angle turned, through
// three values.
type span struct {
	from, to     float64    // rad turned
	middle       float64    // place of the second value, as a share of the span
	mu           [3]float64 // friction at the beginning, at middle and at the end
	most         float64    // bound of the friction from above
	sum          float64    // rad, ∫μ dθ from release to the beginning
	first, slope float64    // divided differences: μ = mu[0] + u (first + (u − middle) slope)
}

// integral returns ∫μ dθ in rad from release to a share u of the span.
func (s *span) integral(u float64) float64 {
	return s.sum + (s.to-s.from)*u*(s.mu[0]+u*(s.first/2+s.slope*(u/3-s.middle/2)))
}

const (
	// spanTurn is the longest span in rad of turning, spanDistance in m on the lane.
	spanTurn     = 2.5
	spanDistance = 2 * touchDistance

	// spanError is the difference between the parabola's integral and the trapezoidal rule above which a span
	// is halved, as a share of μ_dry − μ_film, in rad; deepestSpan bounds the number of halvings. Where
	// friction jumps the error may be four times as large, which changes the mean by 10⁻⁴ of μ_dry − μ_film,
	// and the place of the friction read by a thousandth of a foot.
	spanError   = 2e-4
	deepestSpan = 10
)

// frictions is the friction along the shot as a function of the angle turned.
type frictions struct {
	spans         []span
	next          int     // index of the next piece or touch to add
	mu            float64 // friction at the touch added last
	unit          float64 // μ_dry − μ_film
	behind, ahead int     // spans last used at the window's back and front
}

// frictionAt returns the angle turned in rad and the coefficient of friction at one instant.
func (t *Thrower) frictionAt(at instant) (turned, mu float64) {
	p := &t.pieces[at.piece]
	t.resume(p)
	return t.frictionIn(p, at.time)
}

// frictionIn is frictionAt for a piece whose conditions the machine already has.
func (t *Thrower) frictionIn(p *piece, time float64) (turned, mu float64) {
	m := &t.m
	if !m.remembers() {
		return p.Component(iTurned, time), m.law.coefficient(m.laneFilm(p.Component(ix, time), p.Component(iy, time)), m.stretch)
	}
	p.Leading(time, t.scratch[:iWork])
	m.touchIn(&m.touch, time, t.scratch[:])
	return m.touch.Turned, m.meet(&m.touch)
}

// frictionRead finds where the mean friction over a turn first exceeds that on a
// full film by readShare of the difference between dry boards and a full film.
func (t *Thrower) frictionRead(end instant) (instant, bool) {
	film, dry, ok := t.m.law.limits()
	if !ok || !(dry > film) {
		return instant{}, false
	}
	limit := film + readShare*(dry-film)
	total := t.component(end, iTurned)
	if total <= math.Pi {
		return t.exceeds(limit, end)
	}
	f := &t.frictions
	*f = frictions{spans: f.spans[:0], unit: dry - film}
	over := func(turned float64) float64 {
		from, to := max(turned-math.Pi, 0), min(turned+math.Pi, total)
		t.follow(to)
		return (f.upTo(to, &f.ahead)-f.upTo(from, &f.behind))/(to-from) - limit
	}
	// The mean can exceed the limit no earlier than half a turn before the friction itself does.
	at := 0.0
	t.follow(0)
	for front := t.frontOf(0); front.most <= limit; {
		i, to := f.ahead, front.to
		if front = t.frontOf(to); f.ahead == i {
			return instant{}, false
		}
		at = max(0, to-math.Pi)
	}
	last := over(at)
	if last > 0 {
		return instant{0, 0}, true
	}
	for at < total {
		// The mean M over a window of θ rises by no more than (μ − M)/θ with μ at its front, or,
		// once that is at the end, than (M − μ)/θ with μ at its back.
		rise, reach := (dry-film)/math.Pi, total-at
		if front := at + math.Pi; front < total {
			s := t.frontOf(front)
			rise, reach = (s.most-film)/(front-max(at-math.Pi, 0)), s.to-front
		}
		step := reach
		if -last < rise*reach {
			step = min(reach, max(-last/rise, leastLook))
		}
		next := min(at+max(step, leastStep), total)
		now := over(next)
		if now > 0 {
			if last < 0 {
				at = root.Find(over, at, next, last, now, 0)
			}
			return t.whenTurned(at), true
		}
		at, last = next, now
	}
	return instant{}, false
}

const (
	// leastLook is the least angle in rad between evaluations of the mean friction near its limit: between
	// them the mean exceeds its values at both ends by less than a fortieth of the limit.
	leastLook = 0.03

	// leastStep is an angle in rad that rounding does not make zero.
	leastStep = 1e-9
)

// frontOf returns the span that begins at or contains an angle turned, and makes it the front.
func (t *Thrower) frontOf(turned float64) *span {
	f := &t.frictions
	for f.spans[f.ahead].to <= turned {
		if f.ahead+1 == len(f.spans) {
			if t.follow(math.Nextafter(f.spans[f.ahead].to, math.Inf(1))); f.ahead+1 == len(f.spans) {
				break
			}
		}
		f.ahead++
	}
	return &f.spans[f.ahead]
}

// upTo returns ∫μ dθ in rad from release to an angle turned; near is the span used last and is updated.
func (f *frictions) upTo(turned float64, near *int) float64 {
	i := *near
	for i+1 < len(f.spans) && turned > f.spans[i].to {
		i++
	}
	for i > 0 && turned < f.spans[i].from {
		i--
	}
	*near = i
	s := &f.spans[i]
	return s.integral(min((turned-s.from)/(s.to-s.from), 1))
}

// follow extends the spans to an angle turned.
func (t *Thrower) follow(turned float64) {
	if t.m.remembers() {
		t.followTouches(turned)
		return
	}
	f := &t.frictions
	for f.next < len(t.pieces) && (len(f.spans) == 0 || f.spans[len(f.spans)-1].to < turned) {
		i := f.next
		f.next++
		p := &t.pieces[i]
		t.resume(p)
		end := min(p.End, t.finalTime)
		length := p.Component(ix, end) - p.Component(ix, p.Start)
		angle := p.Component(iTurned, end) - p.Component(iTurned, p.Start)
		n := max(1, int(math.Ceil(max(angle/spanTurn, math.Abs(length)/spanDistance))))
		at := p.Start
		turned, mu := t.frictionIn(p, at)
		for k := 1; k <= n; k++ {
			to := p.Start + (end-p.Start)*float64(k)/float64(n)
			turnedTo, muTo := t.frictionIn(p, to)
			t.divide(p, at, to, [2]float64{turned, turnedTo}, [2]float64{mu, muTo}, deepestSpan)
			at, turned, mu = to, turnedTo, muTo
		}
	}
}

// followTouches is follow for a ball with film on it. Its touches are as close as its friction requires, and
// the friction is linear between them.
func (t *Thrower) followTouches(turned float64) {
	f, touches := &t.frictions, t.m.film.Touches()
	friction := func(i int) float64 {
		gap := touches[i].Lane
		if touches[i].Met {
			gap += touches[i].Found
		}
		return t.m.law.coefficient(gap, t.m.stretch)
	}
	for f.next+1 < len(touches) && (len(f.spans) == 0 || f.spans[len(f.spans)-1].to < turned) {
		i := f.next
		f.next++
		s := span{from: touches[i].Turned, to: touches[i+1].Turned, middle: 0.5}
		if i == 0 {
			f.mu = friction(0)
		}
		s.mu[0], s.mu[2] = f.mu, friction(i+1)
		f.mu = s.mu[2]
		if !(s.from < s.to) {
			continue // the film on the lane jumps
		}
		s.mu[1] = (s.mu[0] + s.mu[2]) / 2
		s.first, s.most = s.mu[2]-s.mu[0], max(s.mu[0], s.mu[2])
		if n := len(f.spans); n > 0 {
			s.sum = f.spans[n-1].integral(1)
		}
		f.spans = append(f.spans, s)
	}
}

// divide appends the span of a piece from one time to another; it halves the span where a parabola does not
// fit.
func (t *Thrower) divide(p *piece, from, to float64, turned, mu [2]float64, depth int) {
	f := &t.frictions
	width := turned[1] - turned[0]
	middle := from + (to-from)/2
	if !(width > 0) || !(from < middle && middle < to) {
		return
	}
	turnedThere, there := t.frictionIn(p, middle)
	share := (turnedThere - turned[0]) / width
	if !(share > 0 && share < 1) {
		return
	}
	s := span{from: turned[0], to: turned[1], middle: share, mu: [3]float64{mu[0], there, mu[1]}}
	s.first = (there - mu[0]) / share
	s.slope = (mu[1]-there)/(1-share) - s.first
	s.most = max(mu[0], there, mu[1]) + math.Abs(s.slope)/16
	trapezoids := width / 2 * (share*(mu[0]+there) + (1-share)*(there+mu[1]))
	if depth > 0 && math.Abs(s.integral(1)-trapezoids) > spanError*f.unit {
		t.divide(p, from, middle, [2]float64{turned[0], turnedThere}, [2]float64{mu[0], there}, depth-1)
		t.divide(p, middle, to, [2]float64{turnedThere, turned[1]}, [2]float64{there, mu[1]}, depth-1)
		return
	}
	if n := len(f.spans); n > 0 {
		s.sum = f.spans[n-1].integral(1)
		s.from = f.spans[n-1].to // equal except for rounding
	}
	f.spans = append(f.spans, s)
}

// whenTurned finds the instant at which the ball has turned by an angle.
func (t *Thrower) whenTurned(turned float64) instant {
	i := sort.Search(len(t.pieces)-1, func(i int) bool { return t.pieces[i].Component(iTurned, t.pieces[i].End) >= turned })
	p := &t.pieces[i]
	end := min(p.End, t.finalTime)
	before, after := p.Component(iTurned, p.Start)-turned, p.Component(iTurned, end)-turned
	switch {
	case before >= 0:
		return instant{i, p.Start}
	case after <= 0:
		return instant{i, end}
	}
	return instant{i, root.Find(func(u float64) float64 { return p.Component(iTurned, u) - turned }, p.Start, end, before, after, 0)}
}

// exceeds finds where the friction itself first exceeds a limit, for a ball that turns by no more than half a
// turn in all, so that the mean is the same everywhere.
func (t *Thrower) exceeds(limit float64, end instant) (instant, bool) {
	for i := range t.pieces {
		p := &t.pieces[i]
		stop := min(p.End, t.finalTime)
		n := max(1, int(math.Ceil(math.Abs(p.Component(ix, stop)-p.Component(ix, p.Start))/spotDistance)))
		from := p.Start
		for k := 0; k <= n; k++ {
			to := p.Start + (stop-p.Start)*float64(k)/float64(n)
			if _, mu := t.frictionAt(instant{i, to}); mu > limit {
				// Friction may jump here: find the time by bisection.
				for middle := from + (to-from)/2; from < middle && middle < to; middle = from + (to-from)/2 {
					if _, mu := t.frictionAt(instant{i, middle}); mu > limit {
						to = middle
					} else {
						from = middle
					}
				}
				return instant{i, to}, true
			}
			from = to
		}
	}
	return end, false
}

// spotDistance is the distance in m between evaluations of the friction in exceeds.
const spotDistance = units.Foot / 4
