package physics

import (
	"math"
	"sort"

	"lanesim/internal/portable"
	"lanesim/physics/film"
	"lanesim/physics/ode"
)

// The film on the ball comes and goes several times in a turn, far faster
// than the motion changes. But what a step of less than half a turn meets was
// laid before it began. So the film is looked up before the step is taken: a
// scheme of second order goes through the step in short strides and finds
// the friction at each. With Coulomb's law only the impulse ∫μ g û dt acts, û
// turns slowly, and a polynomial with the same moments as μ,
//
//	∫ (μ − p) zʲ dt = 0,   j = 0 … degree, z from −1 to 1 along the step,
//
// stands in for it: the step then integrates smooth rates.

// aheadDegree is that of the polynomial in place of the friction: the error
// estimate of the 5(4) pair does not see cubics.
const aheadDegree = 3

// leapfrogError is how far, in tolerances, that scheme may end from the contact that
// the step finds, in rad, for what it met to count: a thousandth of the
// contact's width moves the friction by less than one in a hundred.
const (
	leapfrogError     = 20.0
	mostLeapfrogError = 3e-4
)

// mostPasses bounds how often a step is tried again with the film looked up
// along the last try.
const mostPasses = 4

// ahead is what is known of the friction along the step that is being taken.
type ahead struct {
	known      bool
	start, per float64 // z = (t − start) per − 1
	mu         [aheadDegree + 1]float64
	nodes      []node
	looked     []film.Touch // where the leapfrog came with strides that were too long, the latest last
	first      node         // of the step
	carried    bool         // first is known: it was the last of the step before
	pass       int
	basis      []basis
}

// node is where a step meets the lane.
type node struct {
	film.Touch
	mu float64
}

// at returns the friction at time t of the step.
func (a *ahead) at(t float64) float64 {
	z := (t-a.start)*a.per - 1
	return a.mu[0] + z*(a.mu[1]+z*(a.mu[2]+z*a.mu[3]))
}

// lookAhead finds the friction along the step from at to at + h.
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

// leapfrog goes through a step by kicks of friction at nodes with free flight between, in
// one part or two equal ones. It leaves the flight at the end, of two parts that between
// them in midway, and the integrals along the step in sums. Strides between nodes are even or are halved until
// friction changes little over one, and grow again where it hardly does.
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
	if t.even {
		length := h / float64(parts)
		stride = length / max(1, math.Ceil(length/longest-longerStride))
	}
	var kick action
	now, behind := 0.0, 0.0 // the stride behind
	for part := 1; part <= parts; part++ {
		for end := h * float64(part) / float64(parts); now < end; {
			last := &a.nodes[len(a.nodes)-1]
			ahead, next := stride, now+stride
			if left := end - now; left < 1.5*stride {
				if ahead = left; left > t.lastStride*stride {
					ahead = left / 2
				}
				if next = now + ahead; ahead == left {
					next = end
				}
			}
			start := *f
			m.act(&kick, f, last.mu, (behind+ahead)/2)
			f.kick(&kick, behind/2)
			spin := f.spin
			f.kick(&kick, ahead/2)
			m.shortDrift(f, ahead)
			m.flightVelocity(f)
			var met node
			t.visit(&met, at+next)
			change := math.Abs(met.mu-last.mu) * ahead / perRadian
			if !t.even && change > t.frictionStep && ahead > t.lastStride*shortest {
				a.looked = append(a.looked, met.Touch)
				stride = max(ahead/2, shortest)
				*f = start
				continue
			}
			t.sums.add(&kick, (behind+ahead)/2)
			last.Spin = inBall(spin)
			a.nodes = append(a.nodes, met)
			now, behind = next, ahead
			if !t.even && change < t.frictionStep/8 {
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
		last.Spin, last.Time = inBall(f.spin), at+h
	}
	t.stride = stride / perRadian
}

// longestLast is by how much the last stride of a part may be longer than it should at the tolerances
// of studies, so that it does not fall into two that are little longer than half.
const longestLast = 1.2

// finestTouches is the share of the usual spacing to which strides are shortened.
const finestTouches = 1. / 8

// visit fills in what a node of the flight meets.
func (t *Thrower) visit(s *node, at float64) {
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

// sameTime is a difference in s that rounding leaves.
const sameTime = 1e-12

// locate fills in where the flight touches the lane.
func (t *Thrower) locate(s *film.Touch, at float64) {
	f := &t.flight
	t.m.place(s, &f.motion, at, f.turned, f.x, f.y)
}

// rollAhead begins a step of a rolling ball, whose motion feels friction through its pivot
// alone: the friction at the start will do until the step has been tried.
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

// rollAgain looks the film up along the step of a rolling ball that was tried, and reports
// whether what it found turns the ball about the vertical by more than the tolerance.
func (t *Thrower) rollAgain(s *ode.Segment, y []float64) bool {
	m := &t.m
	a := &m.ahead
	longest, perRadian := t.stridesAlong(s, y)
	a.nodes = a.nodes[:1]
	for a.nodes[len(a.nodes)-1].Time < s.End {
		t.strideAlong(s, y, longest, perRadian)
	}
	m.now.time = math.NaN() // what holds at the step's end is known only now
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

// stridesAlong are the longest time between touches of a rolling ball along a step that ends in a state, and
// the time in which it turns by a radian.
func (t *Thrower) stridesAlong(s *ode.Segment, y []float64) (longest, perRadian float64) {
	turned, length := y[iTurned]-s.Component(iTurned, s.Start), portable.Hypot(y[ix]-s.Component(ix, s.Start), y[iy]-s.Component(iy, s.Start))
	angle := max(turned, length/t.touchDistance)
	n := math.Max(1, math.Ceil(angle/t.spacing(y)-1e-9))
	return (s.End - s.Start) / n, (s.End - s.Start) / angle
}

// strideAlong looks the film up at the next node along the step of a rolling ball, which ends in
// y. It shortens strides over which friction changes much.
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

// holding is the friction that holds a rolling ball at a time of the step.
func (a *ahead) holding(time float64) float64 {
	after := sort.Search(len(a.nodes), func(k int) bool { return a.nodes[k].Time > time })
	switch after {
	case 0:
		return a.at(time)
	case len(a.nodes):
		return a.nodes[after-1].mu
	}
	before, next := &a.nodes[after-1], &a.nodes[after]
	return before.mu + (time-before.Time)/(next.Time-before.Time)*(next.mu-before.mu)
}

// lookAgain compares where the leapfrog ended with the contact at the end of the
// step and, where they differ too much, looks the film up along the step.
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

// keepTouches leaves on the ball what a step met at its nodes, up to its end.
func (t *Thrower) keepTouches(end float64, y []float64) {
	if t.record(end); !t.m.ahead.carried {
		t.m.touchNow(end, y)
	}
}

// record leaves on the ball what the nodes met up to a time. Where that is all, the last
// node is carried over to the next step.
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
	// From the first node's value on, so that an even friction stays so to the
	// last digit.
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

// basis is an orthogonal polynomial and the one before at a node.
type basis struct{ z, weight, value, before float64 }
