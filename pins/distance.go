package pins

import "math"

// touch is where two bodies come nearest.
type touch struct {
	gap    float64 // m; negative if they overlap
	n      vector  // unit vector from the second body to the first
	point  vector  // m, between them
	radius float64 // m, sum of the radii of the spheres that are nearest
}

// onAxis returns where along pin b's axis, from the base, and how far from it p lies.
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

// ballAndPin finds where ball a is nearest to the body and to the head of pin b, the
// nearest first. It returns how many places it found.
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

// twoPins finds where pins a and b are nearest: the least of |P(s) − Q(t)| − ρ(s) −
// ρ(t) over both axes, for bodies and heads of both. The best of the pairs of samples on
// both are the starts for Newton's steps. It returns how many places it found, two at
// most, the nearest first.
func twoPins(a, b *body, all *[2]touch) int {
	e := outline
	type start struct{ s, t, f float64 }
	starts := [4]start{{f: math.Inf(1)}, {f: math.Inf(1)}, {f: math.Inf(1)}, {f: math.Inf(1)}}
	least := math.Inf(1)
	for i := range e.samples {
		one := &e.samples[i]
		along, away := b.onAxis(a.at(one.s))
		away *= away
		for j := range e.samples {
			other := &e.samples[j]
			d := along - other.s
			f := math.Sqrt(away+d*d) - one.radius - other.radius
			if k := one.half + 2*other.half; f < starts[k].f {
				starts[k] = start{one.s, other.s, f}
				least = min(least, f)
			}
		}
	}
	count, last := 0, start{}
	for _, from := range starts {
		if from.f > least+inch {
			continue
		}
		s, t := refine(a, b, from.s, from.t)
		found := spheres(a.at(s), e.radius(s), b.at(t), e.radius(t))
		apart := math.Abs(s-last.s)+math.Abs(t-last.t) > inch/2
		switch {
		case count == 0:
			all[0], last, count = found, start{s: s, t: t}, 1
		case found.gap < all[0].gap:
			if apart {
				all[1], count = all[0], 2
			}
			all[0], last = found, start{s: s, t: t}
		case apart && (count == 1 || found.gap < all[1].gap):
			all[1], count = found, 2
		}
	}
	return count
}

// refine follows the distance of two pins to its least value near s and t, by Newton's
// steps, halved until they gain, and by steps down the slope where it bends the other
// way.
func refine(a, b *body, s, t float64) (float64, float64) {
	e := outline
	cos := a.u.dot(b.u)
	for range 20 {
		rs, slopeS, bendS := e.at(s)
		rt, slopeT, bendT := e.at(t)
		d := a.at(s).sub(b.at(t))
		away := d.norm()
		w := d.mul(1 / away)
		ws, wt := w.dot(a.u), w.dot(b.u)
		fs, ft := ws-slopeS, -wt-slopeT
		fss, ftt := (1-ws*ws)/away-bendS, (1-wt*wt)/away-bendT
		fst := -(cos - ws*wt) / away
		// At an end of an axis the other variable goes alone.
		fixedS := s == e.least && fs > 0 || s == e.most && fs < 0
		fixedT := t == e.least && ft > 0 || t == e.most && ft < 0
		var ds, dt float64
		det := fss*ftt - fst*fst
		switch {
		case fixedS && fixedT:
			return s, t
		case fixedS:
			dt = descend(ft, ftt)
		case fixedT:
			ds = descend(fs, fss)
		case fss > 0 && det > 1e-6*fss*ftt:
			ds, dt = (fst*ft-ftt*fs)/det, (fst*fs-fss*ft)/det
		default:
			ds, dt = descend(fs, fss), descend(ft, ftt)
		}
		f := away - rs - rt
		var ns, nt float64
		for try := 0; ; try++ {
			ns, nt = e.clamp(s+ds), e.clamp(t+dt)
			if try == 3 { // straight down the slope instead
				ds, dt = -fs*inch, -ft*inch
			} else if try == 12 {
				return s, t
			}
			if a.at(ns).sub(b.at(nt)).norm()-e.radius(ns)-e.radius(nt) <= f+1e-12 {
				break
			}
			ds, dt = ds/2, dt/2
		}
		moved := math.Abs(ns-s) + math.Abs(nt-t)
		s, t = ns, nt
		if moved < 1e-7 {
			break
		}
	}
	return s, t
}

// descend is a step toward the least of a function with these derivatives.
func descend(first, second float64) float64 {
	if second > 0 {
		return max(-inch, min(inch, -first/second))
	}
	return -math.Copysign(0.2*inch, first)
}

// segments bounds the distance in m of the axes of two pins, or of a pin's axis and the
// ball's centre, from below: exactly for the ball and for axes that are not clamped.
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
	c, along, beside := a.u.dot(b.u), d.dot(a.u), d.dot(b.u)
	s := 0.0
	if det := 1 - c*c; det > 1e-9 {
		s = (c*beside - along) / det
	}
	s = min(max(s, ls), hs)
	t := min(max(s*c+beside, low), high)
	s = min(max(t*c-along, ls), hs)
	return d.plus(s, a.u).plus(-t, b.u).norm()
}

// planePoint is a point of a body near a plane.
type planePoint struct {
	gap   float64
	point vector // of the body
}

// onPlane returns the points of a body that are nearest to the plane n·p = level, on
// the side where n points: of a pin four points of the edge of its base, the lowest
// first, and the lowest of its belly and of its head. It returns how many there are.
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
	if lean < 0.2 { // any of the edge may be the lowest next
		all[1] = planePoint{middle, foot.plus(rimLine, side)}
		all[2] = planePoint{middle, foot.plus(-rimLine, side)}
		all[3] = planePoint{middle + drop, foot.plus(-rimLine, down)}
		count = 4
	}
	if up < 0.7 {
		for _, lobe := range outline.lobes {
			s := outline.lowest(lobe[0], lobe[1], up)
			p := b.at(s)
			radius := outline.radius(s)
			all[count] = planePoint{n.dot(p) - level - radius, p.plus(-radius, n)}
			count++
		}
	}
	return count
}

// lowest returns the s between low and high at which s·up − ρ(s) is least.
func (e *envelope) lowest(low, high, up float64) float64 {
	// Within a lobe up − ρ′(s) rises, but for the part next to the neck.
	const samples = 5
	best, least := low, math.Inf(1)
	spacing := (high - low) / samples
	for k := range samples + 1 {
		s := low + float64(k)*spacing
		if f := s*up - e.radius(s); f < least {
			best, least = s, f
		}
	}
	l, h := max(low, best-spacing), min(high, best+spacing)
	s := best
	for range 20 {
		_, slope, bend := e.at(s)
		if up-slope < 0 {
			l = s
		} else {
			h = s
		}
		next := s + (up-slope)/bend
		if !(bend < 0 && next > l && next < h) {
			next = (l + h) / 2
		}
		if math.Abs(next-s) < 1e-8 {
			return next
		}
		s = next
	}
	return s
}
