package physics_test

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// referenceCells cut the sphere into pieces of about equal area: rings about the
// PSA, each cut into the number of cells that fits.
type referenceCells struct {
	height float64 // rad, of a ring
	first  []int   // the first cell of each ring, and the number of all
	area   []float64
	sine   []float64 // of the angle from the PSA to the middle of each ring
	cosine []float64
	centre []r3.Vec // unit vectors in body axes
}

var referenceCellsOf = map[int]*referenceCells{}

// newReferenceCells returns a little more than the given number of cells.
func newReferenceCells(number int) *referenceCells {
	if c := referenceCellsOf[number]; c != nil {
		return c
	}
	rings := int(math.Ceil(math.Sqrt(math.Pi*float64(number)) / 2))
	c := &referenceCells{height: math.Pi / float64(rings)}
	for i := range rings {
		belt := 2 * math.Pi * (math.Cos(float64(i)*c.height) - math.Cos(float64(i+1)*c.height))
		count := int(math.Ceil(belt / (c.height * c.height)))
		c.first = append(c.first, len(c.centre))
		c.area = append(c.area, belt/float64(count))
		sinT, cosT := math.Sincos((float64(i) + 0.5) * c.height)
		c.sine, c.cosine = append(c.sine, sinT), append(c.cosine, cosT)
		for j := range count {
			sinL, cosL := math.Sincos((float64(j) + 0.5) * 2 * math.Pi / float64(count))
			c.centre = append(c.centre, r3.Vec{X: sinT * cosL, Y: sinT * sinL, Z: cosT})
		}
	}
	c.first = append(c.first, len(c.centre))
	referenceCellsOf[number] = c
	return c
}

// referenceGrid is the film on the whole surface of the ball. Each cell remembers
// its own last touch.
type referenceGrid struct {
	*referenceCells
	radius, width          float64 // m, of the ball and of the strip that touches
	edge                   float64 // sine of the angle from the middle of the strip to its edge
	pickUp, giveBack, soak float64

	film   []float64 // m, at the last touch
	time   []float64 // s, of the last touch
	passed []float64 // rad that the ball must have turned before the cell is touched again

	parts   []referencePart
	met     float64 // m, B: the film that the strip meets
	soaked  float64 // m³, so far
	lane    float64 // m³ that the lane gained
	covered float64 // m² touched so far
}

func newReferenceGrid(r *reference, cells int) *referenceGrid {
	m := r.ball.Memory
	g := &referenceGrid{referenceCells: newReferenceCells(cells), radius: r.ball.Radius,
		width: m.ContactWidth, edge: math.Sin(m.ContactWidth / 2 / r.ball.Radius), pickUp: m.PickUp, giveBack: m.GiveBack, soak: m.SoakIn}
	n := len(g.centre)
	g.film, g.time, g.passed = make([]float64, n), make([]float64, n), make([]float64, n)
	for range max(1, int(math.Round(g.width/g.radius/g.height))) {
		g.parts = append(g.parts, referencePart{share: 1})
	}
	return g
}

// referenceStrip is the strip that touches the lane at one instant: an arc
// across the way of the contact over the ball.
type referenceStrip struct {
	contact, ahead, across r3.Vec // unit vectors in body axes; ahead is zero if the contact rests

	time, turned float64 // s; rad
	lane         float64 // m, film on the lane
	speed, sweep float64 // m/s, of the ball over the lane and of its surface
}

// strip returns the strip in a state.
func (r *reference) strip(t float64, y *referenceVector, mode referenceMode) referenceStrip {
	lx, ly, lz := y.axes()
	w := y.spin()
	s := referenceStrip{contact: r3.Scale(-1, lz), time: t, turned: 2 * math.Pi * y[revolutions], lane: r.laneFilm(y, mode)}
	d := r3.Cross(w, r.offset)
	s.speed = math.Hypot(y[velX]-r3.Dot(lx, d), y[velY]-r3.Dot(ly, d))
	// The contact lies fixed in the lane's frame, so it moves by −ω × c in the ball's.
	way := r3.Cross(s.contact, w)
	turning := r3.Norm(way)
	s.sweep = r.ball.Radius * turning
	if turning > 0 {
		s.ahead = r3.Scale(1/turning, way)
		s.across = r3.Cross(s.contact, s.ahead)
	}
	return s
}

// crossed reports whether the strip crosses a point between two instants, and
// after which share of the time and how far aside (−1 to 1). The point is ahead of it at first and not any
// more at last, so that no point falls between two steps.
func (g *referenceGrid) crossed(from, to *referenceStrip, p r3.Vec) (share, aside float64, ok bool) {
	before, after := r3.Dot(p, from.ahead), r3.Dot(p, to.ahead)
	if before < 0 || after >= 0 {
		return 0, 0, false
	}
	share = before / (before - after)
	aside = r3.Dot(p, from.across) + share*(r3.Dot(p, to.across)-r3.Dot(p, from.across))
	aside /= g.edge
	return share, aside, math.Abs(aside) <= 1
}

