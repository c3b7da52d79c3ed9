package physics

import (
	"math"

	"lanesim/ball"
	"lanesim/physics/ode"
)

// film is the oil on the ball's surface: the contact's trace over the ball and
// what each pass left there. The ball paints its own track, and where flare
// moves the track by less than the contact's width per turn, it runs on the oil
// that it took up one turn before.
type film struct {
	ball.FilmMemory
	present bool // there is oil to exchange
	spacing float64

	// The trace, one entry a sample. Two samples at the same time mark a
	// jump of the film between them.
	time, turned []float64
	point, speed []vector // contact direction −Qᵀẑ in body axes and its rate
	left         []float64

	// Samples last found at the ends and the middle of the window of a turn.
	first, middle, last int

	meets   float64 // cosine of the angle that a contact's width spans
	reach   float64 // its chord on the unit sphere
	soaking float64 // 1/s
}

// sampleAngle is the angle in rad between samples of the trace at the default
// tolerance. The cubic between them strays from a circle by angle⁴/384 of its
// radius across the track, a millionth of the contact's width; the spacing
// follows the fourth root of the tolerance.
const sampleAngle = 0.15

// filmStep is the change of film between samples, as a share of it, above which
// more are taken at the default tolerance, and deepest how often an interval is
// halved for it.
const (
	filmStep = 0.1
	deepest  = 6

	// filmFloor is a film in m, a tenth of an ordinary roughness; of less
	// friction takes little notice.
	filmFloor = 5e-8
)

// sampleWay is the way over the lane, in m, that asks for as many samples as a
// radian of turning: a ball that hardly turns meets other oil long before it has
// turned by the angle.
const sampleWay = 0.2

// turnWindow is the stretch of earlier contact, in rad of turning before the
// present, in which the pass one revolution ago lies: half a turn to one and a
// half.
const (
	turnWindowNear = math.Pi
	turnWindowFar  = 3 * math.Pi
)

// slowest is the share of the ball's speed that stands in for a surface speed
// below it, where the film per turn would otherwise grow without bound.
const slowest = 0.2

func (f *film) set(memory ball.FilmMemory, radius float64, present bool) {
	f.FilmMemory, f.present = memory, present
	f.time, f.turned, f.left = f.time[:0], f.turned[:0], f.left[:0]
	f.point, f.speed = f.point[:0], f.speed[:0]
	f.first, f.middle, f.last = 0, 0, 0
	angle := min(memory.ContactWidth/radius, math.Pi)
	f.meets, f.reach = math.Cos(angle), 2*math.Sin(angle/2)
	f.soaking = 0
	if memory.SoakIn > 0 {
		f.soaking = 1 / memory.SoakIn
	}
}

// remembers reports whether the ball meets the film that it carries.
func (f *film) remembers() bool { return f.present && !f.Off }

// pass is what the contact finds on the ball's surface.
type pass struct {
	own float64 // film brought into the gap, m

	// The film that the pass one turn ago left at the nearest point of the
	// track, the share of it still there and the share that meets.
	old, kept, overlap float64
}

// found returns what lies on the ball at the contact point c, in body axes:
//
//	B = o(s) B⁺ exp(−Δt/τ),   o(s) = (1 − s²/w²)³ for s < w, else 0
//
// with s the distance on the sphere to the nearest point of the trace between
// half a turn and one and a half turns ago.
func (f *film) found(radius, t, turned float64, c vector) pass {
	low, high := turned-turnWindowFar, turned-turnWindowNear
	n := len(f.turned)
	if f.Off || n == 0 || high < f.turned[0] {
		return pass{}
	}
	j := f.nearest(low, turned-2*math.Pi, high, c)
	var u float64
	at := f.point[j]
	if j+1 < n {
		u, at = f.closest(j, c)
	}
	when := f.time[j]
	if u > 0 {
		when += u * (f.time[j+1] - when)
	}
	found := pass{old: f.between(j, u), kept: decay((t - when) * f.soaking)}
	apart := add(c, scale(-1/norm(at), at))
	if chord := norm(apart); chord < f.reach {
		s := radius * arc(chord) / f.ContactWidth
		o := 1 - s*s
		found.overlap = o * o * o
		found.own = found.overlap * found.old * found.kept
	}
	return found
}

