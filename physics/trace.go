package physics

import (
	"math"

	"lanesim/internal/portable"
	"lanesim/physics/ode"
)

// This file samples the contact's way over the ball and searches it for the
// pass of one turn ago.

// sample is one point of the trace.
type sample struct {
	trail
	spot
}

// trail is what a later pass needs to know of a point, kept together since it is
// searched often.
type trail struct {
	time, turned float64
	point, speed vector  // contact direction −Qᵀẑ in body axes and its rate
	left         float64 // film that the pass left, m
	trend        float64 // its slope, m/s
	bend         float64 // of the trace to the next sample
	bare         float64 // what the ball had turned when it last began to leave no film
}

// spot is the rest: the place on the lane, and what it gave when.
type spot struct {
	when  float64 // s, once more
	x, y  float64 // m
	rates ledger  // m³/s
}

// ledger is oil that lane, rings and cover gained; the track has what they lost.
type ledger struct{ lane, rings, soaked float64 }

// append adds a sample to the trace.
func (f *film) append(s *sample) {
	f.trace, f.spots = append(f.trace, s.trail), append(f.spots, s.spot)
	n := len(f.trace) - 1
	f.spots[n].when = s.time
	if n == 0 {
		f.trace[0].bare = math.Inf(1)
		return
	}
	now := &f.trace[n-1]
	switch last := &f.trace[n]; {
	case s.left > 0:
		last.bare = math.Inf(1)
	case now.left > 0:
		last.bare = s.turned
	default:
		last.bare = now.bare
	}
	if now.time == s.time && now.left != s.left {
		f.jumps = append(f.jumps, n-1)
	}
	now.bend = bend(now, &s.trail)
	if n > 1 {
		before := &f.trace[n-2]
		back, forth := differences(now.time-before.time, s.time-now.time)
		now.trend = back*(now.left-before.left) + forth*(s.left-now.left)
	}
}

// differences returns the weights of the differences behind and ahead, over the
// times g and h, in a slope of second order,
//
//	f′ = (g² (f₊ − f) + h² (f − f₋)) / (g h (g + h))
//
// one-sided where one of the times is 0, at jumps and ends.
func differences(g, h float64) (back, forth float64) {
	switch {
	case g > 0 && h > 0:
		per := 1 / (g * h * (g + h))
		return h * h * per, g * g * per
	case g > 0:
		return 1 / g, 0
	case h > 0:
		return 0, 1 / h
	}
	return 0, 0
}

// close ends the trace and adds up the books, which it writes down if asked, by the
// Euler–Maclaurin rule
//
//	∫ f dt = h/2 (f₀ + f₁) + h²/12 (f₀′ − f₁′) + O(h⁵)
//
// with slopes from the neighbours; for the first sample it is left at 0.
func (f *film) close(written bool) (sum ledger) {
	n := len(f.spots)
	if n > 1 {
		before, last := &f.trace[n-2], &f.trace[n-1]
		back, _ := differences(last.time-before.time, 0)
		last.trend = back * (last.left - before.left)
	}
	f.books = append(f.books[:0], ledger{})
	var slope ledger
	for k := 1; k < n; k++ {
		before, at, behind := &f.spots[k-1], &f.spots[k], &f.spots[min(k+1, n-1)]
		g := at.when - before.when
		back, forth := differences(g, behind.when-at.when)
		half, ends := g/2, g*g/12
		last, now, next := &before.rates, &at.rates, &behind.rates
		turn := ledger{
			back*(now.lane-last.lane) + forth*(next.lane-now.lane),
			back*(now.rings-last.rings) + forth*(next.rings-now.rings),
			back*(now.soaked-last.soaked) + forth*(next.soaked-now.soaked),
		}
		sum.lane += half*(last.lane+now.lane) + ends*(slope.lane-turn.lane)
		sum.rings += half*(last.rings+now.rings) + ends*(slope.rings-turn.rings)
		sum.soaked += half*(last.soaked+now.soaked) + ends*(slope.soaked-turn.soaked)
		slope = turn
		if written {
			f.books = append(f.books, sum)
		}
	}
	return sum
}

// meet fills in what a sample's contact finds on the ball and on the lane, and
// what it leaves, and returns the film in the gap: speed is that of the ball,
// sweep that of the contact over the ball's surface.
//
// Of the film that the last turn left, the overlapping part is met again, the
// rest stays behind as a ring, and what decayed has soaked in.
func (m *machine) meet(s *sample, met *pass, speed, sweep float64) (gap float64) {
	m.memory.find(met, s.time, s.turned, s.point, false)
	h := m.laneFilm(s.x, s.y)
	m.leave(s, h, met, speed, sweep)
	return h + met.own
}

// leave fills in what a sample's contact leaves of the film h on the lane and of
// what it met.
func (m *machine) leave(s *sample, h float64, met *pass, speed, sweep float64) {
	f := &m.memory
	if sweep < slowest*speed {
		sweep = slowest * speed
	}
	s.left = f.after(h, met.own, speed, sweep)
	area := f.ContactWidth * sweep
	s.rates = ledger{-area * (s.left - met.own), area * met.beside, area * met.soaked}
}

