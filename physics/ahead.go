package physics

import (
	"math"
	"sort"

	"lanesim/internal/portable"
	"lanesim/physics/film"
	"lanesim/physics/ode"
)

// The film on the ball changes several times in a turn, far faster than the motion. But a step of less than
// half a turn meets only film that was laid before the step began. So the film is looked up before the step
// is taken: a leapfrog scheme of second order goes through the step in short strides and finds the friction
// at each node. With Coulomb's law only the impulse ∫μ g û dt acts, and û turns slowly. So μ is replaced by a
// polynomial p with the same moments,
//
//	∫ (μ − p) zʲ dt = 0,   j = 0 … degree, z from −1 to 1 along the step,
//
// and the step integrates smooth rates.

// aheadDegree is the degree of that polynomial: the error estimate of the 5(4) pair does not see cubics.
const aheadDegree = 3

// leapfrogError, in tolerances, and mostLeapfrogError, in rad, bound the angle between the contact at the end
// of the leapfrog and at the end of the step. Within them the film that the leapfrog met is kept: a
// thousandth of the contact's width changes the friction by less than one per cent.
const (
	leapfrogError     = 20.0
	mostLeapfrogError = 3e-4
)

// mostPasses bounds how often a step is tried again with the film looked up along the previous try.
const mostPasses = 4

// ahead is the friction along the step that is being taken.
type ahead struct {
	known      bool
	start, per float64 // z = (t − start) per − 1
	mu         [aheadDegree + 1]float64
	nodes      []node
	looked     []film.Touch // looked up by the leapfrog after strides that were too long, the latest last
	first      node         // of the step
	carried    bool         // first is known: it was the last node of the previous step
	pass       int
	basis      []basis
}

// node is where a step meets the lane.
type node struct {
	film.Touch
	mu float64
}

// friction returns the coefficient by the polynomial at time t of the step.
func (a *ahead) friction(t float64) float64 {
	z := (t-a.start)*a.per - 1
	return a.mu[0] + z*(a.mu[1]+z*(a.mu[2]+z*a.mu[3]))
}

// lookAhead finds the friction along the step from at to at + h. It reports whether that changes the rate at
// the start.
func (t *Thrower) lookAhead(at, h float64, y, dydt []float64) bool {
	m := &t.m
	a := &m.ahead
	if !m.remembers() {
		return false
	}
	if m.mode != sliding {
		t.rollAhead(at, y)
		return true
	}
	t.leapfrog(at, h, 1, y, dydt)
	a.fit(at, h)
	a.known, a.pass = true, 0
	return true
}

