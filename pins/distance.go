package pins

import "math"

// touch is where two bodies come nearest.
type touch struct {
	gap    float64 // m; negative if they overlap
	n      vector  // unit vector from the second body to the first
	point  vector  // m, between them
	radius float64 // m, sum of the radii of the spheres that are nearest
}

// onAxis returns the place of p along the pin's axis, from the base, and its distance
// from the axis, in m.
func (b *body) onAxis(p vector) (along, away float64) {
	d := p.sub(b.x)
	along = d.dot(b.u)
	return along + b.centre, math.Sqrt(max(0, d.dot(d)-along*along))
}

const lobeSamples = 6

// nearestSphere returns the s between low and high, a lobe, at which √(d² + (a−s)²) −
// ρ(s) is least, for a point at a along the axis and d from it: the best of a few
// samples, then Newton's steps.
func (e *envelope) nearestSphere(low, high, a, d float64) float64 {
	best, least := low, math.Inf(1)
	spacing := (high - low) / lobeSamples
	for k := range lobeSamples + 1 {
		s := low + float64(k)*spacing
		if f := math.Sqrt(d*d+(a-s)*(a-s)) - e.radius(s); f < least {
			best, least = s, f
		}
	}
	low, high = max(low, best-spacing), min(high, best+spacing)
	s := best
	for range 12 {
		_, slope, bend := e.at(s)
		away := math.Sqrt(d*d + (a-s)*(a-s))
		first := -(a-s)/away - slope
		second := d*d/(away*away*away) - bend
		if first < 0 {
			low = s
		} else {
			high = s
		}
		next := s - first/second
		if !(second > 0 && next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-s) < 1e-8 {
			return next
		}
		s = next
	}
	return s
}

// ballAndPin finds the points where ball a is nearest to the body and to the head of
// pin b, the nearest first, and returns their number.
func ballAndPin(a, b *body, all *[2]touch) int {
	along, away := b.onAxis(a.x)
	for i, lobe := range outline.lobes {
		s := outline.nearestSphere(lobe[0], lobe[1], along, away)
		all[i] = spheres(a.x, a.radius, b.at(s), outline.radius(s))
	}
	if all[1].gap < all[0].gap {
		all[0], all[1] = all[1], all[0]
	}
	if all[1].point.sub(all[0].point).norm() < inch/2 {
		return 1 // both at the neck
	}
	return 2
}

// spheres returns where two spheres are nearest.
func spheres(a vector, ra float64, b vector, rb float64) touch {
	d := a.sub(b)
	away := d.norm()
	n := d.mul(1 / away)
	return touch{away - ra - rb, n, b.plus(rb+(away-ra-rb)/2, n), ra + rb}
}

// axes is the geometry of the axes of two pins, which gives the distance of a point at s
// on one axis from a point at t on the other, both measured from the mass centres.
type axes struct {
	apart2 float64 // m², of the mass centres
	p, q   float64 // m, a − b along both axes
	cos    float64 // of the angle between them
	ca, cb float64 // m, heights of the mass centres
}

func axesOf(a, b *body) axes {
	d := a.x.sub(b.x)
	return axes{d.dot(d), d.dot(a.u), d.dot(b.u), a.u.dot(b.u), a.centre, b.centre}
}

// between returns the distance in m of the points at s and t above the bases, and the
// cosines of the line from the second to the first with both axes.
func (x *axes) between(s, t float64) (away, ws, wt float64) {
	s, t = s-x.ca, t-x.cb
	away = math.Sqrt(max(0, x.apart2+s*(s+2*x.p)+t*(t-2*x.q-2*s*x.cos)))
	k := 1 / away
	return away, k * (x.p + s - t*x.cos), k * (x.q + s*x.cos - t)
}

// place is a pair of points, s and t on two axes, with the gap in m between the spheres
// there.
type place struct{ s, t, gap float64 }

// elsewhere is the gap in m beyond that of the nearest samples from which a place is left
// out: it cannot touch within a step.
const elsewhere = 0.5 * inch

// twoPins finds the points where pins a and b are nearest: the minima of |P(s) − Q(t)| −
// ρ(s) − ρ(t) over both axes, for bodies and heads of both. Newton's steps start from the
// best pairs of samples. It returns the number of places found, at most two, the nearest
// first.
func twoPins(a, b *body, all *[2]touch) int {
	e := outline
	x := axesOf(a, b)
	far := place{gap: math.Inf(1)}
	starts := [4]place{far, far, far, far}
	least := math.Inf(1)
	for i := range e.samples {
		one := &e.samples[i]
		s := one.s - x.ca
		along := x.q + s*x.cos // of this point on b's axis
		across2 := max(0, x.apart2+s*(s+2*x.p)-along*along)
		along += x.cb
		for j := range e.samples {
			other := &e.samples[j]
			d := along - other.s
			f := math.Sqrt(across2+d*d) - one.radius - other.radius
			if k := one.half + 2*other.half; f < starts[k].gap {
				starts[k] = place{one.s, other.s, f}
				least = min(least, f)
			}
		}
	}
	var found places
	for k, from := range starts {
		if from.gap <= least+elsewhere {
			found.add(x.refine(from.s, from.t, e.lobes[k%2], e.lobes[k/2]))
		}
	}
	if found.list[0].gap < close {
		x.searchClosely(&found)
	}
	for i, p := range found.list[:found.count] {
		all[i] = spheres(a.at(p.s), e.radius(p.s), b.at(p.t), e.radius(p.t))
	}
	return found.count
}

