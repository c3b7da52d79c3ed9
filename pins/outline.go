package pins

import "math"

// The outline of a pin, height and diameter in inches: from memory of the rule book's
// drawing. A solid of this outline has 2107 cm³ and its mass centre at 5.80 in. Above
// the last height the head is a cap of a sphere.
var outlineTable = [...][2]float64{
	{0, 2.031}, {0.75, 2.828}, {2.25, 3.906}, {3.375, 4.510}, {4.5, 4.766}, {5.875, 4.563}, {7.25, 3.703},
	{8.625, 2.472}, {9.375, 1.965}, {10, 1.797}, {10.875, 1.870}, {11.75, 2.094}, {12.625, 2.406}, {13.727, 2.546},
}

const (
	knots    = len(outlineTable)
	edgeTube = 5.0 / 32 * inch         // m, radius of the base's rounded edge
	rimLine  = 2.031/2*inch - edgeTube // m, radius of the circle that the base rests on
	headTop  = 15 * inch               // m
	widest   = 2.4 * inch              // m, no part of a pin is farther from its axis
)

// spline is the cubic spline through the outline: natural at the base, with slope 0
// where the head's cap begins. Its moments are second derivatives of the radius.
type spline struct{ moments [knots]float64 }

func newSpline() *spline {
	var s spline
	var upper, right [knots]float64
	height := func(i int) float64 { return outlineTable[i][0] * inch }
	radius := func(i int) float64 { return outlineTable[i][1] / 2 * inch }
	for i := 1; i < knots; i++ {
		below := height(i) - height(i-1)
		slope := (radius(i) - radius(i-1)) / below
		above, change, diagonal := 0.0, -slope, below/3
		if i < knots-1 {
			above = height(i+1) - height(i)
			change = (radius(i+1)-radius(i))/above - slope
			diagonal = (below + above) / 3
		}
		d := diagonal - below/6*upper[i-1]
		upper[i] = above / 6 / d
		right[i] = (change - below/6*right[i-1]) / d
	}
	for i := knots - 1; i > 0; i-- {
		next := 0.0
		if i < knots-1 {
			next = s.moments[i+1]
		}
		s.moments[i] = right[i] - upper[i]*next
	}
	return &s
}

// at returns the radius in m at height h in m and its derivative.
func (s *spline) at(h float64) (r, slope float64) {
	i := 1
	for i < knots-1 && h > outlineTable[i][0]*inch {
		i++
	}
	low, high := outlineTable[i-1][0]*inch, outlineTable[i][0]*inch
	rl, rh := outlineTable[i-1][1]/2*inch, outlineTable[i][1]/2*inch
	d := high - low
	a, b := (high-h)/d, (h-low)/d
	ml, mh := s.moments[i-1], s.moments[i]
	r = a*rl + b*rh + ((a*a*a-a)*ml+(b*b*b-b)*mh)*d*d/6
	slope = (rh-rl)/d + ((3*b*b-1)*mh-(3*a*a-1)*ml)*d/6
	return r, slope
}

// envelope is the outline as the envelope of spheres on the pin's axis. The sphere that
// touches the outline at height h has its centre at s = h + r r′ and the radius
// ρ = r √(1 + r′²); dρ/ds = r′/√(1 + r′²). It begins where the sphere touches the plane
// of the base, so that none reaches below it, and ends with the head's cap.
type envelope struct {
	least, most, neck float64       // m, s at the ends and where the spheres are smallest
	lobes             [2][2]float64 // m, s at both ends of the body and of the head
	spacing, rate     float64       // m between nodes, and its inverse
	samples           [9]sample
	dense             [denseSamples]sample
	cells             [cells]cubic
	lowest            [2][leans + 1]float64 // m, s of the lowest sphere of body and head, by lean
}

// cubic gives the radius in m over a cell: its coefficients of 1, w, w² and w³, with w
// from 0 to 1.
type cubic [4]float64

// sample is a sphere of the envelope from which a search for the nearest begins; half
// is 0 in the body and 1 in the head.
type sample struct {
	s, radius float64
	half      int
}

const (
	cells        = 192
	denseSamples = 18
)

var outline = newEnvelope()

func newEnvelope() *envelope {
	var e envelope
	line := newSpline()
	sphere := func(h float64) (s, radius, slope float64) {
		r, d := line.at(h)
		root := math.Sqrt(1 + d*d)
		return h + r*d, r * root, d / root
	}
	// find returns the height at which a rising function is 0.
	find := func(low, high float64, f func(h float64) float64) float64 {
		for range 60 {
			if middle := (low + high) / 2; f(middle) < 0 {
				low = middle
			} else {
				high = middle
			}
		}
		return (low + high) / 2
	}
	top := outlineTable[knots-1][0] * inch
	base := find(0, 3*inch, func(h float64) float64 { s, radius, _ := sphere(h); return s - radius })
	e.least, _, _ = sphere(base)
	e.most = top
	e.neck = find(8*inch, 12*inch, func(h float64) float64 { _, d := line.at(h); return d })
	e.lobes = [2][2]float64{{e.least, e.neck}, {e.neck, e.most}}
	e.spacing = (e.most - e.least) / cells
	e.rate = 1 / e.spacing
	var radii, slopes [cells + 1]float64
	for i := range radii {
		at := e.least + float64(i)*e.spacing
		h := find(base, top, func(h float64) float64 { s, _, _ := sphere(h); return s - at })
		_, radii[i], slopes[i] = sphere(h)
	}
	for i := range e.cells { // Hermite's cubic between the nodes
		low, high, jump := slopes[i]*e.spacing, slopes[i+1]*e.spacing, radii[i+1]-radii[i]
		e.cells[i] = cubic{radii[i], low, 3*jump - 2*low - high, low + high - 2*jump}
	}
	for i := range e.samples {
		// Six along the body, three along the head, none at the neck.
		at, half := e.least+float64(i)/6*(e.neck-e.least), 0
		if i >= 6 {
			at, half = e.most-float64(8-i)/3*(e.most-e.neck), 1
		}
		e.samples[i] = sample{at, e.radius(at), half}
	}
	for i := range e.dense {
		at := e.least + (float64(i)+0.5)/denseSamples*(e.most-e.least)
		e.dense[i] = sample{s: at, radius: e.radius(at)}
		if at > e.neck {
			e.dense[i].half = 1
		}
	}
	for lobe := range e.lowest {
		for i := range e.lowest[lobe] {
			e.lowest[lobe][i] = e.findLowest(e.lobes[lobe], 2*float64(i)/leans-1)
		}
	}
	return &e
}

// radius returns the radius in m of the sphere at s.
func (e *envelope) radius(s float64) float64 {
	r, _, _ := e.at(s)
	return r
}

// at returns the radius in m of the sphere at s and its first two derivatives.
func (e *envelope) at(s float64) (radius, slope, bend float64) {
	w := (s - e.least) * e.rate
	i := int(w)
	if i < 0 {
		i = 0
	} else if i >= cells {
		i = cells - 1
	}
	w -= float64(i)
	c := &e.cells[i]
	radius = c[0] + w*(c[1]+w*(c[2]+w*c[3]))
	slope = (c[1] + w*(2*c[2]+3*w*c[3])) * e.rate
	return radius, slope, (2*c[2] + 6*w*c[3]) * e.rate * e.rate
}