// leapfrog goes through a step by kicks of friction at nodes with free flight between them, in one part or in
// two equal parts. It leaves the flight at the end in flight, that between two parts in midway, and the
// integrals along the step in sums. The nodes are evenly spaced, or strides are halved until friction changes
// little over each, and doubled again where it hardly changes.
func (t *Thrower) leapfrog(at, h float64, parts int, y, dydt []float64) {
	m, a, f := &t.m, &t.m.ahead, &t.flight
	m.startFlight(f, y)
	t.sums = totals{lightest: math.Inf(1)}
	perRadian := 1 / max(dydt[iTurned], math.Sqrt(dydt[ix]*dydt[ix]+dydt[iy]*dydt[iy])/t.touchDistance)
	longest := t.apart(t.spacing(y)*perRadian, m.law.coefficient(0, m.stretch))
	shortest := finestTouches * longest
	a.nodes, a.looked = append(a.nodes[:0], node{}), a.looked[:0]
	if a.carried {
		a.nodes[0] = a.first
	} else {
		t.locate(&a.nodes[0].Touch, at)
		a.nodes[0].mu = m.meetOnce(&a.nodes[0].Touch, &m.touch)
	}
	stride := min(max(t.stride*perRadian, shortest), longest)
	if t.evenNodes {
		length := h / float64(parts)
		stride = length / max(1, math.Ceil(length/longest-longerStride))
	}
	var kick action
	var start flight        // of a stride
	now, behind := 0.0, 0.0 // behind is the previous stride
	for part := 1; part <= parts; part++ {
		for end := h * float64(part) / float64(parts); now < end; {
			a.nodes = append(a.nodes, node{})
			last, met := &a.nodes[len(a.nodes)-2], &a.nodes[len(a.nodes)-1]
			ahead, next := stride, now+stride
			if left := end - now; left < 1.5*stride {
				if ahead = left; left > t.lastStride*stride {
					ahead = left / 2
				}
				if next = now + ahead; ahead == left {
					next = end
				}
			}
			if !t.evenNodes {
				start = *f
			}
			m.act(&kick, f, last.mu, (behind+ahead)/2)
			f.kick(&kick, behind/2)
			spin := f.spin
			f.kick(&kick, ahead/2)
			m.shortDrift(f, ahead)
			m.flightVelocity(f)
			t.meetNode(met, at+next)
			change := math.Abs(met.mu-last.mu) * ahead / perRadian
			if !t.evenNodes && change > t.frictionStep && ahead > t.lastStride*shortest {
				a.looked = append(a.looked, met.Touch)
				stride = max(ahead/2, shortest)
				*f, a.nodes = start, a.nodes[:len(a.nodes)-1]
				continue
			}
			t.sums.add(&kick, (behind+ahead)/2)
			last.Spin = filmVector(spin)
			now, behind = next, ahead
			if !t.evenNodes && change < t.frictionStep/8 {
				stride = min(2*stride, longest)
			}
		}
		last := &a.nodes[len(a.nodes)-1]
		m.act(&kick, f, last.mu, behind/2)
		if part < parts {
			t.midway = *f
			t.midway.kick(&kick, behind/2)
			m.flightVelocity(&t.midway)
			continue
		}
		t.sums.add(&kick, behind/2)
		f.kick(&kick, behind/2)
		last.Spin, last.Time = filmVector(f.spin), at+h
	}
	t.stride = stride / perRadian
}

// longestLast is the ratio by which the last stride of a part may exceed the usual stride at the tolerances
// of studies. Otherwise it would be split into two strides of little more than half.
const longestLast = 1.2

// finestTouches is the share of the usual spacing to which strides are shortened.
const finestTouches = 1. / 8

// meetNode finds the film and the friction at a node of the flight.
func (t *Thrower) meetNode(s *node, at float64) {
	t.locate(&s.Touch, at)
	for i := len(t.m.ahead.looked) - 1; i >= 0; i-- {
		if t.m.ahead.looked[i].Time-at < sameTime {
			if at-t.m.ahead.looked[i].Time < sameTime {
				s.mu = t.m.meetAgain(&s.Touch, &t.m.ahead.looked[i])
				return
			}
			t.m.ahead.looked = t.m.ahead.looked[:i] // passed
		}
	}
	s.mu = t.m.meet(&s.Touch)
}

// sameTime is the difference in s between equal times that rounding may leave.
const sameTime = 1e-12

// locate fills in where the flight touches the lane.
func (t *Thrower) locate(s *film.Touch, at float64) {
	f := &t.flight
	t.m.place(s, &f.motion, at, f.turned, f.x, f.y)
}

// rollAhead prepares a step of a rolling ball. Its motion depends on friction only through pivot friction, so
// the friction at the start is used for the first try.
func (t *Thrower) rollAhead(at float64, y []float64) {
	a := &t.m.ahead
	a.nodes = append(a.nodes[:0], node{})
	if first := &a.nodes[0]; a.carried {
		*first = a.first
	} else {
		t.m.touchIn(&first.Touch, at, y)
		first.mu = t.m.meetOnce(&first.Touch, &t.m.touch)
	}
	a.known, a.pass, a.start, a.per = true, 0, at, 0
	a.mu = [aheadDegree + 1]float64{a.nodes[0].mu}
}