// places keeps the two nearest places found, the nearest first.
type places struct {
	list  [2]place
	count int
}

func (f *places) add(p place) {
	last := f.list[0]
	apart := math.Abs(p.s-last.s)+math.Abs(p.t-last.t) > inch/2
	switch {
	case f.count == 0:
		f.list[0], f.count = p, 1
	case p.gap < last.gap:
		if apart {
			f.list[1], f.count = last, 2
		}
		f.list[0] = p
	case apart && (f.count == 1 || p.gap < f.list[1].gap):
		f.list[1], f.count = p, 2
	}
}

// close is the gap in m of two pins below which the search is made on a finer grid: along
// the hollow of a neck the distance may have several minima between two samples.
const close = 1e-3

// searchClosely adds the place at every minimum of the distance over a fine grid.
func (x *axes) searchClosely(found *places) {
	e := outline
	const n = denseSamples
	var f [n + 2][n + 2]float64
	for i := range f {
		f[i][0], f[i][n+1], f[0][i], f[n+1][i] = math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)
	}
	for i := range n {
		one := &e.dense[i]
		s := one.s - x.ca
		along := x.q + s*x.cos
		across2 := max(0, x.apart2+s*(s+2*x.p)-along*along)
		along += x.cb
		for j := range n {
			d := along - e.dense[j].s
			f[i+1][j+1] = math.Sqrt(across2+d*d) - one.radius - e.dense[j].radius
		}
	}
	for i := 1; i <= n; i++ {
		for j := 1; j <= n; j++ {
			v := f[i][j]
			if v > 5*close || v > f[i-1][j] || v > f[i+1][j] || v > f[i][j-1] || v > f[i][j+1] {
				continue
			}
			one, other := &e.dense[i-1], &e.dense[j-1]
			found.add(x.refine(one.s, other.s, e.lobes[one.half], e.lobes[other.half]))
		}
	}
}

// refine finds the minimum of the distance of two pins near s and t, within a lobe of
// each, by Newton's steps, halved until the distance falls; where the Hessian is not
// positive definite it is shifted, or the step goes down the gradient.
func (x *axes) refine(s, t float64, lobeS, lobeT [2]float64) place {
	e := outline
	rs, slopeS, bendS := e.at(s)
	rt, slopeT, bendT := e.at(t)
	away, ws, wt := x.between(s, t)
	for range 20 {
		f := away - rs - rt
		fs, ft := ws-slopeS, -wt-slopeT
		k := 1 / away
		fss, ftt := k*(1-ws*ws)-bendS, k*(1-wt*wt)-bendT
		fst := -k * (x.cos - ws*wt)
		// At an end of a lobe only the other variable moves.
		fixedS := s == lobeS[0] && fs > 0 || s == lobeS[1] && fs < 0
		fixedT := t == lobeT[0] && ft > 0 || t == lobeT[1] && ft < 0
		var ds, dt float64
		det := fss*ftt - fst*fst
		switch {
		case fixedS && fixedT:
			return place{s, t, f}
		case fixedS:
			dt = descend(ft, ftt)
		case fixedT:
			ds = descend(fs, fss)
		case fss > 0 && det > 1e-6*fss*ftt:
			ds, dt = (fst*ft-ftt*fs)/det, (fst*fs-fss*ft)/det
		default: // shift the Hessian to make it positive definite
			half := (fss - ftt) / 2
			shift := 2 * (math.Sqrt(half*half+fst*fst) - (fss+ftt)/2)
			a, b := fss+shift+1, ftt+shift+1
			k := 1 / (a*b - fst*fst)
			ds, dt = k*(fst*ft-b*fs), k*(fst*fs-a*ft)
		}
		ns, nt := s, t
		for try := 0; ; try++ {
			ns, nt = min(max(s+ds, lobeS[0]), lobeS[1]), min(max(t+dt, lobeT[0]), lobeT[1])
			if try == 3 { // down the gradient instead
				ds, dt = -fs*inch, -ft*inch
			} else if try == 12 {
				return place{s, t, f}
			}
			rs, slopeS, bendS = e.at(ns)
			rt, slopeT, bendT = e.at(nt)
			if away, ws, wt = x.between(ns, nt); away-rs-rt <= f+1e-12 {
				break
			}
			ds, dt = ds/2, dt/2
		}
		moved := math.Abs(ns-s) + math.Abs(nt-t)
		if s, t = ns, nt; moved < 2e-6 { // Newton's steps converge quadratically: the next is negligible
			break
		}
	}
	return place{s, t, away - rs - rt}
}