// contact describes where the ball touches the lane in a state, with the speeds
// of the ball and of the contact over the ball's surface.
func (m *machine) contact(t float64, y []float64) (s sample, speed, sweep float64) {
	var q matrix
	advance(&q, vector{y[itx], y[ity], y[itz]}, &m.start)
	omega := vector{y[iwx], y[iwy], y[iwz]}
	s = sample{trail{time: t, turned: y[iTurned], point: scale(-1, q[2])}, spot{x: y[ix], y: y[iy]}}
	s.speed = cross(s.point, q.transposed(omega))
	vx, vy := m.centre(y, &q)
	return s, math.Sqrt(vx*vx + vy*vy), m.radius * math.Sqrt(omega.x*omega.x+omega.y*omega.y)
}

// touch describes the contact in a state.
func (m *machine) touch(t float64, y []float64) sample {
	s, speed, sweep := m.contact(t, y)
	var met pass
	m.meet(&s, &met, speed, sweep)
	return s
}

// trace samples the contact's way over the ball along a step that ends in y:
// evenly, and more densely where the film changes fast, as it does where
// successive turns cross.
func (t *Thrower) trace(s *ode.Segment, y []float64) {
	n := t.samples(y[iTurned]-s.Component(iTurned, s.Start), portable.Hypot(y[ix]-s.Component(ix, s.Start), y[iy]-s.Component(iy, s.Start)))
	f := &t.m.memory
	last := s.Start
	for k := 1; k <= n; k++ {
		at, state := s.End, y
		if k < n {
			at, state = s.Start+(s.End-s.Start)*float64(k)/float64(n), t.scratch[:]
			s.Leading(at, state[:iWork])
		}
		next := t.m.touch(at, state)
		t.between(s, last, f.trace[len(f.trace)-1].left, next, deepest)
		f.append(&next)
		last = at
	}
}

// samples is the number of samples of a step that turns the ball by an angle in
// rad and moves it by a way in m.
func (t *Thrower) samples(turned, way float64) int {
	return max(1, int(math.Ceil(max(turned, way/sampleWay)/t.sampling-1e-9)))
}

// between adds samples between the last one and the next where the film differs
// by more than a share of itself.
func (t *Thrower) between(s *ode.Segment, last, left float64, next sample, depth int) {
	if depth == 0 || math.Abs(next.left-left) <= t.filmStep*max(next.left, left, filmFloor) {
		return
	}
	at := last + (next.time-last)/2
	s.Leading(at, t.scratch[:iWork])
	middle := t.m.touch(at, t.scratch[:])
	t.between(s, last, left, middle, depth-1)
	t.m.memory.append(&middle)
	t.between(s, at, middle.left, next, depth-1)
}

// nearest returns the sample behind which the trace comes nearest to c, when
// the ball has turned by the given angle. The trace of a turn is close to a
// circle, and the place of the last pass changes little within a step, so the
// way up from there leads to it.
func (f *film) nearest(turned float64, c vector) int {
	f.at = f.seek(f.at, turned-f.lag)
	last := len(f.trace) - 1
	j := f.at
	// A few samples at most lie between as a rule.
	if dot(c, f.trace[j].speed) > 0 {
		for range fewSamples {
			if j == last {
				break
			}
			if !(dot(c, f.trace[j+1].speed) > 0) {
				return f.within(j, turned, c)
			}
			j++
		}
	}
	return f.within(f.summit(0, last, j, c), turned, c)
}

// fewSamples is the number of samples that are looked at one by one.
const fewSamples = 3

// within returns a sample if it lies in the window of the last pass, else the best
// that does.
func (f *film) within(j int, turned float64, c vector) int {
	if t := f.trace[j].turned; t > turned-turnWindowNear || t < turned-turnWindowFar {
		return f.search(turned, c)
	}
	return j
}

// relocate looks through the whole window of the last sample for the place of
// the last pass over it.
func (f *film) relocate() {
	now := &f.trace[len(f.trace)-1]
	if now.turned-turnWindowNear < f.trace[0].turned {
		return
	}
	f.lag = now.turned - f.trace[f.search(now.turned, now.point)].turned
}

// search is nearest among all samples between half a turn and one and a half
// turns ago.
func (f *film) search(turned float64, c vector) int {
	last := f.seek(f.at, turned-turnWindowNear)
	best, far := -2.0, last
	for k := last; k >= 0 && f.trace[k].turned >= turned-turnWindowFar; k -= coarse {
		if d := dot(f.trace[k].point, c); d > best {
			best, far = d, k
		}
	}
	first := far
	for first > 0 && first > far-coarse && f.trace[first-1].turned >= turned-turnWindowFar {
		first--
	}
	return f.summit(first, min(far+coarse, last), far, c)
}