// rollAgain looks the film up along a tried step of a rolling ball, and reports whether the new friction
// changes the spin about the vertical by more than the tolerance.
func (t *Thrower) rollAgain(s *ode.Segment, y []float64) bool {
	m := &t.m
	a := &m.ahead
	longest, perRadian := t.stridesAlong(s, y)
	a.nodes = a.nodes[:1]
	for a.nodes[len(a.nodes)-1].Time < s.End {
		t.strideAlong(s, y, longest, perRadian)
	}
	m.contact.time = math.NaN() // the friction at the step's end is known only now
	for i := range t.list {
		if t.watching[i] == gripEnds {
			t.list[i].Samples = int(math.Round((s.End-s.Start)/longest)) - 1
		}
	}
	before := a.mu
	a.fit(s.Start, s.Step)
	change := 0.0
	for j := range before {
		change = max(change, math.Abs(a.mu[j]-before[j]))
	}
	a.pass++
	return a.pass <= mostPasses && m.pivotGrip(change)/m.radius*m.spinUp(1)*s.Step > t.control.Absolute*scales[iwz]
}

// stridesAlong returns, for a step of a rolling ball that ends in y, the longest time between touches and the
// time per radian of turning, in s.
func (t *Thrower) stridesAlong(s *ode.Segment, y []float64) (longest, perRadian float64) {
	turned, length := y[iTurned]-s.Component(iTurned, s.Start), portable.Hypot(y[ix]-s.Component(ix, s.Start), y[iy]-s.Component(iy, s.Start))
	angle := max(turned, length/t.touchDistance)
	n := math.Max(1, math.Ceil(angle/t.spacing(y)-1e-9))
	return (s.End - s.Start) / n, (s.End - s.Start) / angle
}

// strideAlong looks the film up at the next node along a step of a rolling ball that ends in y. It shortens
// the stride if friction changes too much over it.
func (t *Thrower) strideAlong(s *ode.Segment, y []float64, longest, perRadian float64) {
	m, a := &t.m, &t.m.ahead
	a.nodes = append(a.nodes, node{})
	last, next := &a.nodes[len(a.nodes)-2], &a.nodes[len(a.nodes)-1]
	for stride := longest; ; stride /= 2 {
		at, state := last.Time+stride, t.scratch[:]
		if at > s.End-stride/2 {
			at, state = s.End, y
		} else {
			s.Leading(at, state[:iWork])
		}
		m.touchIn(&next.Touch, at, state)
		next.mu = m.meet(&next.Touch)
		if math.Abs(next.mu-last.mu)*stride <= t.frictionStep*perRadian || stride <= 2*finestTouches*longest {
			return
		}
	}
}

// holding returns the coefficient that limits the force on a rolling ball at a time of the step, interpolated
// between the nodes.
func (a *ahead) holding(time float64) float64 {
	after := sort.Search(len(a.nodes), func(k int) bool { return a.nodes[k].Time > time })
	switch after {
	case 0:
		return a.friction(time)
	case len(a.nodes):
		return a.nodes[after-1].mu
	}
	before, next := &a.nodes[after-1], &a.nodes[after]
	return before.mu + (time-before.Time)/(next.Time-before.Time)*(next.mu-before.mu)
}