// decay returns exp(−x) for x ≥ 0; for the small x of one turn by a series,
// whose first omitted term is below 2⁻⁵³.
func decay(x float64) float64 {
	if x > 0.008 {
		return math.Exp(-x)
	}
	return 1 - x*(1-x/2*(1-x/3*(1-x/4*(1-x/5*(1-x/6)))))
}

// arc returns the angle that a chord of the unit circle spans; for one not much
// longer than a contact's width by the series of 2 arcsin(c/2), whose first
// omitted term is below 2⁻⁵³ of it.
func arc(chord float64) float64 {
	if chord > 0.08 {
		return 2 * math.Asin(min(1, chord/2))
	}
	s := chord * chord
	return chord * (1 + s/24*(1+s*9/80*(1+s*25/168*(1+s*49/288*(1+s*81/440)))))
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

// between interpolates the film left between samples j and j+1: a cubic with
// slopes from the neighbours, one-sided at ends and jumps.
func (f *film) between(j int, u float64) float64 {
	a := f.left[j]
	if u == 0 {
		return a
	}
	b := f.left[j+1]
	h := f.time[j+1] - f.time[j]
	chord := b - a
	s0, s1 := chord, chord // slopes times h
	if j > 0 {
		if g := f.time[j] - f.time[j-1]; g > 0 {
			back := (a - f.left[j-1]) * h / g
			s0 = (back*h + chord*g) / (g + h)
		}
	}
	if j+2 < len(f.left) {
		if g := f.time[j+2] - f.time[j+1]; g > 0 {
			ahead := (f.left[j+2] - b) * h / g
			s1 = (ahead*h + chord*g) / (g + h)
		}
	}
	u2, u3 := u*u, u*u*u
	// The cubic may overshoot where the film falls to nothing.
	return max(0, a+chord*(3*u2-2*u3)+s0*(u-2*u2+u3)+s1*(u3-u2))
}

// after is the film that a pass leaves: B⁺ = B + Φ/(w S), Φ = w (p h |v| − q B S)
// with S the speed at which the contact sweeps the ball's surface; no more than
// was in the gap.
func (f *film) after(h, own, speed, sweep float64) float64 {
	if sweep <= 0 {
		return own
	}
	return min(own+f.PickUp*h*speed/sweep-f.GiveBack*own, h+own)
}

// exchange notes the film in the gap and fills in the rates of the oil budget.
// Of the film that the last turn left, the overlapping part is met again, the
// rest stays behind as a ring, and what decayed has soaked in.
func (m *machine) exchange(t float64, y []float64, q *matrix, vx, vy, surface float64, dydt []float64) {
	m.now.gap, m.now.own = 0, 0
	dydt[iLane], dydt[iTrack], dydt[iRings], dydt[iSoaked] = 0, 0, 0, 0
	f := &m.memory
	if !f.present {
		return
	}
	h := m.laneFilm(y[ix], y[iy])
	var met pass
	if !f.Off {
		met = f.found(m.radius, t, y[iTurned], scale(-1, q[2]))
	}
	m.now.gap, m.now.own = h+met.own, met.own
	speed := math.Sqrt(vx*vx + vy*vy)
	sweep := max(surface, slowest*speed)
	left := f.after(h, met.own, speed, sweep)
	area := f.ContactWidth * sweep
	dydt[iLane] = -area * (left - met.own)
	dydt[iTrack] = area * (left - met.old)
	dydt[iRings] = area * met.old * met.kept * (1 - met.overlap)
	dydt[iSoaked] = area * met.old * (1 - met.kept)
}

// touch is one sample of the trace.
type touch struct {
	time, turned float64
	point, speed vector
	left         float64
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
	met := f.found(m.radius, t, s.turned, s.point)
	s.left = f.after(m.laneFilm(y[ix], y[iy]), met.own, speed, sweep)
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