// bareMargin is how far, in rad, a bare stretch of the track must reach beyond the
// place that lies a lag behind, for the nearest place to lie in it.
const bareMargin = 0.4

// bareAround reports that the contact will find no film about the time when the ball
// has turned by an angle.
func (f *film) bareAround(turned float64) bool {
	// Before the window was full at the last step's end the lag is not known.
	if len(f.trace) == 0 || turned-mostTurn-turnWindowFar < f.trace[0].turned {
		return false
	}
	from, to := turned-f.lag-bareMargin, turned-f.lag+bareMargin
	f.at = f.seek(f.at, to)
	if f.at+1 >= len(f.trace) {
		return false
	}
	behind := &f.trace[f.at+1]
	return behind.left == 0 && behind.bare <= from
}

// thickest is the most film that a step which ends when the ball has turned by an
// angle may have met, or the next one meets.
func (f *film) thickest(turned float64) float64 {
	most := 0.0
	for k := len(f.trace) - 1; k >= 0 && f.trace[k].turned >= turned-turnWindowFar-2*mostTurnMemory; k-- {
		most = max(most, f.trace[k].left)
	}
	return most
}

// thickestAhead is the most film that the ball may meet as it turns on by an angle.
func (f *film) thickestAhead(turned, angle float64) float64 {
	most := 0.0
	from, to := turned-f.lag-lagMargin, turned-f.lag+angle+lagMargin
	for k := f.seek(f.at, from); k < len(f.trace) && f.trace[k].turned <= to; k++ {
		most = max(most, f.trace[k].left)
	}
	return most
}

// lagMargin is by how much, in rad, the place of the last pass may move away from
// its lag within a step or two.
const lagMargin = 1.0

// coarse is the stride of samples in a search of the whole window.
const coarse = 4

// summit returns the sample behind which c·p passes its maximum next to sample
// j: where its slope changes from up to down. It looks ahead or back in strides
// that double, then halves.
func (f *film) summit(first, last, j int, c vector) int {
	trace := f.trace[:last+1]
	up, down := j, j
	if dot(c, trace[j].speed) > 0 {
		for stride := 1; ; stride *= 2 {
			if up == last {
				return last
			}
			down = min(up+stride, last)
			if !(dot(c, trace[down].speed) > 0) {
				break
			}
			up = down
		}
	} else {
		for stride := 1; ; stride *= 2 {
			if down == first {
				return first
			}
			up = max(down-stride, first)
			if dot(c, trace[up].speed) > 0 {
				break
			}
			down = up
		}
	}
	for down-up > 1 {
		if k := (up + down) / 2; dot(c, trace[k].speed) > 0 {
			up = k
		} else {
			down = k
		}
	}
	return up
}

// seek returns the last sample at or before an angle of turning, or the first;
// near is where it was last found.
func (f *film) seek(near int, turned float64) int {
	trace := f.trace
	i := min(near, len(trace)-1)
	for i+1 < len(trace) && trace[i+1].turned <= turned {
		i++
	}
	for i > 0 && trace[i].turned > turned {
		i--
	}
	return i
}

// closest returns where between samples j and j+1, from 0 to 1, the trace comes
// nearest to c, and the square of the chord between them on the unit sphere: the
// maximum of c·p(u) on the cubic p that points and rates define. The cubic runs
// inside the sphere by bend·u²(1 − u)²/2.
func (f *film) closest(j int, c vector) (u, chord2 float64) {
	from, to := &f.trace[j], &f.trace[j+1]
	h := to.time - from.time
	f0, f1 := dot(c, from.point), dot(c, to.point)
	s0, s1 := h*dot(c, from.speed), h*dot(c, to.speed)
	// c·p(u) = f0 + s0 u + a u² + b u³, with the slope s0 ≥ 0 at 0 and ≤ 0 at 1
	// as a rule.
	a := 3*(f1-f0) - 2*s0 - s1
	b := s0 + s1 - 2*(f1-f0)
	switch root := a*a - 3*b*s0; {
	case s0 <= 0:
	case s1 >= 0:
		u = 1
	case root >= 0:
		// The root of s0 + 2a u + 3b u² at which the slope falls.
		u = s0 / (math.Sqrt(root) - a)
		if !(u > 0) {
			u = 0
		} else if u > 1 {
			u = 1
		}
	}
	dip := u * (1 - u)
	cosine := (f0 + u*(s0+u*(a+u*b))) * (1 + from.bend*dip*dip/2)
	if chord2 = 2 * (1 - cosine); chord2 < 0 {
		chord2 = 0
	}
	return u, chord2
}

// bend returns by how much a cubic between two samples runs inside the unit
// sphere: 1 − |p(u)|² is bend·u²(1 − u)², as for a circle, with the value at the
// middle.
func bend(from, to *trail) float64 {
	h := to.time - from.time
	middle := add(scale(0.5, add(from.point, to.point)), scale(h/8, add(from.speed, scale(-1, to.speed))))
	return 16 * (1 - dot(middle, middle))
}
