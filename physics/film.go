package physics

import (
	"math"

	"lanesim/ball"
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

	first, last int // samples last found within the window of a turn
}

// sampleAngle is the angle in rad between samples of the trace at the default
// tolerance. The cubic between them strays from a circle by angle⁴/384 of its
// radius across the track, a millionth of the contact's width; the spacing
// follows the fourth root of the tolerance.
const sampleAngle = 0.12

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

func (f *film) set(memory ball.FilmMemory, present bool) {
	f.FilmMemory, f.present = memory, present
	f.time, f.turned, f.left = f.time[:0], f.turned[:0], f.left[:0]
	f.point, f.speed = f.point[:0], f.speed[:0]
	f.first, f.last = 0, 0
}

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
	first, last := min(f.first, n-1), min(f.last, n-1)
	for last+1 < n && f.turned[last+1] <= high {
		last++
	}
	for last > 0 && f.turned[last] > high {
		last--
	}
	for first < last && f.turned[first] < low {
		first++
	}
	for first > 0 && f.turned[first-1] >= low {
		first--
	}
	f.first, f.last = first, last

	best, nearest := -2.0, first
	for j, p := range f.point[first : last+1] {
		if d := p[0]*c[0] + p[1]*c[1] + p[2]*c[2]; d > best {
			best, nearest = d, first+j
		}
	}
	// The interval that holds the nearest point, and the cubic in it.
	j := nearest
	if dot(c, f.speed[j]) < 0 {
		j--
		if j > 0 && f.time[j] == f.time[j+1] {
			j--
		}
	} else if j+1 < n && f.time[j] == f.time[j+1] {
		j++
	}
	var at vector
	var u float64
	if j < 0 || j+1 >= n {
		j = max(j, 0)
		at = f.point[j]
	} else {
		u, at = f.closest(j, c)
	}
	kept := 1.0
	when := f.time[j]
	if u > 0 {
		when += u * (f.time[j+1] - when)
	}
	if f.SoakIn > 0 && !math.IsInf(f.SoakIn, 1) {
		kept = math.Exp((when - t) / f.SoakIn)
	}
	found := pass{old: f.between(j, u), kept: kept}
	apart := add(c, scale(-1/norm(at), at))
	s := 2 * radius * math.Asin(min(1, norm(apart)/2)) / f.ContactWidth
	if s < 1 {
		o := 1 - s*s
		found.overlap = o * o * o
		found.own = found.overlap * found.old * kept
	}
	return found
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
	var p vector
	for i := range p {
		p[i] = h0*p0[i] + h1*p1[i] + g0*v0[i] + g1*v1[i]
	}
	return u, p
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
		met = f.found(m.radius, t, y[iTurned], vector{-q[2][0], -q[2][1], -q[2][2]})
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

// sample appends the contact at a state to the trace.
func (m *machine) sample(t float64, y []float64) {
	f := &m.memory
	var q matrix
	advance(&q, vector{y[itx], y[ity], y[itz]}, &m.start)
	omega := vector{y[iwx], y[iwy], y[iwz]}
	c := vector{-q[2][0], -q[2][1], -q[2][2]}
	vx, vy := m.centre(y, &q)
	h := m.laneFilm(y[ix], y[iy])
	met := f.found(m.radius, t, y[iTurned], c)
	speed := math.Hypot(vx, vy)
	sweep := max(m.radius*math.Hypot(omega[0], omega[1]), slowest*speed)
	f.time = append(f.time, t)
	f.turned = append(f.turned, y[iTurned])
	f.point = append(f.point, c)
	f.speed = append(f.speed, cross(c, q.transposed(omega)))
	f.left = append(f.left, f.after(h, met.own, speed, sweep))
}