// swept calls touch with every cell that the strip crosses between two instants.
func (g *referenceGrid) swept(from, to referenceStrip, touch func(cell int, area, share, aside float64)) {
	if to.sweep == 0 {
		return
	}
	if from.sweep == 0 { // begins to turn
		from.ahead = r3.Unit(r3.Sub(to.ahead, r3.Scale(r3.Dot(to.ahead, from.contact), from.contact)))
		from.across = r3.Cross(from.contact, from.ahead)
	}
	if r3.Dot(from.ahead, to.ahead) < 0.5 {
		return // the contact turns back on the ball: it all but rests
	}
	// All such cells lie within a cap around the middle.
	middle := r3.Unit(r3.Add(from.contact, to.contact))
	reach := 1.01*(g.width/2/g.radius+r3.Norm(r3.Sub(to.contact, from.contact))) + g.height
	polar, longitude := math.Acos(max(-1, min(1, middle.Z))), math.Atan2(middle.Y, middle.X)
	sinPolar, cosPolar, cosReach := math.Sin(polar), math.Cos(polar), math.Cos(reach)
	rings := len(g.area)
	for i := max(0, int((polar-reach)/g.height)); i < rings && float64(i)*g.height <= polar+reach; i++ {
		n := g.first[i+1] - g.first[i]
		from0, to0 := 0, n-1
		if c := (cosReach - g.cosine[i]*cosPolar) / (g.sine[i] * sinPolar); c > -1 {
			half := math.Acos(min(1, c))
			from0 = int(math.Floor((longitude - half) / (2 * math.Pi) * float64(n)))
			to0 = min(int(math.Ceil((longitude+half)/(2*math.Pi)*float64(n))), from0+n-1)
		}
		for k := from0; k <= to0; k++ {
			j := k
			switch { // once around
			case j < 0:
				j += n
			case j >= n:
				j -= n
			}
			if share, aside, ok := g.crossed(&from, &to, g.centre[g.first[i]+j]); ok {
				touch(g.first[i]+j, g.area[i]*g.radius*g.radius, share, aside)
			}
		}
	}
}

// referencePart is a part of the strip's width: what it met last, and how much of
// that was not passed over.
type referencePart struct{ film, share float64 }

// meet sets the film that the strip meets between two instants, the mean over its
// width of what is not passed over. It stays as it was where all is.
//
// The width has about as many parts as cells lie side by side. A part that crosses no cell
// meets what it met before, so that short steps do not see single cells.
//
// If the strip leaves something, each cell gets what it takes away.
func (g *referenceGrid) meet(from, to referenceStrip, leaves bool) {
	parts := slices.Clone(g.parts)
	area, free, oil := make([]float64, len(parts)), make([]float64, len(parts)), make([]float64, len(parts))
	g.swept(from, to, func(cell int, a, share, aside float64) {
		between := func(a, b float64) float64 { return a + share*(b-a) }
		turned, time := between(from.turned, to.turned), between(from.time, to.time)
		part := min(len(parts)-1, int((aside+1)/2*float64(len(parts))))
		area[part] += a
		if turned < g.passed[cell] {
			return
		}
		old := g.film[cell]
		b := old * math.Exp(-(time-g.time[cell])/g.soak)
		free[part] += a
		oil[part] += a * b
		if !leaves {
			return
		}
		h, v, s := between(from.lane, to.lane), between(from.speed, to.speed), between(from.sweep, to.sweep)
		left := min(b+g.pickUp*h*v/max(s, v/5)-g.giveBack*b, h+b)
		g.film[cell], g.time[cell], g.passed[cell] = left, time, turned+math.Pi
		g.soaked += a * (old - b)
		g.lane -= a * (left - b)
		g.covered += a
	})
	shares, films := 0.0, 0.0
	for i := range parts {
		p := &parts[i]
		if area[i] > 0 {
			p.share = free[i] / area[i]
		}
		if free[i] > 0 {
			p.film = oil[i] / free[i]
		}
		shares += p.share
		films += p.share * p.film
	}
	switch {
	case leaves:
		g.parts = parts // what was met in this step has been found before
	case shares > 0:
		g.met = films / shares
	}
}

// referenceOil says in m³ where the oil is that the ball and the lane exchanged.
type referenceOil struct{ Lane, Ball, Soaked float64 }

// balance counts what lies on the ball at a time.
func (g *referenceGrid) balance(t float64) referenceOil {
	o := referenceOil{Lane: g.lane, Soaked: g.soaked}
	for i, a := range g.area {
		a *= g.radius * g.radius
		for cell := g.first[i]; cell < g.first[i+1]; cell++ {
			b := g.film[cell] * math.Exp(-(t-g.time[cell])/g.soak)
			o.Ball += a * b
			o.Soaked += a * (g.film[cell] - b)
		}
	}
	return o
}