// descend returns a step in m toward the minimum of a function with these derivatives.
func descend(first, second float64) float64 {
	if second > 0 {
		return max(-inch, min(inch, -first/second))
	}
	return -math.Copysign(0.2*inch, first)
}

// segments returns a lower bound of the distance in m of the axes of two pins, or of a
// pin's axis and the ball's centre. It is exact for the ball, and for two pins unless the
// nearest points are ends of the axes.
func segments(a, b *body) float64 {
	low, high := outline.least-b.centre, outline.most-b.centre
	if a.radius > 0 {
		d := a.x.sub(b.x)
		t := min(max(d.dot(b.u), low), high)
		return d.plus(-t, b.u).norm()
	}
	// Ericson, Real-Time Collision Detection (2005), §5.1.9.
	ls, hs := outline.least-a.centre, outline.most-a.centre
	d := a.x.sub(b.x)
	c, alongA, alongB := a.u.dot(b.u), d.dot(a.u), d.dot(b.u)
	s := 0.0
	if det := 1 - c*c; det > 1e-9 {
		s = (c*alongB - alongA) / det
	}
	s = min(max(s, ls), hs)
	t := min(max(s*c+alongB, low), high)
	s = min(max(t*c-alongA, ls), hs)
	return d.plus(s, a.u).plus(-t, b.u).norm()
}

// planePoint is a point of a body near a plane.
type planePoint struct {
	gap   float64
	point vector // of the body
}

// onPlane finds the points of a body that are nearest to the plane n·p = level, seen
// from the side to which n points: of a pin up to four points of the edge of its base,
// the lowest first, and the lowest of its belly and of its head. It returns their number.
func (b *body) onPlane(n vector, level float64, all *[6]planePoint) int {
	above := n.dot(b.x) - level
	if b.radius > 0 {
		all[0] = planePoint{above - b.radius, b.x.plus(-b.radius, n)}
		return 1
	}
	up := n.dot(b.u)
	// The circle on which the base's rounded edge is centred.
	centre := b.x.plus(edgeTube-b.centre, b.u)
	down := b.u.mul(up).sub(n)
	lean := down.norm()
	if lean > 1e-9 {
		down = down.mul(1 / lean)
	} else {
		down, _ = tangents(b.u)
	}
	side := b.u.cross(down)
	middle := n.dot(centre) - level - edgeTube
	foot := centre.plus(-edgeTube, n)
	drop := rimLine * lean
	all[0] = planePoint{middle - drop, foot.plus(rimLine, down)}
	count := 1
	if lean < 0.2 { // any point of the edge may be the lowest next
		all[1] = planePoint{middle, foot.plus(rimLine, side)}
		all[2] = planePoint{middle, foot.plus(-rimLine, side)}
		all[3] = planePoint{middle + drop, foot.plus(-rimLine, down)}
		count = 4
	}
	if up < 0.7 {
		for lobe := range outline.lobes {
			s := outline.lowestOf(lobe, up)
			p := b.at(s)
			radius := outline.radius(s)
			all[count] = planePoint{n.dot(p) - level - radius, p.plus(-radius, n)}
			count++
		}
	}
	return count
}

// leans is the number of cells of the table of lowest spheres, over the cosine from −1
// to 1 of the angle between a pin's axis and the normal of a plane.
const leans = 256

// lowestOf returns the s of a lobe, 0 the body or 1 the head, at which s·up − ρ(s) is
// least: a start from the table, then Newton's steps.
func (e *envelope) lowestOf(lobe int, up float64) float64 {
	w := (up + 1) * leans / 2
	i := min(max(int(w), 0), leans-1)
	w -= float64(i)
	low, high := e.lowest[lobe][i], e.lowest[lobe][i+1] // it rises as the pin leans head down
	s := low + w*(high-low)
	for range 2 {
		_, slope, bend := e.at(s)
		if bend < 0 {
			s = min(max(s+(up-slope)/bend, high), low)
		}
	}
	return s
}

// findLowest returns the same for the table, by search: the best of some samples, then
// bisection.
func (e *envelope) findLowest(lobe [2]float64, up float64) float64 {
	// Within a lobe up − ρ′(s) rises, except next to the neck.
	const samples = 50
	best, least := lobe[0], math.Inf(1)
	spacing := (lobe[1] - lobe[0]) / samples
	for k := range samples + 1 {
		s := lobe[0] + float64(k)*spacing
		if f := s*up - e.radius(s); f < least {
			best, least = s, f
		}
	}
	l, h := max(lobe[0], best-spacing), min(lobe[1], best+spacing)
	s := best
	for range 60 {
		_, slope, _ := e.at(s)
		if up-slope < 0 {
			l = s
		} else {
			h = s
		}
		s = (l + h) / 2
	}
	return s
}
