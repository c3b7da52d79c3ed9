package physics

import (
	"math"

	"lanesim/physics/ode"
)

// This file samples the contact's way over the ball and searches it for the
// pass of one turn ago.

// touch is one sample of the trace.
type touch struct {
	time, turned float64
	point, speed vector
	left         float64
	met          pass
}

func (f *film) append(s touch) {
	f.time = append(f.time, s.time)
	f.turned = append(f.turned, s.turned)
	f.point = append(f.point, s.point)
	f.speed = append(f.speed, s.speed)
	f.left = append(f.left, s.left)
}

// touch describes the contact in a state.
func (m *machine) touch(t float64, y []float64) touch {
	f := &m.memory
	var q matrix
	advance(&q, vector{y[itx], y[ity], y[itz]}, &m.start)
	omega := vector{y[iwx], y[iwy], y[iwz]}
	s := touch{time: t, turned: y[iTurned], point: scale(-1, q[2])}
	s.speed = cross(s.point, q.transposed(omega))
	vx, vy := m.centre(y, &q)
	speed := math.Sqrt(vx*vx + vy*vy)
	sweep := max(m.radius*math.Sqrt(omega.x*omega.x+omega.y*omega.y), slowest*speed)
	s.met = f.found(m.radius, t, s.turned, s.point)
	s.left = f.after(m.laneFilm(y[ix], y[iy]), s.met.own, speed, sweep)
	return s
}

// trace samples the contact's way over the ball along a step that ends in y:
// evenly, and more densely where the film changes fast, as it does where
// successive turns cross.
func (t *Thrower) trace(s *ode.Segment, y []float64) {
	turned := y[iTurned] - s.Component(iTurned, s.Start)
	way := math.Hypot(y[ix]-s.Component(ix, s.Start), y[iy]-s.Component(iy, s.Start))
	n := max(1, int(math.Ceil(max(turned, way/sampleWay)/t.sampling)))
	f := &t.m.memory
	last := s.Start
	for k := 1; k <= n; k++ {
		at, state := s.End, y
		if k < n {
			at, state = s.Start+(s.End-s.Start)*float64(k)/float64(n), t.scratch[:]
			s.At(at, state)
		}
		next := t.m.touch(at, state)
		t.between(s, last, f.left[len(f.left)-1], next, deepest)
		f.append(next)
		last = at
	}
}

// between adds samples between the last one and the next where the film differs
// by more than a share of itself.
func (t *Thrower) between(s *ode.Segment, last, left float64, next touch, depth int) {
	if depth == 0 || math.Abs(next.left-left) <= t.filmStep*max(next.left, left, filmFloor) {
		return
	}
	at := last + (next.time-last)/2
	s.At(at, t.scratch[:])
	middle := t.m.touch(at, t.scratch[:])
	t.between(s, last, left, middle, depth-1)
	t.m.memory.append(middle)
	t.between(s, at, middle.left, next, depth-1)
}

// nearest returns the sample behind which, within the window of turning from
// low to high, the trace comes nearest to c. The trace of a turn is close to a
// circle, so that the way up from the sample one turn ago leads there; if it
// ends apart from c, the whole window is looked at.
func (f *film) nearest(low, turn, high float64, c vector) int {
	f.first, f.middle, f.last = f.seek(f.first, low), f.seek(f.middle, turn), f.seek(f.last, high)
	first, last := f.first, f.last
	if first < last && f.turned[first] < low {
		first++
	}
	j := f.summit(first, last, max(first, min(f.middle, last)), c)
	if best := dot(f.point[j], c); best <= f.meets {
		far := j
		for k := first; k <= last; k += coarse {
			if d := dot(f.point[k], c); d > best {
				best, far = d, k
			}
		}
		if far != j {
			j = f.summit(first, last, far, c)
		}
	}
	return j
}

// coarse is the stride of samples in a search of the whole window.
const coarse = 4

// summit returns the sample behind which c·p passes its maximum next to sample
// j: where its slope changes from up to down. It looks ahead or back in strides
// that double, then halves.
func (f *film) summit(first, last, j int, c vector) int {
	rises := func(k int) bool { return dot(c, f.speed[k]) > 0 }
	up, down := j, j
	if rises(j) {
		for stride := 1; ; stride *= 2 {
			if up == last {
				return last
			}
			down = min(up+stride, last)
			if !rises(down) {
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
			if rises(up) {
				break
			}
			down = up
		}
	}
	for down-up > 1 {
		if k := (up + down) / 2; rises(k) {
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
	i := min(near, len(f.turned)-1)
	for i+1 < len(f.turned) && f.turned[i+1] <= turned {
		i++
	}
	for i > 0 && f.turned[i] > turned {
		i--
	}
	return i
}

// closest returns where between samples j and j+1, from 0 to 1, the trace comes
// nearest to c, and the point there: the maximum of c·p(u) on the cubic that
// points and rates define.
func (f *film) closest(j int, c vector) (float64, vector) {
	h := f.time[j+1] - f.time[j]
	p0, p1 := f.point[j], f.point[j+1]
	v0, v1 := scale(h, f.speed[j]), scale(h, f.speed[j+1])
	f0, f1 := dot(c, p0), dot(c, p1)
	s0, s1 := dot(c, v0), dot(c, v1)
	// c·p(u) = f0 + s0 u + a u² + b u³, with the slope s0 ≥ 0 at 0 and ≤ 0 at 1
	// as a rule.
	a := 3*(f1-f0) - 2*s0 - s1
	b := s0 + s1 - 2*(f1-f0)
	var u float64
	switch root := a*a - 3*b*s0; {
	case s0 <= 0:
	case s1 >= 0:
		u = 1
	case root >= 0:
		// The root of s0 + 2a u + 3b u² at which the slope falls.
		u = s0 / (math.Sqrt(root) - a)
		u = max(0, min(1, u))
	}
	a2, a3 := u*u, u*u*u
	h1 := 3*a2 - 2*a3
	h0 := 1 - h1
	g0 := u - 2*a2 + a3
	g1 := a3 - a2
	return u, add(add(scale(h0, p0), scale(h1, p1)), add(scale(g0, v0), scale(g1, v1)))
}