// lookAgain compares the contact at the end of the leapfrog with that at the end of the step and, if they
// differ too much, looks the film up along the step. It reports whether the step must be tried again.
func (t *Thrower) lookAgain(s *ode.Segment, y []float64) bool {
	m := &t.m
	a := &m.ahead
	if !a.known || len(a.nodes) == 0 {
		return false
	}
	if m.mode != sliding {
		return t.rollAgain(s, y)
	}
	n := len(a.nodes) - 1
	last := &a.nodes[n]
	if a.pass == 0 {
		q := rotated(vector{y[itx], y[ity], y[itz]}, &m.start)
		off := add(scale(-1, q[2]), vector{-last.Point.X, -last.Point.Y, -last.Point.Z})
		limit := min(leapfrogError*t.control.Absolute, mostLeapfrogError)
		if dot(off, off) <= limit*limit {
			// Errors of the leapfrog grow with the square of the time.
			for k := 1; k <= n; k++ {
				share := (a.nodes[k].Time - s.Start) / s.Step
				share *= share
				p := &a.nodes[k].Point
				p.X, p.Y, p.Z = p.X+share*off.x, p.Y+share*off.y, p.Z+share*off.z
			}
			last.X, last.Y, last.Turned = y[ix], y[iy], y[iTurned]
			return false
		}
	}
	if a.pass == mostPasses {
		return false
	}
	a.pass++
	for k := 1; k <= n; k++ {
		next := &a.nodes[k]
		at, state := next.Time, y
		if k < n {
			state = t.scratch[:]
			s.Leading(at, state[:iWork])
		}
		m.touchIn(&next.Touch, at, state)
		next.mu = m.meet(&next.Touch)
	}
	before := a.mu
	a.fit(s.Start, s.Step)
	change := 0.0
	for j := range before {
		change = max(change, math.Abs(a.mu[j]-before[j]))
	}
	return change*m.g*s.Step > t.control.Absolute
}

// keepTouches records the touches of a step up to its end in the film on the ball.
func (t *Thrower) keepTouches(end float64, y []float64) {
	if t.record(end); !t.m.ahead.carried {
		t.m.touchNow(end, y)
	}
}

// record appends the touches at the nodes up to a time to the film on the ball. If these are all nodes, the
// last one becomes the first of the next step.
func (t *Thrower) record(end float64) {
	a := &t.m.ahead
	last := &a.nodes[len(a.nodes)-1]
	if a.carried = end >= last.Time; a.carried {
		a.first = *last
	}
	for k := 1; k < len(a.nodes) && a.nodes[k].Time <= end; k++ {
		t.m.film.Append(&a.nodes[k].Touch)
	}
}

// fit finds the polynomial with the same moments as the nodes' friction by the trapezoidal
// rule, from the polynomials that are orthogonal under it, by Stieltjes' recurrence
//
//	P₊ = (z − ⟨zP,P⟩/⟨P,P⟩) P − ⟨P,P⟩/⟨P₋,P₋⟩ P₋
func (a *ahead) fit(at, h float64) {
	a.start, a.per = at, 2/h
	n := len(a.nodes) - 1
	// The polynomial is fitted to the difference from the first node, so that constant friction stays
	// constant to the last digit.
	base := a.nodes[0].mu
	a.mu = [aheadDegree + 1]float64{base}
	a.basis = a.basis[:0]
	for k := range a.nodes {
		before, after := max(k-1, 0), min(k+1, n)
		a.basis = append(a.basis, basis{
			z: (a.nodes[k].Time-at)*a.per - 1, weight: (a.nodes[after].Time - a.nodes[before].Time) / h, value: 1,
		})
	}
	powers, powersBefore, sizeBefore := [aheadDegree + 1]float64{1}, [aheadDegree + 1]float64{}, math.Inf(1)
	for degree := 0; degree <= min(aheadDegree, n); degree++ {
		size, middle, share := 0.0, 0.0, 0.0
		for k := range a.basis {
			b := &a.basis[k]
			weighted := b.weight * b.value
			size += weighted * b.value
			middle += weighted * b.z * b.value
			share += weighted * (a.nodes[k].mu - base)
		}
		shift, back := middle/size, size/sizeBefore
		var next [aheadDegree + 1]float64
		for j := range next {
			a.mu[j] += share / size * powers[j]
			next[j] = -shift*powers[j] - back*powersBefore[j]
			if j > 0 {
				next[j] += powers[j-1]
			}
		}
		for k := range a.basis {
			b := &a.basis[k]
			b.value, b.before = (b.z-shift)*b.value-back*b.before, b.value
		}
		powersBefore, powers, sizeBefore = powers, next, size
	}
}

// basis holds the values of an orthogonal polynomial and of the previous one at a node.
type basis struct{ z, weight, value, before float64 }
